// The engine's files from a host. A download that is cut goes on where it stopped (RFC 9110, section
// 14), and what a long one brought is kept for the next.
import { broken, found } from "./engine-files.js";
import { forget, keepPiece, piecesOf } from "./pieces.js";

const PIECE_BYTES = 512 * 1024;
const LONG_MS = 3000; // what came sooner comes again as soon
const TRIES = 4;
const WAIT_MS = 400; // before the first of them; twice as long before each other

/** A function from a file of the list to the Response that holds it; listed: all their names. */
export function opener(fetchFile, address, names) {
  const listed = names.map((name) => new URL(name, address).href);
  return (file) => {
    const url = new URL(file.name, address).href;
    return globalThis.crypto?.subtle ? resumed(fetchFile, file, url, listed) : checked(fetchFile, file, url);
  };
}

// What the browser kept of a file that was broken is broken too.
const cacheFor = (file) => (file.isBroken ? "reload" : "default");

// Where the worker cannot check what comes, the browser does.
async function checked(fetchFile, file, url) {
  const integrity = [file.sha256, file.unpacked].filter(Boolean).map((each) => `sha256-${each}`).join(" ");
  return found(await fetchFile(url, { cache: cacheFor(file), integrity }).catch(broken(file)));
}

async function resumed(fetchFile, file, url, listed) {
  if (file.isChanged) await forget(url);
  const had = await piecesOf(url).catch(() => ({ pieces: [], bytes: 0, tag: "" }));
  const ask = (from, tag) => asked(fetchFile, file, url, from, tag);
  let response = null;
  if (had.bytes < file.bytes) {
    response = found(await ask(had.bytes, had.tag).catch(broken(file)));
    if (response.status !== 206) Object.assign(had, { pieces: [], bytes: 0 });
  }
  return new Response(streamOf(chunksOf(had, response, ask, keeper(url, had.bytes, response, listed))));
}

async function asked(fetchFile, file, url, from, tag) {
  if (!from) return fetchFile(url, { cache: cacheFor(file) });
  const headers = { Range: `bytes=${from}-`, ...(tag && { "If-Range": tag }) };
  const response = await fetchFile(url, { headers, cache: "no-store" });
  return response.status === 416 ? fetchFile(url, { cache: "reload" }) : response;
}

const streamOf = (chunks) =>
  new ReadableStream({
    async pull(controller) {
      const { done, value } = await chunks.next();
      if (done) controller.close();
      else controller.enqueue(value);
    },
    cancel: () => chunks.return(),
  });

async function* chunksOf({ pieces, bytes }, first, ask, keep) {
  for (const piece of pieces) yield new Uint8Array(await piece.arrayBuffer());
  let place = bytes;
  let response = first;
  for (let tries = 0; response; ) {
    try {
      for await (const chunk of bodyOf(response, response.status === 206 || response === first ? 0 : place)) {
        place += chunk.length;
        tries = 0;
        keep(chunk);
        yield chunk;
      }
      response = null;
    } catch (error) {
      response = await again(() => ask(isEncoded(first) ? 0 : place, tagOf(first)), tries++, error);
    }
  }
  keep(null);
}

// A host that knows no ranges, or unpacks what it sends, begins anew: what came already is passed over.
async function* bodyOf(response, passed) {
  const reader = response.body.getReader();
  let left = passed;
  for (let part = await reader.read(); !part.done; part = await reader.read()) {
    const chunk = part.value.subarray(left);
    left = Math.max(0, left - part.value.length);
    if (chunk.length) yield chunk;
  }
}

async function again(ask, tries, error) {
  if (tries >= TRIES) throw error;
  await new Promise((resolve) => setTimeout(resolve, WAIT_MS * 2 ** tries));
  try {
    return found(await ask());
  } catch (other) {
    return again(ask, tries + 1, other);
  }
}

const isEncoded = ({ headers }) => headers.has("Content-Encoding");

// A weak tag says nothing of single bytes (RFC 9110, section 13.1.5).
function tagOf({ headers }) {
  const tag = headers.get("ETag");
  return tag && !tag.startsWith("W/") ? tag : (headers.get("Last-Modified") ?? "");
}

// Takes each chunk, and null after the last.
function keeper(url, from, response, listed) {
  if (!response || isEncoded(response)) return () => {};
  const began = performance.now();
  let [chunks, size, place] = [[], 0, from];
  let kept = Promise.resolve();

  function put() {
    const [start, taken] = [place, chunks];
    [chunks, size, place] = [[], 0, place + size];
    kept = kept.then(() => keepPiece(url, start, taken, tagOf(response), listed));
    kept.catch(() => {}); // a device without room: the download goes on, and is not kept
  }

  return (chunk) => {
    if (chunk) chunks.push(chunk);
    size += chunk?.length ?? 0;
    const isLong = performance.now() - began > LONG_MS;
    if (isLong && (chunk ? size >= PIECE_BYTES : size > 0)) put();
  };
}
