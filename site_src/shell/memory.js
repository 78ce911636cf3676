// The part of a kept memory that the WebAssembly module itself supplies. `base` says where it is:
// {offset, bytes, skip: [from, to], check}: bytes of the memory's beginning without those between
// from and to (they are random), standing at an offset in the image.

const words = (array, offset, bytes) =>
  new Uint32Array(array.buffer, array.byteOffset + offset, bytes / 4);

const isSkipped = (place, [from, to]) => place * 4 >= from && place * 4 < to;

/** Takes what a fresh memory holds out of an image; done twice, puts it back. */
export function takeOut(image, memory, { offset, bytes, skip }) {
  const kept = words(image, offset, bytes);
  const fresh = words(memory, 0, bytes);
  for (let place = 0; place < kept.length; place++) {
    if (!isSkipped(place, skip)) kept[place] ^= fresh[place];
  }
}

/** A number over the beginning of a memory, to tell whether it is the one that was taken out. */
export function checksum(memory, { bytes, skip }) {
  let sum = 0;
  const fresh = words(memory, 0, bytes);
  for (let place = 0; place < fresh.length; place++) {
    if (!isSkipped(place, skip)) sum = (Math.imul(sum, 31) + fresh[place]) | 0;
  }
  return sum;
}
