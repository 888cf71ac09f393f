/** Repeatable random numbers: the same seed gives the same plant on every machine. */
export interface Random {
  /** From 0 up to, not including, 1. */
  next(): number;
  /** A whole number from `least` to `most`, both included. */
  whole(least: number, most: number): number;
  /** True once in `n` on average. */
  oneIn(n: number): boolean;
  pick<T>(list: readonly T[]): T;
}

/** A 32-bit linear congruential step followed by a mixing of its bits; good enough to scatter test data. */
export function seeded(seed: number): Random {
  let state = seed >>> 0;
  const next = (): number => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    let x = state;
    x = Math.imul(x ^ (x >>> 16), 0x45d9f3b);
    x = Math.imul(x ^ (x >>> 13), 0x45d9f3b);
    return ((x ^ (x >>> 16)) >>> 0) / 4_294_967_296;
  };
  return {
    next,
    whole: (least, most) => least + Math.floor(next() * (most - least + 1)),
    oneIn: (n) => next() * n < 1,
    pick: (list) => list[Math.floor(next() * list.length)] as (typeof list)[number],
  };
}
