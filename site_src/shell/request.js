// A customer's request for an estimate: the engine says what it holds, in a dialog of its own. It
// leaves the device only by the customer's mail program or by the form that is pressed there.
import { call, fill } from "./page.js";

export async function showRequest(link) {
  const found = await call("request", { link });
  if (!found?.html) return;
  const dialog = place();
  fill(dialog, found.html);
  dialog.showModal();
}

function place() {
  const there = document.getElementById("rig-request");
  if (there) return there;
  const dialog = document.createElement("dialog");
  Object.assign(dialog, { id: "rig-request", className: "rig-dialog" });
  dialog.setAttribute("aria-labelledby", "rig-request-title");
  dialog.addEventListener("click", ({ target }) => target.matches("[data-rig-close]") && dialog.close());
  document.body.append(dialog);
  return dialog;
}
