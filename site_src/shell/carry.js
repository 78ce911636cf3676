// Details wait in the address's fragment while questions are asked: every choice takes them along.
// An answer page does the same until its engine has drawn the links anew.
export function carry() {
  if (!location.hash.includes("=")) return;
  for (const link of document.querySelectorAll(".rig-choices a, .rig-leads a, .rig-given a")) {
    link.hash ||= location.hash;
  }
}

if (document.querySelector("main").dataset.kind === "question") carry();
