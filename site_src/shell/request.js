// A customer's request for an estimate: the engine says what it holds, in a dialog of its own. It
// leaves the device only by the customer's mail program or by the form that is pressed there.

/** Shows the request for a link, by the page's own ways to ask the engine, to put in HTML, and to
 * point at its words for an engine that cannot answer. */
export async function showRequest(link, { call, fill, sorry }) {
  const found = await call("request", { link });
  if (!found?.html) return sorry();
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
