// The engine's worker. It receives
//   {type: "start", archive}                      once, first
//   {type: "ask", id, path, fragment, form}       any number of times
// and posts
//   {type: "state", state: "ready" | "failed", detail}
//   {type: "reply", final, id, title, html, path, fragment, status}
//                  twice a request: first without, then with what other answers would lead to
//   {type: "void", id}                            a newer request came before the final reply
//   {type: "error", id, detail}                   the engine refused the request
import { start } from "./engine-start.js";

let reply = null;
let waiting = null;
let due = false;

addEventListener("message", ({ data }) => {
  if (data.type === "start") begin(data.archive);
  if (data.type === "ask") enqueue(data);
});

async function begin(archive) {
  try {
    reply = await start(archive);
    postMessage({ type: "state", state: "ready", detail: "" });
    drainSoon();
  } catch (error) {
    postMessage({ type: "state", state: "failed", detail: String(error) });
  }
}

function enqueue(request) {
  if (waiting) postMessage({ type: "void", id: waiting.request.id });
  waiting = { request, final: false };
  drainSoon();
}

// A turn of the event loop lets requests that already arrived replace the one that waits.
function drainSoon() {
  if (due || !reply || !waiting) return;
  due = true;
  setTimeout(drain, 0);
}

function drain() {
  due = false;
  const { request, final } = waiting;
  waiting = null;
  if (answer(request, final) && !final) {
    waiting = { request, final: true };
    drainSoon();
  }
}

function answer({ id, path, fragment, form }, final) {
  try {
    const text = reply(JSON.stringify({ id, path, fragment, form, changes: final }));
    postMessage({ ...JSON.parse(text), type: "reply", final });
    return true;
  } catch (error) {
    postMessage({ type: "error", id, detail: String(error) });
    return false;
  }
}
