// Pieces of the engine's files that a long download brought, kept on this device so that the next one
// goes on where it stopped. They hold nothing but published files; those of another edition are let go.
const STORE = "rig-guide-engine"; // removed together with what "keep on this device" keeps

const nameOf = (address, from) => `${address}?from=${from}`;

/** Whether anything is kept; where a browser keeps nothing, no. */
export const isAnyKept = () => Promise.resolve(globalThis.caches?.has(STORE)).catch(() => false);

/** What is kept of a file, from its beginning on: its pieces as responses, their bytes, the host's tag. */
export async function piecesOf(address) {
  const found = { pieces: [], bytes: 0, tag: "" };
  if (!(await isAnyKept())) return found;
  const store = await caches.open(STORE);
  for (;;) {
    const piece = await store.match(nameOf(address, found.bytes));
    if (!piece) return found;
    found.pieces.push(piece);
    found.bytes += Number(piece.headers.get("Content-Length"));
    found.tag = piece.headers.get("ETag");
  }
}

/** Keeps a piece; of files that are not listed by these addresses nothing stays. */
export async function keepPiece(address, from, chunks, tag, listed) {
  const store = await caches.open(STORE);
  await forgetAll(store, (url) => !listed.includes(url.split("?")[0]));
  const body = new Blob(chunks);
  const headers = { ETag: tag, "Content-Length": body.size };
  await store.put(nameOf(address, from), new Response(body, { headers }));
}

/** Lets go of what is kept of a file. */
export async function forget(address) {
  if (!(await isAnyKept())) return;
  await forgetAll(await caches.open(STORE), (url) => url.split("?")[0] === address);
}

async function forgetAll(store, isMeant) {
  for (const { url } of await store.keys()) if (isMeant(url)) await store.delete(url);
}
