// The engine's worker. It receives
//   {type: "start", archive}                      once, first
//   {type: "ask", id, path, fragment, form}       any number of times
// and posts
//   {type: "state", state: "ready" | "failed", detail}
//   {type: "reply", id, title, html, path, fragment, status}
//   {type: "void", id}                            a newer request came before this one was begun
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
  if (waiting) postMessage({ type: "void", id: waiting.id });
  waiting = request;
  drainSoon();
}

// A turn of the event loop lets requests that already arrived replace the one that waits.
function drainSoon() {
  if (due || !reply) return;
  due = true;
  setTimeout(drain, 0);
}

function drain() {
  due = false;
  if (!waiting) return;
  const { id, path, fragment, form } = waiting;
  waiting = null;
  try {
    const answer = JSON.parse(reply(JSON.stringify({ id, path, fragment, form })));
    postMessage({ ...answer, type: "reply" });
  } catch (error) {
    postMessage({ type: "error", id, detail: String(error) });
  }
}
