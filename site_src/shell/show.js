// Show mode's script: every page of the guide is shown inside this one, so that the browser's
// history holds nothing of a visitor; idle or on demand the page is loaded afresh.
import { VISITS, keep, read, wipeTheRest } from "./kept.js";
import { moveToHeading } from "./moves.js";
import { call, go, listenToForm, main, settled, startEngine } from "./page.js";
import { fill } from "./renew.js";

const byId = (id) => document.getElementById(id);
const still = byId("rig-show-still");
const sure = byId("rig-show-sure");
const takeHome = byId("rig-show-take");
const root = new URL(main.dataset.up, location.href).href;

let link = "";
let begun = false;
let idle = 0;
let counting = 0;

function startOver() {
  wipeTheRest();
  location.replace(location.pathname);
}

async function open(path, fragment) {
  if (await go(path, fragment)) moveToHeading();
}

function touch() {
  clearTimeout(idle);
  if (begun && !still.open) idle = setTimeout(warn, 1000 * still.dataset.idle);
}

function begin() {
  begun = true;
  byId("rig-show-over").hidden = false;
  touch();
}

function warn() {
  for (const dialog of [sure, takeHome]) dialog.close();
  still.showModal();
  count(Number(still.dataset.warning));
}

function count(seconds) {
  const left = byId("rig-show-left");
  left.textContent = left.dataset.says.replace("{seconds}", seconds);
  if (seconds <= 0) return startOver();
  counting = setTimeout(count, 1000, seconds - 1);
}

function stay() {
  clearTimeout(counting);
  for (const dialog of [still, sure, takeHome]) dialog.close();
  touch();
}

function inside(anchor) {
  const url = new URL(anchor.href);
  const address = url.href.split("#")[0].replace(/index\.html$/, "");
  return address.startsWith(root) ? [decodeURIComponent(address.slice(root.length)), url.hash.slice(1)] : null;
}

main.addEventListener("click", (event) => {
  const anchor = event.target.closest("a[href]");
  if (!anchor || anchor.getAttribute("href").startsWith("#") || main.dataset.state === "failed") return;
  event.preventDefault();
  const place = inside(anchor);
  if (!place) return;
  begin();
  open(...place);
});

main.addEventListener("click", ({ target }) => {
  const doing = target.closest("[data-do]")?.dataset.do;
  if (doing === "stay") stay();
  if (doing === "over") startOver();
});

byId("rig-show-over").addEventListener("click", () => sure.showModal());

byId("rig-show-home").addEventListener("click", async () => {
  await settled(); // what was typed a moment ago belongs to what is taken home
  const result = await call("home", { link });
  if (!result) return;
  fill(byId("rig-take"), result.html);
  takeHome.showModal();
});

takeHome.addEventListener("submit", (event) => {
  event.preventDefault();
  const contact = byId("rig-contact").value;
  const when = new Date().toISOString().slice(0, 16).replace("T", " ");
  if (!keep(VISITS, [...read(VISITS, []), { link, when, contact }])) return;
  event.target.textContent = event.target.dataset.kept;
});

still.addEventListener("cancel", (event) => {
  event.preventDefault();
  stay();
});

for (const kind of ["pointerdown", "keydown", "input", "scroll"]) {
  addEventListener(kind, touch, { passive: true, capture: true });
}
main.addEventListener("rig-shown", ({ detail: { path, fragment, status } }) => {
  link = path + (fragment && `#${fragment}`);
  byId("rig-show-home").hidden = status === "ask";
});
addEventListener("pageshow", ({ persisted }) => {
  if (persisted) startOver();
});
main.addEventListener("change", begin);
listenToForm();
startEngine();
