// The table of all answers: hides lines that do not hold the typed words, and keeps what was
// ticked as checked on this device, only when that is wished.
import { MARKS, drop, keep, read } from "./kept.js";

const byId = (id) => document.getElementById(id);
const body = document.querySelector(".rig-all tbody");
const rows = [...body.rows].map((row) => ({
  row,
  box: row.querySelector("input"),
  text: row.textContent.toLowerCase(),
}));

function sift() {
  const typed = byId("rig-filter").value.toLowerCase();
  const words = [...typed.matchAll(/"([^"]+)"|[^\s"]+/g)].map(([word, phrase]) => phrase ?? word);
  let shown = 0;
  for (const { row, box, text } of rows) {
    row.hidden =
      !words.every((word) => text.includes(word)) ||
      (byId("rig-unmarked").checked && box.checked) ||
      (byId("rig-settled").checked && row.dataset.open !== undefined);
    if (!row.hidden) shown += 1;
  }
  const marked = rows.filter(({ box }) => box.checked).length;
  const says = byId("rig-shown");
  says.textContent = says.dataset.says
    .replace("{shown}", shown)
    .replace("{all}", rows.length)
    .replace("{marked}", marked);
}

function store() {
  if (!byId("rig-keep-marks").checked) return drop(MARKS);
  const marks = rows.filter(({ box }) => box.checked).map(({ row }) => [row.dataset.path, row.dataset.mark]);
  if (!keep(MARKS, Object.fromEntries(marks))) byId("rig-keep-marks").checked = false;
}

function restore() {
  const marks = read(MARKS, null);
  byId("rig-keep-marks").checked = marks !== null;
  for (const { row, box } of rows) {
    const mark = marks?.[row.dataset.path];
    box.disabled = false;
    box.checked = mark === row.dataset.mark;
    if (mark && !box.checked) row.querySelector("span").textContent = body.dataset.changed;
  }
}

restore();
sift();
document.querySelector(".rig-sieve").hidden = false;
byId("rig-filter").addEventListener("input", sift);
for (const id of ["rig-unmarked", "rig-settled"]) byId(id).addEventListener("change", sift);
byId("rig-keep-marks").addEventListener("change", store);
body.addEventListener("change", ({ target }) => {
  target.nextElementSibling.textContent = "";
  store();
  sift();
});
