/** Round things lying on the floor of a round pipe, as cables do. Lengths in whatever unit the pipe has. */
import { type Disc, spreadOver } from "../../core/paper/packing.ts";

/**
 * Discs of these radii side by side along the floor of a circle, in order from the left; where they don't fit on one layer
 * they are spread over the pipe, each no larger than it is.
 */
export function lyingIn(radius: number, radii: readonly number[]): readonly Disc[] {
  if (radii.length === 0) return [];
  const sizes = radii.map((r) => Math.min(r, radius));
  const steps = sizes.slice(1).map((r, index) => stepBetween(radius, sizes[index] ?? 0, r));
  const arc = steps.reduce((sum, step) => sum + step, 0);
  const first = sizes[0] ?? 0;
  const last = sizes.at(-1) ?? 0;
  const closes = sizes.length > 2 && arc + stepBetween(radius, last, first) > 2 * Math.PI;
  if (steps.some(Number.isNaN) || closes || arc > 2 * Math.PI) {
    return spreadOver(sizes.length, radius).map((disc, index) => ({ ...disc, r: Math.min(disc.r, sizes[index] ?? 0) }));
  }
  // From the left of the lowest point to its right; y grows downward.
  let angle = Math.PI / 2 + arc / 2;
  return sizes.map((r, index) => {
    if (index > 0) angle -= steps[index - 1] ?? 0;
    const at = radius - r;
    return { x: at * Math.cos(angle), y: at * Math.sin(angle), r };
  });
}

/** Angle between two discs that touch each other and the wall; NaN where they can't both touch it. */
function stepBetween(radius: number, one: number, other: number): number {
  const [a, b, c] = [radius - one, radius - other, one + other];
  if (a <= 0 || b <= 0) return Number.NaN;
  return Math.acos((a * a + b * b - c * c) / (2 * a * b));
}
