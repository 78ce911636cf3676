// Where a download of the engine's size is long or dear, it is offered, with its size and time, and
// can be stopped; elsewhere, and where it is on the device already, it is fetched as the page likes.
import { LOADING } from "./causes.js";
import { isDear, isLong, secondsFor } from "./line.js";
import { isAnyKept, piecesOf } from "./pieces.js";

const STEP_S = 5; // no more is known of what is to come
const MOST_S = 90;
const JUDGED_MS = 3000;

/**
 * places: the elements behind which a button stands; list() gives the address of the engine's list of
 * files; load() starts the engine, stop() ends that.
 */
export function offer(places, list, { load, stop }) {
  let isAgreed = null;
  let isSought = false;
  let isStopped = false;
  let began = 0;
  const buttons = places.map(button);

  function button(place) {
    const made = document.createElement("button");
    Object.assign(made, { type: "button", hidden: true, className: "rig-fetch" });
    made.addEventListener("click", () => (made.dataset.do === "load" ? agree() : end()));
    place.after(made);
    return { place, made };
  }

  /** Fetches the engine, whatever the line. */
  function agree() {
    isAgreed = true;
    isStopped = false;
    load();
  }

  function end() {
    isAgreed = false;
    isStopped = true;
    stop();
  }

  function put(what) {
    for (const { place, made } of buttons) {
      made.hidden = !what || place.hidden;
      if (what) Object.assign(made, { textContent: LOADING[what] }).dataset.do = what;
    }
  }

  /** Whether the engine may be fetched now; otherwise it is sought on the device. */
  function mayLoad() {
    isAgreed ??= window.__rigPacked !== undefined || !isDear(LOADING.bytes);
    if (!isAgreed && !isSought) seek();
    return isAgreed;
  }

  async function seek() {
    isSought = true;
    if ((await isHere(list())) && !isStopped) agree();
  }

  /** Follows the engine's state; returns what is to be said of the offer. */
  function follow(state, isWaiting) {
    if (state !== "loading") put(state === "offered" && "load");
    else if (isDear(LOADING.bytes) && isAgreed && !window.__rigPacked) put("stop");
    if (state === "loading") began = performance.now();
    return state === "offered" ? words(isWaiting) : "";
  }

  function words(isWaiting) {
    const seconds = secondsFor(LOADING.bytes);
    const said = isStopped ? LOADING.stopped : seconds ? LOADING.offer : LOADING.untimed;
    const size = (LOADING.bytes / 1e6).toFixed(1);
    const told = said.replace("{size}", size).replace("{time}", seconds ? time(seconds) : "");
    return isWaiting ? `${told} ${LOADING.waits}` : told;
  }

  /** A line that looked good may be slow all the same. */
  function progress(loaded, total) {
    const took = performance.now() - began;
    const left = ((total - loaded) * took) / loaded / 1000;
    if (took > JUDGED_MS && isLong(left)) put("stop");
  }

  return { mayLoad, agree, follow, progress };
}

function time(seconds) {
  const [words, count] =
    seconds > MOST_S
      ? [LOADING.minutes, Math.ceil(seconds / 60)]
      : [LOADING.seconds, STEP_S * Math.ceil(seconds / STEP_S)];
  return words.replace("{count}", count);
}

// A long download was kept in pieces, or all of the guide by its service worker.
async function isHere(list) {
  if (navigator.serviceWorker?.controller) return true;
  if (!(await isAnyKept())) return false;
  try {
    const { files } = await (await fetch(list)).json();
    const sought = [files.snapshot, files.wasm].map(async ({ name, bytes }) => {
      const { bytes: kept } = await piecesOf(new URL(name, list).href);
      return kept >= bytes;
    });
    return (await Promise.all(sought)).every(Boolean);
  } catch {
    return false;
  }
}
