// Leaves the zeros out of a memory. How it is written, and put back: shell/memory.js.

// In words of four bytes; fewer zeros than these cost no more than to tell where they are.
const LEAST = 16;
const WORD = 4;
const [LOW_BITS, LOW, MORE] = [7, 0x7f, 0x80];

/** A memory without its zeros, and how it is laid out. */
export function withoutZeros(memory) {
  const words = new Uint32Array(memory.buffer, memory.byteOffset, memory.length / WORD);
  const steps = stepsOf(words);
  const columns = [0, 1].map((column) => packed(steps.map((step) => step[column])));
  const kept = steps.map(([, count, from]) => memory.subarray(from * WORD, (from + count) * WORD));
  const ends = columns.map(({ length }) => length);
  const filling = new Uint8Array(-ends.reduce((sum, length) => sum + length, 0) & (WORD - 1));
  return { data: Buffer.concat([...columns, filling, ...kept]), columns: ends, steps: steps.length };
}

/** Steps: how many zeros, how many words kept after them, and where those begin. */
function stepsOf(words) {
  const steps = [];
  let [zeros, from] = [0, 0];
  for (let place = 0; place < words.length; ) {
    const empty = zerosAt(words, place);
    if (empty >= LEAST) {
      if (place > from) steps.push([zeros, place - from, from]);
      zeros = (place > from ? 0 : zeros) + empty;
      from = place + empty;
    }
    place += empty || 1;
  }
  if (words.length > from) steps.push([zeros, words.length - from, from]);
  return steps;
}

function zerosAt(words, place) {
  let end = place;
  while (end < words.length && !words[end]) end++;
  return end - place;
}

/** Numbers in as few bytes as they need, seven bits in each, the lowest first. */
function packed(numbers) {
  const bytes = [];
  for (let left of numbers) {
    for (; left > LOW; left >>>= LOW_BITS) bytes.push((left & LOW) | MORE);
    bytes.push(left);
  }
  return Uint8Array.from(bytes);
}
