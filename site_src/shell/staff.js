// The staff page's script: keys and clicks go to the engine, its HTML comes back. It decides and
// words nothing; Python does.
import { VISITS, drop, read } from "./kept.js";
import { call, fill, startEngine } from "./page.js";
import { save } from "./save.js";

const byId = (id) => document.getElementById(id);
const field = byId("rig-typed");
const options = byId("rig-options");
const message = byId("rig-message");

let link = "";
let kept = null;
// The text that the lines belong to; null while they belong to older answers.
let shown = "";
let typing = 0;
let telling = 0;
let entering = 0;
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
  mark(text ? lines()[0] : null);
}

function tell() {
  told = renewMessage(++telling);
  return told;
}

async function renewMessage(turn) {
  const result = await call("message", { link, note: byId("rig-note").value });
  if (!result || turn !== telling) return;
  fill(message, result.html);
  if (kept === null) return fill(byId("rig-beside"), "");
  const beside = await call("compare", { kept, link });
  if (beside && turn === telling && kept !== null) fill(byId("rig-beside"), beside.html);
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

// Who types fast is ahead of the engine: what is entered waits its turn, with its own letters.
function enter(chosen) {
  const text = field.value;
  const line = chosen ?? (entering === 0 && shown === text ? marked() : null);
  if (!line && !text.trim()) return;
  field.value = "";
  entering += 1;
  entered = entered.then(() => take(line, text)).catch(console.error);
  entered.finally(() => {
    entering -= 1;
  });
}

async function take(ready, text) {
  let line = ready;
  if (!line) {
    const result = await call("complete", { link, text });
    if (!result) {
      field.value = text + field.value; // the engine failed: nothing of what was typed is lost
      return;
    }
    put(result.html, text);
    line = lines()[0];
  }
  if (line.dataset.link !== undefined) return goTo(line.dataset.link);
  field.value = (line.dataset.fill ?? text) + field.value;
  return complete();
}

function goTo(newLink) {
  link = newLink;
  shown = null;
  return Promise.all([complete(), tell()]);
}

const keys = {
  ArrowDown: () => step(1),
  ArrowUp: () => step(-1),
  Enter: () => enter(),
};

field.addEventListener("input", complete);

field.addEventListener("keydown", (event) => {
  const isBack = event.key === "Backspace" && field.value === "" && entering === 0;
  if (event.ctrlKey || event.metaKey || !(keys[event.key] || isBack)) return;
  event.preventDefault();
  if (isBack) message.querySelector("[data-last]")?.click();
  else keys[event.key]();
});

document.addEventListener("keydown", (event) => {
  if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) byId("rig-copy").click();
});

byId("rig-staff").addEventListener("submit", (event) => event.preventDefault());
byId("rig-note").addEventListener("input", tell);

options.addEventListener("click", ({ target }) => {
  const line = target.closest("[role=option]");
  if (line?.dataset.link !== undefined || line?.dataset.fill !== undefined) enter(line);
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

showVisits();
startEngine();
field.focus();
