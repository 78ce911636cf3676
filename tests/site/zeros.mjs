// Leaves the zeros out of memories and puts them back:
//   node zeros.mjs PYODIDE
// prints, as JSON, for each memory its name, whether it came back, how many bytes its words are
// without zeros, and how many are kept.
import { withoutZeros } from "../../site_src/build/memory/zeros.mjs";
import { putBack } from "../../site_src/shell/memory.js";

const WORDS = 1 << 17;
const OWN = 4096; // bytes that the module supplies
const USED = 3 * OWN; // bytes in which it left something

let state = 1;
const any = () => (state = Math.imul(state, 1664525) + 1013904223) >>> 0;
const filled = (count) => Uint32Array.from({ length: count }, any);

function memoryOf(...parts) {
  const memory = new Uint32Array(WORDS);
  for (const [place, words] of parts) memory.set(words, place);
  return memory;
}

const one = filled(12_000);
const withGaps = one.map((word, place) => (place % 500 < 40 ? 0 : word));
const withFew = one.map((word, place) => (place % 500 < 15 ? 0 : word));
const memories = {
  nothing: memoryOf(),
  "from the first word on": memoryOf([0, one]),
  "up to the last word": memoryOf([WORDS - one.length, one]),
  "all of it": filled(WORDS),
  "two parts": memoryOf([2_000, one], [40_000, one]),
  "gaps of zeros": memoryOf([2_000, withGaps]),
  "zeros too few to leave out": memoryOf([2_000, withFew]),
};

const found = Object.entries(memories).map(([name, words]) => {
  const memory = new Uint8Array(words.buffer);
  const own = Uint8Array.from({ length: OWN }, any);
  const wanted = memory.slice();
  for (let place = 0; place < OWN; place++) wanted[place] ^= own[place];
  const { data, ...layout } = withoutZeros(memory);
  const image = new Uint8Array(8 + data.length);
  image.set(data, 8);
  const back = new Uint8Array(memory.length).fill(3, 0, USED);
  back.set(own);
  putBack(image, back, USED, { bytes: OWN, offset: 8, ...layout });
  const full = words.reduce((sum, word) => sum + (word ? 4 : 0), 0);
  return [name, Buffer.compare(back, wanted) === 0, full, data.length];
});
process.stdout.write(JSON.stringify(found));
