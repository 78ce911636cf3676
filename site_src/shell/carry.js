// What an address's fragment brings to a page that asks: details wait in it, and every choice takes
// them along. An answer to what the page asks, kept while an earlier one was changed, is taken at
// once. An answer page does the same until its engine has drawn the links anew.
const LINKS = ".rig-choices a, .rig-leads a, .rig-given a, .rig-back a:first-child";

let carried = [];

export const pairsOf = (hash) => (hash.includes("=") ? hash.slice(1).split("&") : []);
export const nameOf = (pair) => pair.split("=", 1)[0];

export function carry() {
  if (!location.hash.includes("=")) return;
  const asks = document.querySelector("[data-question]")?.dataset.question;
  const waiting = pairsOf(location.hash).filter((pair) => nameOf(pair) !== asks);
  for (const link of document.querySelectorAll(LINKS)) {
    const own = pairsOf(link.hash).filter((pair) => !carried.includes(pair));
    const names = own.map(nameOf);
    link.hash = [...own, ...waiting.filter((pair) => !names.includes(nameOf(pair)))].join("&");
  }
  carried = waiting;
}

function ask() {
  carry();
  const list = document.querySelector("[data-question]");
  const kept = pairsOf(location.hash).find((pair) => nameOf(pair) === list?.dataset.question);
  const choice = kept && list.querySelector(`[data-choice="${CSS.escape(kept.split("=")[1])}"]`);
  if (choice) location.replace(choice.href);
}

if (document.querySelector("main").dataset.kind === "question") {
  ask();
  addEventListener("hashchange", ask);
}
