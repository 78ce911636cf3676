// Folds a memory: zeros, and what stands in it already far before, are left out. gzip finds repeats
// by itself within 32 KB only. How it is written, and unfolded: shell/memory.js.

// All in words of four bytes. Where a step costs as much as it saves was measured.
const LEAST_SAME = 8;
const LEAST_ZEROS = 16;
const NEAR = 8192; // gzip finds those
const HASHED = 6;
const HASH_BITS = 22;

const WORD = 4;
const [LOW_BITS, LOW, MORE] = [7, 0x7f, 0x80];

/** Folds a memory; in its first `bytes` no repeats are looked for. Returns the bytes and their layout. */
export function fold(memory, bytes) {
  const words = new Uint32Array(memory.buffer, memory.byteOffset, memory.length / WORD);
  const steps = stepsOf(words, bytes / WORD);
  const columns = [0, 1, 2, 3].map((column) => packed(steps.map((step) => step[column])));
  const kept = steps.map(([, count, , , from]) => memory.subarray(from * WORD, (from + count) * WORD));
  const ends = columns.map(({ length }) => length);
  const filling = new Uint8Array(-ends.reduce((sum, length) => sum + length, 0) & (WORD - 1));
  return { data: Buffer.concat([...columns, filling, ...kept]), columns: ends, steps: steps.length };
}

/** Steps: zeros, words kept, words repeated, change of the distance to those, where the kept begin. */
function stepsOf(words, first) {
  const seen = new Int32Array(1 << HASH_BITS).fill(-1); // by hash, where such words stood last
  const steps = [];
  let [zeros, from, distance] = [0, 0, 0];
  function end(place, same, back) {
    steps.push([zeros, place - from, same, zigzag(back - distance), from]);
    [zeros, from, distance] = [0, place + same, back];
  }
  let place = 0;
  while (place + HASHED <= words.length) {
    const empty = zerosAt(words, place);
    if (empty >= LEAST_ZEROS) {
      if (place > from) end(place, 0, distance);
      zeros += empty;
      from = place += empty;
      continue;
    }
    const hash = hashAt(words, place);
    const before = seen[hash];
    const same = before >= 0 && place - before > NEAR ? sameAt(words, before, place) : 0;
    if (same >= LEAST_SAME) end(place, same, place - before);
    const next = Math.max(place + 1, from);
    for (; place < next; place++) if (place >= first) seen[hashAt(words, place)] = place;
  }
  end(words.length, 0, distance);
  return steps;
}

function zerosAt(words, place) {
  let end = place;
  while (end < words.length && !words[end]) end++;
  return end - place;
}

// A repeat ends where zeros begin that are left out: to write them would take the browser's memory.
function sameAt(words, one, other) {
  let [count, zeros] = [0, 0];
  while (other + count < words.length && words[one + count] === words[other + count] && zeros < LEAST_ZEROS) {
    zeros = words[other + count++] ? 0 : zeros + 1;
  }
  return zeros < LEAST_ZEROS ? count : count - zeros;
}

function hashAt(words, place) {
  let hash = 0;
  for (let next = place; next < place + HASHED; next++) {
    hash = (Math.imul(hash ^ words[next], 0x9e3779b1) + (hash >>> 15)) | 0;
  }
  return (hash ^ (hash >>> 11)) & ((1 << HASH_BITS) - 1);
}

const zigzag = (number) => (number < 0 ? -2 * number - 1 : 2 * number);

/** Numbers in as few bytes as they need, seven bits in each, the lowest first. */
function packed(numbers) {
  const bytes = [];
  for (let left of numbers) {
    for (; left > LOW; left >>>= LOW_BITS) bytes.push((left & LOW) | MORE);
    bytes.push(left);
  }
  return Uint8Array.from(bytes);
}
