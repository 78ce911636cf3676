// Hands on the answer's link: by the device's own way to share, else as a copy, else marked for the
// keys that copy. What came of it is said beside the button, in the words that the button has.
import { nameOf, pairsOf } from "./carry.js";

// What the address says and the page does not count yet goes along.
function linkOf(button) {
  const url = new URL(button.dataset.link);
  const own = pairsOf(url.hash);
  const names = own.map(nameOf);
  const waiting = pairsOf(location.hash).filter((pair) => !names.includes(nameOf(pair)));
  url.hash = [...waiting, ...own].join("&");
  return url.href;
}

/** Shares what a button has, and says what came of it in the element after it. */
export async function share(button) {
  const { text, shared, dismissed, copied, failed } = button.dataset;
  const url = linkOf(button);
  const place = button.nextElementSibling;
  place.textContent = "";
  const outcome = (await offered({ text, url })) ?? (await copiedTo(`${text}\n${url}`));
  place.textContent = { shared, dismissed, copied, failed }[outcome];
  if (outcome === "failed") mark(place, url);
}

async function offered(what) {
  if (!navigator.share) return null;
  try {
    await navigator.share(what);
    return "shared";
  } catch ({ name }) {
    return name === "AbortError" ? "dismissed" : null;
  }
}

async function copiedTo(text) {
  try {
    await navigator.clipboard.writeText(text);
    return "copied";
  } catch {
    return "failed";
  }
}

function mark(place, url) {
  const shown = document.createElement("span");
  shown.textContent = url;
  place.append(" ", shown);
  getSelection().selectAllChildren(shown);
}
