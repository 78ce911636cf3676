// A live piece of an explanatory page: what is typed goes to the engine, and its drawing comes back.
// The engine, some megabytes, starts only when a field is touched.
import { call, main, startEngine } from "./page.js";
import { fill } from "./renew.js";

const piece = document.querySelector("[data-rig-piece]");
const form = () => piece.querySelector("form");

async function work() {
  const fields = Object.fromEntries(new FormData(form()));
  const drawn = await call("piece", { piece: piece.dataset.rigPiece, fields });
  if (drawn) fill(piece, drawn.html);
}

main.dataset.engine = piece.dataset.engine;
form().hidden = false;
form().addEventListener("focusin", startEngine, { once: true });
piece.addEventListener("change", work);
piece.addEventListener("submit", (event) => {
  event.preventDefault();
  work();
});
piece.addEventListener("click", (event) => {
  if (event.target.closest("[data-rig-retry]")) work();
});
