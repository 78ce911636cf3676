// How a kept memory is laid out, and put back. `base` describes it:
//   size                 bytes of the memory
//   offset               bytes of Pyodide's own heading, before the pages
//   pages: [from, to, …] pages that hold anything; what is kept of them stands side by side
//   bytes                of the memory's beginning the module itself supplies; of it only the
//                        difference is kept (exclusive or)
//   skip: [from, to, …]  bytes of that beginning that are random, and count as zero
//   check                a checksum over that beginning

export const PAGE = 4096;
const WORD = 4;

const words = (array, from, to) =>
  new Uint32Array(array.buffer, array.byteOffset + from, (to - from) / WORD);

function eachRun(borders, work) {
  for (let place = 0; place < borders.length; place += 2) work(borders[place], borders[place + 1]);
}

/** Clears what is random in a module's memory in which Python has not started. */
export function settle(memory, { skip }) {
  eachRun(skip, (from, to) => memory.fill(0, from, to));
}

/** A number over the beginning of a settled memory, to tell whether it is the one that is known. */
export function checksum(memory, { bytes }) {
  const known = words(memory, 0, bytes);
  let sum = 0;
  for (let place = 0; place < known.length; place++) sum = (Math.imul(sum, 31) + known[place]) | 0;
  return sum;
}

/** Takes the beginning of a settled memory out of another; done twice, puts it back. */
export function takeOut(memory, fresh, from, to) {
  const [kept, known] = [words(memory, from, to), words(fresh, from, to)];
  for (let place = 0; place < kept.length; place++) kept[place] ^= known[place];
}

/** Puts what was kept into a module's settled memory, of which it used the bytes up to `used`. */
export function putBack(image, memory, used, { bytes, offset, pages }) {
  const left = words(memory, bytes, used);
  for (let place = 0; place < left.length; place++) if (left[place]) left[place] = 0;
  let place = offset;
  eachRun(pages, (from, to) => {
    const part = image.subarray(place, (place += (to - from) * PAGE));
    const own = Math.min(part.length, Math.max(0, bytes - from * PAGE));
    if (own) takeOut(part, memory.subarray(from * PAGE), 0, own);
    memory.set(part, from * PAGE);
  });
}
