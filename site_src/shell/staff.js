// The staff page's script: keys and clicks go to the engine, its HTML comes back. It decides and
// words nothing; Python does.
import { VISITS, drop, read } from "./kept.js";
import { call, handOut, startEngine } from "./page.js";
import { fill } from "./renew.js";
import { save } from "./save.js";

const byId = (id) => document.getElementById(id);
const field = byId("rig-typed");
const options = byId("rig-options");
const message = byId("rig-message");

// The address holds the link with "&" in the place of its "#".
function given() {
  const said = location.hash.slice(1);
  if (!said.includes("=")) return "";
  return said.includes("#") ? said : said.replace("&", "#"); // a link that was put behind the address
}

let link = given();
let kept = history.state?.kept ?? null;
// Replacements that wait for a word, as fragments; whether the page shows them all.
let asks = [];
let areAsksShown = false;
// Until a note is typed, the link's own counts.
let isNoteTyped = false;
// The text that the lines belong to; null while they belong to older answers.
let shown = "";
let typing = 0;
let telling = 0;
let isBusy = false;
const queue = [];
let entered = Promise.resolve();
let told = Promise.resolve();

const lines = () => [...options.querySelectorAll("[role=option]")];
const marked = () => options.querySelector("[aria-selected=true]");

async function complete() {
  const turn = ++typing;
  const text = field.value;
  const result = await call("complete", { link, text });
  if (result && turn === typing) put(result.html, text);
}

function put(html, text) {
  fill(options, html);
  shown = text;
  mark(text && isSure(lines()[0]) ? lines()[0] : null);
}

const isSure = (line) => line?.dataset.sure !== undefined;

function tell() {
  told = renewMessage(++telling);
  return told;
}

async function renewMessage(turn) {
  const note = isNoteTyped ? byId("rig-note").value : null;
  const result = await call("message", { link, note });
  if (!result || turn !== telling) return;
  fill(message, result.html);
  const { own, note: said } = message.querySelector("[data-own]").dataset;
  if (!isNoteTyped) byId("rig-note").value = said;
  putAddress(own);
  if (kept === null) return fill(byId("rig-beside"), "");
  const beside = await call("compare", { kept, link });
  if (beside && turn === telling && kept !== null) fill(byId("rig-beside"), beside.html);
}

// Whoever reloads the page or comes back to it finds the entry as it was.
function putAddress(own) {
  try {
    history.replaceState({ kept }, "", `#${own.replace("#", "&")}`);
  } catch (error) {
    console.warn(String(error));
  }
}

async function tellAsks() {
  areAsksShown = false;
  const waiting = asks;
  const result = await call("asks", { link, asks: waiting });
  if (!result || waiting !== asks) return;
  fill(byId("rig-asks"), result.html);
  asks = [...byId("rig-asks").querySelectorAll("[data-at]")].map(({ dataset }) => waiting[dataset.at]);
  for (const [at, ask] of byId("rig-asks").querySelectorAll("[data-at]").entries()) ask.dataset.at = at;
  areAsksShown = true;
}

function settle(button) {
  const { at } = button.closest("[data-at]").dataset;
  asks = asks.filter((_, place) => place !== Number(at));
  if (button.dataset.replace !== undefined) goTo(button.dataset.replace);
  else tellAsks();
  field.focus();
}

function mark(line) {
  for (const each of lines()) each.setAttribute("aria-selected", String(each === line));
  field.setAttribute("aria-activedescendant", line?.id ?? "");
  line?.scrollIntoView({ block: "nearest" });
}

function step(by) {
  const all = lines();
  const place = marked() ? all.indexOf(marked()) : by > 0 ? -1 : 0;
  if (all.length) mark(all[(place + by + all.length) % all.length]);
}

// Who types fast is ahead of the engine: what is entered waits its turn, with its own letters. What
// nobody can be sure of holds up the rest, which may answer the question after it.
function enter(chosen) {
  const text = field.value;
  const line = chosen ?? (!isBusy && shown === text ? marked() : null);
  if (!line && !text.trim()) return;
  field.value = "";
  if (isBusy) queue.push({ line, text });
  else {
    queue.unshift({ line, text });
    entered = work().catch(console.error);
  }
}

function setBusy(is) {
  isBusy = is;
  byId("rig-staff").ariaBusy = is;
}

async function work() {
  setBusy(true);
  try {
    let isTaken = true;
    while (isTaken && queue.length) {
      const { line, text } = queue.shift();
      isTaken = await take(line, text);
    }
  } finally {
    setBusy(false);
    const held = byId("rig-held");
    held.textContent = held.dataset.says.replace("{texts}", queue.map(({ text }) => text).join(" · "));
    held.hidden = queue.length === 0;
  }
}

/** Tells whether it was taken; else it is in the field again. */
async function take(ready, text) {
  let line = ready;
  if (!line) {
    const result = await call("complete", { link, text });
    if (!result) return putBack(text); // the engine failed: nothing of what was typed is lost
    put(result.html, text);
    line = lines()[0];
    if (!isSure(line)) return putBack(text);
  }
  if (line.dataset.asks !== undefined) await askFirst(line.dataset.asks);
  else if (line.dataset.link !== undefined) await goTo(line.dataset.link);
  else return putBack(line.dataset.fill ?? text);
  return true;
}

async function putBack(text) {
  const since = field.value && !text.endsWith(" ") ? ` ${field.value}` : field.value;
  field.value = text + since;
  await complete();
  return false;
}

function askFirst(pairs) {
  asks = [...asks, pairs];
  return Promise.all([complete(), tellAsks()]);
}

function clear() {
  queue.length = 0;
  field.value = "";
  byId("rig-held").hidden = true;
  complete();
}

function goTo(newLink) {
  link = newLink;
  shown = null;
  return Promise.all([complete(), tell(), ...(asks.length ? [tellAsks()] : [clearAsks()])]);
}

function clearAsks() {
  byId("rig-asks").replaceChildren();
}

const keys = {
  ArrowDown: () => step(1),
  ArrowUp: () => step(-1),
  Enter: () => enter(),
  Escape: clear,
};

field.addEventListener("input", complete);

field.addEventListener("keydown", (event) => {
  const isBack = event.key === "Backspace" && field.value === "" && !isBusy;
  if (event.ctrlKey || event.metaKey || !(keys[event.key] || isBack)) return;
  event.preventDefault();
  const isEmpty = field.value === "" && !isBusy;
  if (isEmpty && asks.length && (isBack || event.key === "Enter")) {
    // A key that is held down agrees to nothing, and neither does one before the question is seen.
    if (areAsksShown && !event.repeat) {
      settle(byId("rig-asks").querySelector(isBack ? "[data-leave]" : "[data-replace]"));
    }
  } else if (isBack) message.querySelector("[data-last]")?.click();
  else keys[event.key]();
});

document.addEventListener("keydown", (event) => {
  if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) byId("rig-copy").click();
});

byId("rig-staff").addEventListener("submit", (event) => event.preventDefault());
byId("rig-note").addEventListener("input", () => {
  isNoteTyped = true;
  tell();
});

byId("rig-asks").addEventListener("click", ({ target }) => {
  if (target.matches("[data-replace], [data-leave]") && areAsksShown) settle(target);
});

options.addEventListener("click", ({ target }) => {
  const line = target.closest("[role=option]");
  if (line && line.getAttribute("aria-disabled") !== "true") enter(line);
  field.focus();
});

message.addEventListener("click", ({ target }) => {
  const button = target.closest("button");
  if (!button) return;
  if (button.dataset.link !== undefined) {
    goTo(button.dataset.link);
    field.focus();
  }
  if (button.dataset.copy !== undefined) copy(button);
  if (button.dataset.print !== undefined) printPart(button.dataset.print);
  if (button.dataset.rigFile !== undefined) handOut(button);
  if (button.id === "rig-keep") {
    kept = link;
    tell();
    field.focus();
  }
});

byId("rig-beside").addEventListener("click", ({ target }) => {
  if (target.id !== "rig-drop") return;
  kept = null;
  tell();
  field.focus();
});

// On paper the page is its message, or the estimate.
function printPart(part) {
  document.documentElement.dataset.print = part;
  print();
  delete document.documentElement.dataset.print;
}

// What was typed a moment ago is in the message only when the engine has told.
async function copy(button) {
  await entered;
  await told;
  const { copy: text, done } = button.dataset;
  try {
    await navigator.clipboard.writeText(text);
    byId("rig-copied").textContent = done;
  } catch {
    // Without leave to write there, it is marked for the keys that copy.
    byId("rig-text").focus();
    byId("rig-text").select();
  }
}

function showVisits() {
  const visits = read(VISITS, []);
  const section = byId("rig-visits");
  const says = section.querySelector("[data-says]");
  says.textContent = says.dataset.says.replace("{count}", visits.length);
  section.hidden = visits.length === 0;
}

byId("rig-visits-save").addEventListener("click", async ({ target }) => {
  const result = await call("visits", { visits: read(VISITS, []) });
  if (!result) return;
  save(target.dataset.file, "text/csv", result.text);
});

byId("rig-visits-wipe").addEventListener("click", ({ target }) => {
  if (!confirm(target.dataset.confirm)) return;
  drop(VISITS);
  showVisits();
  field.focus();
});

addEventListener("hashchange", () => {
  [asks, isNoteTyped] = [[], false];
  goTo(given());
});

showVisits();
startEngine();
if (link) goTo(link);
field.focus();
