// Folds memories and puts them back:
//   node fold.mjs PYODIDE
// prints, as JSON, for each memory its name, whether it came back, how many bytes its words are
// without zeros, and how many the fold has.
import { fold } from "../../site_src/build/memory/fold.mjs";
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
const two = filled(9_000);
const withGaps = one.map((word, place) => (place % 500 < 40 ? 0 : word));
const changed = one.map((word, place) => (place % 50 ? word : word + 1));
const memories = {
  nothing: memoryOf(),
  "no repeat": memoryOf([0, one]),
  "up to the last word": memoryOf([WORDS - one.length, one]),
  "a repeat far on": memoryOf([2_000, one], [40_000, one]),
  "repeats at changing distances": memoryOf([2_000, one], [20_000, two], [40_000, two], [60_000, one], [90_000, two]),
  "a repeat with a change now and then": memoryOf([2_000, one], [60_000, changed]),
  "a repeat with zeros in it": memoryOf([2_000, withGaps], [60_000, withGaps]),
  "a repeat of what the module supplies": memoryOf([0, one], [60_000, one]),
  "a repeat of itself": memoryOf([2_000, filled(9_000)], [11_000, new Uint32Array(30_000).fill(7)]),
};

const found = Object.entries(memories).map(([name, words]) => {
  const memory = new Uint8Array(words.buffer);
  const own = Uint8Array.from({ length: OWN }, any);
  const wanted = memory.slice();
  for (let place = 0; place < OWN; place++) wanted[place] ^= own[place];
  const { data, ...layout } = fold(memory, OWN);
  const image = new Uint8Array(8 + data.length);
  image.set(data, 8);
  const back = new Uint8Array(memory.length).fill(3, 0, USED);
  back.set(own);
  putBack(image, back, USED, { bytes: OWN, offset: 8, ...layout });
  const full = words.reduce((sum, word) => sum + (word ? 4 : 0), 0);
  return [name, Buffer.compare(back, wanted) === 0, full, data.length];
});
process.stdout.write(JSON.stringify(found));
