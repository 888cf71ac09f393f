/** Ratios within one run: both sides in turns in one process, medians compared. */

export interface Bound {
  readonly name: string;
  readonly bound: number;
  /** What stands above and below the line, in words. */
  readonly against: string;
}

export interface Line extends Bound {
  readonly strands: number;
  /** What was measured over what it is held against; for memory, megabytes over the bound's megabytes. */
  readonly ratio: number;
  readonly ours: number;
  readonly theirs: number;
  readonly unit: "ms" | "MB" | "frames";
}

export const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  const upper = sorted[middle] as number;
  return sorted.length % 2 === 1 ? upper : ((sorted[middle - 1] as number) + upper) / 2;
};

export async function timed<T>(act: () => Promise<T> | T): Promise<number> {
  const start = performance.now();
  await act();
  return performance.now() - start;
}

/** Runs both sides in turns, the second first every other time, and answers the medians in milliseconds. */
export async function interleaved(
  turns: number,
  ours: () => Promise<number>,
  theirs: () => Promise<number> | number,
): Promise<{ ours: number; theirs: number }> {
  const a: number[] = [];
  const b: number[] = [];
  for (let turn = 0; turn < turns; turn += 1) {
    if (turn % 2 === 0) a.push(await ours());
    b.push(await theirs());
    if (turn % 2 === 1) a.push(await ours());
  }
  return { ours: median(a), theirs: median(b) };
}
