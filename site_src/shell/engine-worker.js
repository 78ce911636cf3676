// The engine's worker. It receives
//   {type: "start", address}                      once, first: where the list of files stands
//   {type: "start", manifest, parts}              or list and contents, where none may be fetched
//   {type: "ask", id, path, fragment, form, beneath, up, since, later}
//                                                 any number of times; beneath: the form holds what
//                                                 was changed, and the fragment's details the rest
//   {type: "call", id, kind, …}                   a small question of another kind, see
//                                                 engine.browser.KINDS; each gets its own result
// and posts
//   {type: "state", state: "ready", way, reason}  how the engine started, and why not a better way
//   {type: "state", state: "failed", detail, why} why: the likely cause, where one is known; see
//                                                 engine-files.js
//   {type: "progress", loaded, total}             bytes, before "ready"
//   {type: "reply", final, id, title, html, path, fragment, status}
//                  twice a request: first quickly, then with what other answers would lead to,
//                  what is taken along and the chapters that `later` lists
//   {type: "result", id, html | text}             what a call asked for
//   {type: "void", id}                            a newer request came before the final reply
//   {type: "error", id, detail}                   the engine refused the request
import { opener } from "./engine-fetch.js";
import { FileError, broken, found } from "./engine-files.js";
import { start } from "./engine-start.js";

// The page puts the first reply in with the whole machine at its service; on two cores that matters.
const PUT_MS = 50;

let reply = null;
let waiting = null;
let timer = 0;
const calls = [];

addEventListener("message", ({ data }) => {
  if (data.type === "start") begin(data);
  if (data.type === "ask") enqueue(data);
  if (data.type === "call") call(data);
});

async function begin({ address, manifest, parts }) {
  try {
    const listed = manifest ?? (await list(address));
    const open = parts ? (file) => new Response(parts[file.name]) : opener(fetch, address, namesIn(listed));
    const { way, reason, reply: answers } = await start(listed, open, tell);
    reply = answers;
    postMessage({ type: "state", state: "ready", way, reason });
    for (const request of calls.splice(0)) call(request);
    drainIn(0);
  } catch (error) {
    postMessage({ type: "state", state: "failed", detail: String(error), why: error.why });
  }
}

const namesIn = ({ files, wheels }) => [...Object.values(files), ...wheels].map(({ name }) => name);

async function list(address) {
  const response = await fetch(address).catch(broken({}));
  if (response.status === 404) throw new FileError(`${address} is gone`, "replaced");
  const text = await found(response).text();
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new FileError(String(error), text.trimStart().startsWith("<") ? "foreign" : "changed");
  }
}

function call({ type, ...request }) {
  if (!reply) {
    calls.push(request);
    return;
  }
  try {
    tellOf(JSON.parse(reply(JSON.stringify(request))), { type: "result" });
  } catch (error) {
    refuse(request.id, error);
  }
}

function tell(loaded, total) {
  postMessage({ type: "progress", loaded, total });
}

function enqueue(request) {
  if (waiting) postMessage({ type: "void", id: waiting.request.id });
  waiting = { request, final: false };
  drainIn(0);
}

// A turn of the event loop lets requests that already arrived replace the one that waits.
function drainIn(milliseconds) {
  clearTimeout(timer);
  if (reply && waiting) timer = setTimeout(drain, milliseconds);
}

function drain() {
  const { request, final } = waiting;
  waiting = null;
  if (answer(request, final) && !final) {
    waiting = { request, final: true };
    drainIn(PUT_MS);
  }
}

function answer({ type, ...request }, final) {
  const { id } = request;
  try {
    const text = reply(JSON.stringify({ ...request, whole: final }));
    return tellOf(JSON.parse(text), { type: "reply", final });
  } catch (error) {
    refuse(id, error);
    return false;
  }
}

/** Posts what came of a request; tells whether it was answered. */
function tellOf(found, message) {
  const { id, refused } = found;
  if (refused === undefined) postMessage({ ...found, ...message });
  else postMessage({ type: "error", id, detail: refused });
  return refused === undefined;
}

// Any other error leaves a dead Python behind: the page starts another.
function refuse(id, error) {
  if (error.name !== "PythonError") throw error;
  postMessage({ type: "error", id, detail: String(error) });
}
