// An answer page's script: carries the detail form and the address's fragment to the engine's
// worker and puts the replies into the page. It decides and words nothing; Python does.
// The scripts of the staff page and of show mode use its way to the engine.
import { client } from "./engine-client.js";
import { CAUSES } from "./causes.js";
import { carry, nameOf, pairsOf } from "./carry.js";
import { allowed, folder } from "./door.js";
import { putFields } from "./fields.js";
import { afterPaint, whenIdle } from "./idle.js";
import { focusOn, moveTo, moveToHeading } from "./moves.js";
import { goToNumbers, numberSought, putNumbers } from "./numbers.js";
import { offer } from "./offer.js";
import {
  closedChapters, fill, isRenewed, keepScrolled, markLater, renew, renewUnseen,
} from "./renew.js";
import { showRequest } from "./request.js";
import { save } from "./save.js";
import { share } from "./share.js";
import { isChanged, isTyped } from "./typed.js";

export const main = document.querySelector("main");
const form = () => document.getElementById("rig-details");

const REHEARSALS = ["quick", "quick", "quick", "whole"];
const RETRIED = ["refused", "failed"];

const line = document.querySelector(".rig-pending");
let shownPath = main.dataset.path;
let later = []; // ids of the titles of chapters that the first reply leaves out
let answered = ""; // the address's fragment that page and form stand for
let asked = Promise.resolve();
let wanted = null; // what was asked last: its fragment and fields
const engineList = () => new URL(main.dataset.engine, folder).href;
const engine = client((progress) => (window.__rigPacked ?? hostedWorker)(allowed, progress), {
  mayStart: () => offered.mayLoad(),
  show,
  started: (way, reason) => Object.assign(main.dataset, { started: way, reason }),
  progress: showProgress,
  put,
});
export const startEngine = engine.startEngine;
const offered = offer(
  [line, document.querySelector("[data-rig-engine]")].filter(Boolean),
  engineList,
  { load: startEngine, stop: engine.stop },
);

// The words for each state stand in the form, the place for them inside it. What a link brought and
// is not counted yet is told above the answer, where the page said so before any script ran.
function show(state, why) {
  main.dataset.state = state;
  const place = document.querySelector("[data-rig-engine]");
  const said = document.querySelector("[data-ready]")?.dataset ?? {};
  const isOld = why === "replaced"; // nothing is wrong with the device or the network
  const offer = offered.follow(state, engine.isBusy());
  const words = [!isOld && said[state], CAUSES[why], offer].filter(Boolean).join(" ");
  if (place && place.textContent !== words) place.textContent = words;
  if (line && !line.hidden) line.textContent = `${line.dataset.pending} ${words}`;
  for (const fold of document.querySelectorAll("[data-rig-later]")) fold.dataset.rigLater = words;
  const progress = document.querySelector("[data-rig-progress]");
  if (progress) progress.hidden = state !== "loading";
  const retry = document.querySelector("[data-rig-retry]");
  if (!retry) return;
  const isPressed = retry === document.activeElement;
  retry.hidden = !RETRIED.includes(state);
  if (isOld) retry.textContent = CAUSES.load;
  if (isPressed && retry.hidden) focusOn(place);
}

function showProgress(loaded, total) {
  offered.progress(loaded, total);
  const place = document.querySelector("[data-rig-progress]");
  if (!place) return;
  const megabytes = (bytes) => (bytes / 1e6).toFixed(1);
  place.querySelector("progress").value = loaded / total;
  place.querySelector("span").textContent = place.dataset.words
    .replace("{loaded}", megabytes(loaded))
    .replace("{total}", megabytes(total));
}

async function hostedWorker() {
  if (!window.Worker) throw Object.assign(new Error("no Worker"), { why: "old" });
  const made = new Worker(allowed(new URL("engine-worker.js", folder).href), { type: "module" });
  made.postMessage({ type: "start", address: engineList() });
  return made;
}

// Where a newer edition took the place of this page's, only the newer page has an engine.
async function isReplaced() {
  if (window.__rigPacked) return false;
  const found = await fetch(engineList(), { method: "HEAD" }).catch(() => null);
  return found?.status === 404;
}

async function retry() {
  if (await isReplaced()) return loadAfresh();
  engine.forgive();
  if (form()) ask(givenFragment(), fields());
  else if (wanted) ask(...wanted);
  else startEngine();
}

// What was typed goes along in the address: the newer page knows nothing of this form.
function loadAfresh() {
  const isTypedAlone = (field) => field.name && isChanged(field) && !field.closest("[data-rig-rows]");
  const typed = form() ? [...form().elements].filter(isTypedAlone) : [];
  const names = typed.map(({ name }) => name);
  const kept = pairsOf(location.hash).filter((pair) => !names.includes(nameOf(pair)));
  const fresh = typed.map(({ name, value }) => `${name}=${encodeURIComponent(value)}`);
  putAddress(`#${[...kept, ...fresh].join("&")}`);
  location.reload();
}

/** Asks the engine; resolves with its final reply, or null when a newer request took its place. */
function ask(fragment, fields, since) {
  if (main.dataset.state === "ready") show("working");
  const { up } = main.dataset;
  const beneath = fields !== null && fragment !== answered;
  wanted = [fragment, fields];
  later = closedChapters();
  asked = engine.send({ type: "ask", path: shownPath, fragment, form: fields, beneath, up, since, later });
  return asked;
}

// What a change of the form did, and the way back from it, stand in the bar until the next change.
async function askChanged() {
  const before = givenFragment();
  tellDone(before, await ask(before, fields(), before));
}

function tellDone(before, reply) {
  const [did, undo] = ["did", "undo"].map((name) => main.querySelector(`[data-rig-${name}]`));
  if (!reply || !did || reply.fragment === before) return;
  did.textContent = reply.did;
  undo.hidden = !reply.did;
  undo.dataset.before = before;
}

async function undo(button) {
  const { before } = button.dataset;
  const reply = await ask(before, null, givenFragment());
  if (!reply) return;
  tellDone("", { did: reply.did });
  button.hidden = true;
  form().querySelector("summary").focus();
}

/** Resolves when what was asked last is answered. */
export const settled = () => asked;

/** Asks for another page, shown in this one; resolves with its final reply, or null. */
export function go(path, fragment) {
  shownPath = path;
  return ask(fragment, null);
}

/** Asks something else of the engine, by its kind; resolves with its result, or null. */
export function call(kind, fields) {
  return engine.send({ type: "call", kind, ...fields });
}

function put({ title, html, path, fragment, status, final }) {
  if (!main.dataset.up) {
    const page = path === shownPath ? location.pathname : pageOf(path);
    putAddress(page + location.search + (fragment && `#${fragment}`));
  }
  answered = givenFragment();
  shownPath = path;
  document.title = title;
  const rows = document.activeElement.closest("[data-rig-rows]");
  renew(html);
  markLater(final ? [] : later);
  emptyAdded();
  if (rows && !rows.contains(document.activeElement)) focusOn(rows); // its row is gone
  if (line) line.hidden = true;
  if (form()) form().hidden = false;
  show(final ? "ready" : "working");
  main.dispatchEvent(new CustomEvent("rig-shown", { detail: { path, fragment, status } }));
}

// What was typed to be added has its own row now, and is not added again.
function emptyAdded() {
  for (const field of document.querySelectorAll("[data-rig-once]")) {
    if (field.value === wanted?.[1]?.[field.name]) field.value = field.defaultValue;
  }
}

// Opened from a folder, a browser lets a page change only the fragment of its address.
function putAddress(address) {
  if (new URL(address, location.href).href === location.href) return;
  try {
    history.replaceState(null, "", address);
  } catch (error) {
    console.warn(String(error));
  }
}

function pageOf(path) {
  const file = location.pathname.endsWith(".html") ? "index.html" : "";
  return new URL(`${main.dataset.root}/guide/${path}${file}`, location.href).pathname;
}

// A form that does not stand for the address yet gives what was changed in it; the engine knows the
// rest by the address.
function fields() {
  const given = [...new FormData(form())].filter(([name]) => form().elements[name]?.type !== "checkbox");
  given.push(...[...form().elements].filter(isTick).map(({ name, checked }) => [name, checked ? "yes" : "no"]));
  if (givenFragment() === answered) return Object.fromEntries(given);
  const changed = new Set([...form().elements].filter(isChanged).map(({ name }) => name));
  return Object.fromEntries(given.filter(([name]) => changed.has(name)));
}

const isTick = ({ type }) => type === "checkbox";

// Other fragments name a place of the page.
function givenFragment() {
  return location.hash.includes("=") ? location.hash.slice(1) : "";
}

// Beside the form it says why the engine cannot answer, and what to do.
function sorry() {
  const place = document.querySelector("[data-rig-engine]");
  if (!place || !RETRIED.includes(main.dataset.state)) return;
  place.scrollIntoView({ block: "center" });
  focusOn(place);
}

// The first answers take three times as long as later ones, since a browser compiles well only what
// was used: while nobody asks, the engine answers this page a few times, and nobody sees it. Where
// no answer came before, the last of them says what the page says and brings the borders into it.
async function rehearse() {
  for (const extent of REHEARSALS) {
    const isWhole = extent === "whole";
    await new Promise(whenIdle);
    if (isDisturbed(isWhole)) return;
    const request = { path: shownPath, fragment: givenFragment(), whole: isWhole };
    const reply = await call("page", request);
    if (!reply) return; // the engine died, and is not started again for this
    if (isWhole && !isDisturbed(isWhole)) await renewUnseen(reply.html, () => isDisturbed(true));
  }
}

// A page that was answered has the borders, and may say more than its address: what was typed wrongly.
const isDisturbed = (isWhole) =>
  engine.isBusy() || (isWhole && (isRenewed() || isTyped(form())));

// Between the first and the whole reply the page lacks the code that only paper holds.
async function printWhole(extent) {
  if (main.dataset.state === "working") await asked;
  if (extent === "all") await bringNumbers();
  main.dataset.print = extent;
  print();
  delete main.dataset.print;
}

const bringNumbers = () => putNumbers(drawWhole);

// An answer that is on its way brings all; else the engine says what the page says.
async function drawWhole() {
  if (engine.isBusy()) return asked;
  const reply = await call("page", { path: shownPath, fragment: givenFragment(), whole: true });
  if (reply && !engine.isBusy()) renew(reply.html);
  return reply;
}

async function showNumber(id) {
  if (await bringNumbers()) moveTo(id);
  else goToNumbers(id);
}

/** Hands out the file that a button names, of the answer whose link is around it. */
export async function handOut(button) {
  const { link } = button.closest("[data-link]").dataset;
  const file = await call("file", { link, name: button.dataset.rigFile });
  if (file) save(file.name, file.type, file.text);
}

// The chapter that was opened last is named in the address, where that holds no details.
function remember({ target: fold }) {
  const title = fold.parentElement.matches(".rig-chapter") && fold.querySelector("summary [id]");
  if (!title || givenFragment()) return;
  const own = `#${title.id}`;
  const page = location.pathname + location.search;
  if (fold.open) putAddress(page + own);
  else if (location.hash === own) putAddress(page);
}

function listen() {
  listenToForm();
  main.addEventListener("toggle", remember, { capture: true });
  main.addEventListener("toggle", ({ target }) => {
    if (target.open && target.querySelector("#rig-all-numbers")) bringNumbers();
  }, { capture: true });
  addEventListener("hashchange", async () => {
    if (givenFragment() === answered) return;
    main.addEventListener("rig-shown", moveToHeading, { once: true });
    const reply = await ask(givenFragment(), null);
    if (!reply) main.removeEventListener("rig-shown", moveToHeading); // something else was asked
  });
}

// The answer is painted first; its fields lie in closed groups.
function begin() {
  const isSought = location.hash.startsWith("#rig-");
  const put = () => putFields(form(), main.dataset.root);
  if (isSought) put();
  else afterPaint(put);
  form().hidden = false;
  carry();
  listen();
  if (line) line.hidden = !givenFragment();
  if (isSought && !moveTo(location.hash.slice(1))) bringNumbers().then(() => moveTo(location.hash.slice(1)));
  if (givenFragment()) ask(givenFragment(), null);
  else if (form().querySelector(".rig-fields")) whenIdle(startEngine);
  engine.ready.then(rehearse, () => {});
}

/** Follows the detail form of whatever answer stands in the page, and its links within it. */
export function listenToForm() {
  addEventListener("scroll", ({ target }) => keepScrolled(target), { capture: true, passive: true });
  main.addEventListener("change", (event) => {
    if (form() && event.target.form === form()) askChanged();
  });
  main.addEventListener("submit", (event) => {
    if (event.target !== form()) return;
    event.preventDefault();
    askChanged();
  });
  document.addEventListener("click", (event) => {
    const print = event.target.closest("[data-rig-print]");
    if (print) printWhole(print.dataset.rigPrint);
    const file = event.target.closest("[data-rig-file]");
    if (file) handOut(file);
    if (event.target.closest("[data-rig-request]")) {
      showRequest(`${shownPath}#${givenFragment()}`, { call, fill, sorry });
    }
    const shares = event.target.closest("[data-rig-share]");
    if (shares) share(shares);
    if (event.target.closest("[data-rig-retry]")) retry();
    const back = event.target.closest("[data-rig-undo]");
    if (back) undo(back);
    const number = numberSought(event);
    if (number) {
      event.preventDefault();
      showNumber(number);
    }
    const link = event.target.closest('a[href^="#rig-"]');
    // A link in a drawing has no hash of its own.
    if (link && moveTo(link.getAttribute("href").slice(1))) event.preventDefault();
  });
}

// The page that a server shows for an address it does not have: the engine reads the address.
function find() {
  main.dataset.root = document.documentElement.dataset.root; // where lost-root.js found it
  const guide = `${main.dataset.root}/guide/`;
  if (!location.pathname.toLowerCase().startsWith(guide.toLowerCase())) return show("ready");
  shownPath = location.pathname.slice(guide.length);
  listen();
  main.addEventListener("rig-shown", moveToHeading, { once: true });
  ask(givenFragment(), null);
}

window.__rig = { ready: engine.ready, ask, load: offered.agree };
if (main.dataset.kind === "lost") find();
else if (form()) begin();
