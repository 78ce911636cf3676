// How a kept memory is laid out, and put back. `base` describes it:
//   size                 bytes of the memory
//   offset               bytes of Pyodide's own heading, before all else
//   bytes                of the memory's beginning the module itself supplies; of it only the
//                        difference is kept (exclusive or)
//   skip: [from, to, …]  bytes of that beginning that are random, and count as zero
//   check                a checksum over that beginning
//   steps                how many steps fill the memory, each with two numbers
//   columns              bytes of each of the two columns of numbers, which come first
// A step passes over so many words of zeros, and takes so many words from the file. The numbers have
// seven bits a byte, the lowest first. The words follow, from a whole word on; one has four bytes.

const WORD = 4;
const [BITS, MORE] = [7, 0x80]; // of a byte: those of the number, and that another byte follows

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

/** Puts what was kept into a module's settled memory, of which bytes up to `used` may hold something. */
export function putBack(image, memory, used, { bytes, offset, columns, steps }) {
  const left = words(memory, bytes, used);
  for (let place = 0; place < left.length; place++) if (left[place]) left[place] = 0;
  let end = offset;
  const [zeros, kept] = columns.map((length) => numbers(image, (end += length) - length, steps));
  const all = words(memory, 0, memory.length);
  const given = words(image, Math.ceil(end / WORD) * WORD, image.length);
  let [place, next] = [0, 0];
  for (let step = 0; step < steps; step++) {
    place += zeros[step];
    differ(all, place, given, next, kept[step]);
    place += kept[step];
    next += kept[step];
  }
}

function numbers(image, start, count) {
  const found = new Uint32Array(count);
  let place = start;
  for (let next = 0; next < count; next++) {
    let byte = MORE;
    for (let shift = 0; byte & MORE; shift += BITS) {
      byte = image[place++];
      found[next] |= (byte & ~MORE) << shift;
    }
  }
  return found;
}

// A loop of its own: browsers soon compile it, and most are too short for `set`.
function differ(all, place, given, from, count) {
  for (let word = 0; word < count; word++) all[place + word] ^= given[from + word];
}
