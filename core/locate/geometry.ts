/** Marks along a piece of sheath. Pure. */
import type { MarkBreak } from "../model/marks.ts";

/**
 * The mark at a share of the way between two printed marks, a jump of the print taken into account; null where no single
 * jump explains how much sheath lies between them.
 * @param sheath how much lies between the two by the print, in its unit; null where the marks don't say
 */
export function markAt(
  [from, to]: readonly [number, number],
  sheath: number | null,
  share: number,
  breaks: readonly MarkBreak[],
): number | null {
  const near = (one: number, other: number): boolean => Math.abs(one - other) < 1e-6 * Math.max(1, Math.abs(one));
  if (sheath === null || near(Math.abs(to - from), sheath)) return from + (to - from) * share;
  for (const { at_mark, jumps_to } of breaks) {
    // Walked against the print, it is left where it was jumped to.
    for (const [leave, arrive] of [
      [at_mark, jumps_to],
      [jumps_to, at_mark],
    ] as const) {
      const [first, last] = [Math.abs(leave - from), Math.abs(to - arrive)];
      if (!near(first + last, sheath)) continue;
      const run = share * sheath;
      return run <= first ? from + Math.sign(leave - from) * run : arrive + Math.sign(to - arrive) * (run - first);
    }
  }
  return null;
}
