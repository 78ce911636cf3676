// An answer page's script: carries the detail form and the address's fragment to the engine's
// worker and puts the replies into the page. It decides and words nothing; Python does.
// The scripts of the staff page and of show mode use its way to the engine.
import { Idiomorph } from "./idiomorph.js";

export const main = document.querySelector("main");
const answer = () => document.getElementById("rig-answer");
const form = () => document.getElementById("rig-details");

const ready = Promise.withResolvers?.() ?? withResolvers();
ready.promise.catch(() => {});
let worker = null;
let lastId = 0;
let shownPath = main.dataset.path;
const open = new Map();

function withResolvers() {
  const parts = {};
  parts.promise = new Promise((resolve, reject) => Object.assign(parts, { resolve, reject }));
  return parts;
}

// The words for each state stand in the form, the place for them inside it.
function show(state) {
  main.dataset.state = state;
  const place = document.querySelector("[data-rig-engine]");
  if (place) place.textContent = place.closest("[data-ready]").dataset[state];
}

export function startEngine() {
  if (worker) return;
  show("loading");
  worker = new Worker(new URL("./engine-worker.js", import.meta.url), { type: "module" });
  worker.addEventListener("message", ({ data }) => receive[data.type](data));
  worker.addEventListener("error", (event) => fail(event.message));
  const archive = new URL(main.dataset.archive, import.meta.url).href;
  worker.postMessage({ type: "start", archive });
}

function fail(detail) {
  console.error(detail);
  show("failed");
  ready.reject(new Error(detail));
  for (const id of [...open.keys()]) settle(id, null);
}

const receive = {
  state({ state, detail }) {
    if (state === "failed") return fail(detail);
    show(open.size ? "working" : state);
    ready.resolve();
  },
  reply(reply) {
    const isLatest = reply.id === lastId;
    if (isLatest) put(reply);
    if (reply.final) settle(reply.id, isLatest ? reply : null);
  },
  result(result) {
    if (!open.has(result.id)) return;
    show(open.size > 1 ? "working" : "ready");
    settle(result.id, result);
  },
  void({ id }) {
    settle(id, null);
  },
  error({ id, detail }) {
    console.error(detail);
    if (id === lastId) show("failed");
    settle(id, null);
  },
};

function settle(id, reply) {
  open.get(id)?.(reply);
  open.delete(id);
}

/** Asks the engine; resolves with its final reply, or null when a newer request took its place. */
function ask(fragment, fields) {
  startEngine();
  if (main.dataset.state === "ready") show("working");
  const id = ++lastId;
  const up = main.dataset.up;
  worker.postMessage({ type: "ask", id, path: shownPath, fragment, form: fields, up });
  return new Promise((resolve) => open.set(id, resolve));
}

/** Asks for another page, shown in this one; resolves with its final reply, or null. */
export function go(path, fragment) {
  shownPath = path;
  return ask(fragment, null);
}

/** Asks something else of the engine, by its kind; resolves with its result, or null. */
export function call(kind, fields) {
  startEngine();
  const id = ++lastId;
  worker.postMessage({ type: "call", id, kind, ...fields });
  return new Promise((resolve) => open.set(id, resolve));
}

/** Puts HTML that the engine made into an element, keeping what is the same in place. */
export function fill(element, html) {
  Idiomorph.morph(element, html.trim(), { morphStyle: "innerHTML", ignoreActiveValue: true });
}

function put({ title, html, path, fragment, status, final }) {
  if (!main.dataset.up) {
    const page = path === shownPath ? location.pathname : pageOf(path);
    history.replaceState(null, "", page + location.search + (fragment && `#${fragment}`));
  }
  shownPath = path;
  document.title = title;
  Idiomorph.morph(answer(), html.trim(), {
    morphStyle: "outerHTML",
    ignoreActiveValue: true,
    callbacks: { beforeAttributeUpdated: mayUpdate },
  });
  if (form()) form().hidden = false;
  show(final ? "ready" : "working");
  main.dispatchEvent(new CustomEvent("rig-shown", { detail: { path, fragment, status } }));
}

function pageOf(path) {
  const file = location.pathname.endsWith(".html") ? "index.html" : "";
  return new URL(`${main.dataset.root}/guide/${path}${file}`, location.href).pathname;
}

// The form was unhidden and parts were opened by hand: the engine's text knows neither.
function mayUpdate(name, element) {
  return !(name === "open" || (name === "hidden" && element.id === "rig-details"));
}

function fields() {
  return Object.fromEntries(new FormData(form()));
}

function fragment() {
  return location.hash.slice(1);
}

const hasDetails = () => fragment().includes("=");

// Moves within the page; the address keeps the answers that stand in its fragment.
function moveTo(id) {
  const place = document.getElementById(id);
  if (!place) return false;
  if (place.tabIndex < 0) place.tabIndex = -1;
  place.focus({ preventScroll: true });
  place.scrollIntoView();
  return true;
}

function whenIdle(task) {
  if (window.requestIdleCallback) requestIdleCallback(task, { timeout: 3000 });
  else setTimeout(task, 500);
}

function listen() {
  listenToForm();
  addEventListener("hashchange", () => {
    if (hasDetails()) ask(fragment(), null);
  });
}

function begin() {
  form().hidden = false;
  listen();
  if (hasDetails()) ask(fragment(), null);
  else if (!navigator.connection?.saveData) whenIdle(startEngine);
}

/** Follows the detail form of whatever answer stands in the page, and its links within it. */
export function listenToForm() {
  main.addEventListener("change", (event) => {
    if (form() && event.target.form === form()) ask(fragment(), fields());
  });
  main.addEventListener("submit", (event) => {
    if (event.target !== form()) return;
    event.preventDefault();
    ask(fragment(), fields());
  });
  main.addEventListener("click", (event) => {
    if (event.target.closest("[data-rig-print]")) print();
    const link = event.target.closest('a[href^="#rig-"]');
    if (link && moveTo(link.hash.slice(1))) event.preventDefault();
  });
}

// The page that a server shows for an address it does not have: the engine reads the address.
async function find() {
  const guide = `${main.dataset.root}/guide/`;
  if (!location.pathname.startsWith(guide)) return;
  shownPath = location.pathname.slice(guide.length);
  if ((await ask(fragment(), null)) && form()) listen();
}

window.__rig = { ready: ready.promise, ask };
if (main.dataset.kind === "lost") find();
else if (form()) begin();
