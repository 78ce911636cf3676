// The engine's files on their way in: watched, checked against the list, and unpacked. What goes
// wrong with one has a likely cause, for which the page has words: old, network, missing, replaced
// (the site has another edition), foreign (a web page came in its place), cut, changed; and memory,
// where the device has too little of it.

const GZIP = [0x1f, 0x8b];

export class FileError extends Error {
  constructor(text, why) {
    super(text);
    this.why = why;
  }
}

export function watcher(files, tell) {
  const total = files.reduce((sum, file) => sum + file.bytes, 0);
  let loaded = 0;
  return (bytes) => tell((loaded = Math.min(total, loaded + bytes)), total);
}

/** The bytes of a file, once they are all there and are those of the list. */
export async function read(file, open, watch) {
  const bytes = await gathered(file, await watched(file, open, watch));
  await check(file, bytes);
  return bytes;
}

/**
 * The content of a compressed file as it comes in, and a promise that is kept once all of it was
 * the list's. A host that unpacks such files by itself sends the content: that is as good.
 */
export async function inflated(file, open, watch) {
  const [stream, copy] = (await watched(file, open, watch)).tee();
  const checked = gathered(file, copy).then((bytes) => check(file, bytes));
  checked.catch(() => {});
  const reader = stream.getReader();
  const first = await reader.read().catch(broken(file));
  const isPacked = GZIP.every((byte, place) => first.value?.[place] === byte);
  if (!isPacked) console.info(`engine: the host unpacked ${file.name}`);
  const whole = startingWith(first, reader);
  return { content: isPacked ? whole.pipeThrough(new DecompressionStream("gzip")) : whole, checked };
}

function startingWith(first, reader) {
  const pass = (controller, { done, value }) =>
    done ? controller.close() : controller.enqueue(value);
  return new ReadableStream({
    start: (controller) => pass(controller, first),
    pull: async (controller) => pass(controller, await reader.read()),
    cancel: (reason) => reader.cancel(reason),
  });
}

const gathered = (file, stream) => new Response(stream).arrayBuffer().catch(broken(file));

/** The reply, if it brings a file. */
export function found(response) {
  if (!response.ok) throw new FileError(`${response.status} ${response.url}`, "missing");
  return response;
}

/** What to do where a connection does not bring a file, or not all of it. */
export const broken = (file) => (error) => {
  file.isBroken = true; // the next way to start asks for it past what the browser kept
  throw new FileError(String(error), "network");
};

async function watched(file, open, watch) {
  const response = await open(file);
  return response.body.pipeThrough(
    new TransformStream({
      transform(chunk, controller) {
        watch(chunk.length);
        controller.enqueue(chunk);
      },
    }),
  );
}

// Pages that came without encryption have no `crypto.subtle`; there `open` lets the browser check.
async function check(file, buffer) {
  const bytes = new Uint8Array(buffer);
  if (!globalThis.crypto?.subtle) return;
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  const found = btoa(String.fromCharCode(...digest));
  if (found === file.sha256 || found === file.unpacked) return;
  file.isBroken = file.isChanged = true; // and what is kept of it is no use either
  throw new FileError(`${file.name} differs`, causeOf(file, bytes));
}

function causeOf(file, bytes) {
  const beginning = new TextDecoder().decode(bytes.subarray(0, 64)).trimStart();
  if (beginning.startsWith("<")) return "foreign";
  return bytes.length < file.bytes ? "cut" : "changed";
}
