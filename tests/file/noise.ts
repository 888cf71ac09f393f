/** Bytes without meaning, the same for the same seed. */
export function noise(length: number, seed: number): Buffer {
  const bytes = Buffer.alloc(length);
  let state = (seed + 1) * 2_654_435_761;
  for (let at = 0; at < length; at++) {
    // A linear congruence modulo 2^32; its high bits are random enough to be no page of a database.
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    bytes[at] = state >>> 24;
  }
  return bytes;
}
