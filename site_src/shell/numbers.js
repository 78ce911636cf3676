// The numbers of an answer, which stand on a page of their own beside it (site_src/build/numbers.py)
// until their chapter is opened, a link leads to one of them, or all is printed.
import { parsed } from "./door.js";

const PLACE = "rig-all-numbers";
const FILE = "numbers.html";
const LINK = `a[href^="${FILE}"]`;

const waiting = () => document.querySelector(`#${PLACE} > p > ${LINK}`);

/** The id that a click on a link to one of the numbers leads to; "" for any other click. */
export function numberSought(event) {
  const link = event.target.closest(LINK);
  if (!link || event.ctrlKey || event.metaKey || event.shiftKey || event.button) return "";
  return link.getAttribute("href").split("#")[1] ?? "rig-numbers-title";
}

/** Goes to the page of the numbers, where they cannot be put into this one. */
export const goToNumbers = (id) => location.assign(`${FILE}#${id}`);

/**
 * Puts the numbers into the page; resolves with whether they stand there.
 * drawn: has the engine draw the whole answer, where a page that was opened from a folder may fetch
 * nothing.
 */
export async function putNumbers(drawn) {
  if (waiting()) await putFetched().catch(() => {});
  if (waiting()) await drawn();
  return !waiting();
}

async function putFetched() {
  const reply = await fetch(FILE);
  if (!reply.ok) return;
  const found = parsed(await reply.text()).querySelector(`#${PLACE}`);
  shorten(found, "./");
  waiting()?.closest(`#${PLACE}`).replaceWith(found);
  shorten(document, FILE);
}

// Links to the other page lead within this one, now that both are one.
function shorten(root, other) {
  for (const link of root.querySelectorAll(`a[href^="${other}#"]`)) {
    link.setAttribute("href", link.getAttribute("href").slice(other.length));
  }
}
