// Details wait in the address's fragment while questions are asked: every choice takes them along.
// An answer page does the same until its engine has drawn the links anew.
const LINKS = ".rig-choices a, .rig-leads a, .rig-given a, .rig-back a:first-child";

let carried = "";

export function carry() {
  if (!location.hash.includes("=")) return;
  for (const link of document.querySelectorAll(LINKS)) {
    if (link.hash === carried) link.hash = location.hash;
  }
  carried = location.hash;
}

if (document.querySelector("main").dataset.kind === "question") {
  carry();
  addEventListener("hashchange", carry);
}
