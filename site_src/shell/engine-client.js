// The page's side of the engine's worker: starts it, carries requests to it and replies back. A
// worker that dies is started again once, and what it had not answered is asked again.

const SILENCE_MS = 60_000; // a worker that was killed, or whose network is gone, says nothing

/**
 * make(progress) gives a worker that was told where its files are; `page` is told
 *   mayStart()                whether the engine may be fetched now; until it is started again,
 *                             what is asked waits
 *   show(state, why)          loading | ready | working | refused (a request) | failed (the start)
 *                             | offered (it may not be fetched yet)
 *                             why: the likely cause of a failure; see engine-files.js
 *   started(way, reason)      which way the engine started, and why not a better one
 *   progress(loaded, total)   bytes
 *   put(reply)                a reply to the newest request
 */
export function client(make, page) {
  const ready = {};
  ready.promise = new Promise((resolve, reject) => Object.assign(ready, { resolve, reject }));
  ready.promise.catch(() => {});
  const open = new Map();
  let worker = null;
  let start = null; // the one of several that counts
  let started = false;
  let restarted = false;
  let silence = 0;
  let lastId = 0;
  let lastAsk = 0;

  async function startEngine() {
    if (start) return;
    if (!page.mayStart()) return page.show("offered");
    const mine = {};
    start = mine;
    started = false;
    const isMine = () => start === mine;
    const progress = (loaded, total) => isMine() && hear({ type: "progress", loaded, total });
    page.show("loading");
    listenForSilence();
    try {
      const made = await make(progress);
      if (!isMine()) return made.terminate();
      made.addEventListener("message", ({ data }) => isMine() && hear(data));
      made.addEventListener("error", (event) => isMine() && fail(event.message));
      worker = made;
      for (const { request } of open.values()) worker.postMessage(request);
    } catch (error) {
      if (isMine()) fail(String(error), error.why);
    }
  }

  // A start whose cause is known would fail once more.
  function fail(detail, why) {
    console.error(detail);
    end();
    if (!restarted && !why) {
      restarted = true;
      startEngine();
      return;
    }
    page.show("failed", why);
    ready.reject(new Error(detail));
    for (const id of [...open.keys()]) settle(id, null);
  }

  function end() {
    clearTimeout(silence);
    worker?.terminate();
    worker = start = null;
  }

  /** Ends a start; what was asked waits for the next. */
  function stop() {
    end();
    page.show("offered");
  }

  function hear(message) {
    receive[message.type](message);
    listenForSilence();
  }

  function listenForSilence() {
    clearTimeout(silence);
    if (start && (open.size || !started)) silence = setTimeout(fail, SILENCE_MS, "silence");
  }

  const receive = {
    progress({ loaded, total }) {
      page.progress(loaded, total);
    },
    state({ state, detail, why, way, reason }) {
      if (state === "failed") return fail(detail, why);
      started = true;
      page.started(way, reason);
      page.show(open.size ? "working" : state);
      ready.resolve();
    },
    reply(reply) {
      const isLatest = reply.id === lastAsk;
      if (isLatest) page.put(reply);
      if (reply.final) settle(reply.id, isLatest ? reply : null);
    },
    result(result) {
      if (!open.has(result.id)) return;
      page.show(open.size > 1 ? "working" : "ready");
      settle(result.id, result);
    },
    void({ id }) {
      settle(id, null);
    },
    error({ id, detail }) {
      console.error(detail);
      if (id === lastId) page.show("refused");
      settle(id, null);
    },
  };

  function settle(id, reply) {
    open.get(id)?.resolve(reply);
    open.delete(id);
  }

  /** Sends a request; resolves with its final reply or result, or null where none comes. */
  function send(request) {
    const id = ++lastId;
    if (request.type === "ask") lastAsk = id;
    const sent = { ...request, id };
    const answered = new Promise((resolve) => open.set(id, { request: sent, resolve }));
    if (worker) worker.postMessage(sent);
    else startEngine();
    listenForSilence();
    return answered;
  }

  /** Whether something is being asked. */
  const isBusy = () => open.size > 0;

  /** Lets a worker that failed be started again. */
  function forgive() {
    restarted = false;
  }

  return { ready: ready.promise, startEngine, stop, send, isBusy, forgive };
}
