/** A spot along a line on the map, and marks along a piece of sheath. Pure. */
import type { MarkBreak } from "../model/marks.ts";

export type LonLat = readonly [longitude: number, latitude: number];

/** Mean radius of the earth in metres (IUGG). */
const EARTH_M = 6_371_008.8;
const radians = (degrees: number): number => (degrees * Math.PI) / 180;

/** Metres between two spots, on a sphere: good to half a percent, and lines on a campus are short. */
export function apart(one: LonLat, other: LonLat): number {
  const [dx, dy] = [radians(other[0] - one[0]), radians(other[1] - one[1])];
  const half = Math.sin(dy / 2) ** 2 + Math.cos(radians(one[1])) * Math.cos(radians(other[1])) * Math.sin(dx / 2) ** 2;
  return 2 * EARTH_M * Math.asin(Math.min(1, Math.sqrt(half)));
}

/** The spot at a share of a line's length, from 0 to 1; null for a line without length. */
export function spotOn(line: readonly LonLat[], share: number): LonLat | null {
  const steps = line.slice(1).map((point, at) => apart(line[at] as LonLat, point));
  const whole = steps.reduce((sum, step) => sum + step, 0);
  if (!(whole > 0)) return null;
  let left = Math.min(1, Math.max(0, share)) * whole;
  for (const [at, step] of steps.entries()) {
    const [from, to] = [line[at] as LonLat, line[at + 1] as LonLat];
    if (left <= step && step > 0) {
      const part = left / step;
      return [from[0] + (to[0] - from[0]) * part, from[1] + (to[1] - from[1]) * part];
    }
    left -= step;
  }
  return line.at(-1) ?? null;
}

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
