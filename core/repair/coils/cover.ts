/** Where a cut can be mended with the coils there are, as exact stretches of the way. */
import type { Course } from "../course.ts";
import type { Option, Piece } from "./pieces.ts";
import type { Supply } from "./supply.ts";

/** What is coiled at each stop for the remain on each side; where nobody knows, what is to stand for it. */
export interface Coils {
  readonly left: readonly number[];
  readonly right: readonly number[];
  readonly keep: readonly number[];
  /** The longest coil each stop is to hold; never below what is there. */
  readonly most: readonly number[];
}

export const coilsOf = ({ stops }: Course, unknown_m: number): Coils => ({
  left: stops.map(({ coil_right_m }) => coil_right_m ?? unknown_m),
  right: stops.map(({ coil_left_m }) => coil_left_m ?? unknown_m),
  keep: stops.map(({ keep_m }) => keep_m),
  most: stops.map(({ coil_most_m = Number.POSITIVE_INFINITY, coil_left_m, coil_right_m }) =>
    Math.max(coil_most_m, coil_left_m ?? 0, coil_right_m ?? 0),
  ),
});

/** Some stops hold as much as they are to: every coil of theirs that may grow does. */
export function filledUp(coils: Coils, fills: (stop: number) => boolean): Coils {
  const up = (own: readonly number[]): number[] =>
    own.map((length, at) => (fills(at) ? length + roomLeft(coils, at) : length));
  return { ...coils, left: up(coils.left), right: up(coils.right) };
}

/** Metres that a stop may hold more. */
export const roomLeft = ({ left, right, most }: Coils, stop: number): number =>
  (most[stop] ?? 0) - Math.max(left[stop] ?? 0, right[stop] ?? 0);

export interface Stretch {
  readonly from_m: number;
  readonly to_m: number;
}

/** As in `../remain.ts`: below half a millimetre a length is nothing. */
const NOTHING_M = 0.0005;
/** Shorter stretches come of rounding. */
export const LEAST_M = 1e-6;

/** Metres at hand beyond what the splice takes, where the cut is at metre 0 of the way. */
export function marginAt0(
  { fixed_m, whole, spare }: Supply,
  coils: readonly number[],
  keep: readonly number[],
): number {
  let sum = fixed_m;
  for (const stop of whole) sum += coils[stop] ?? 0;
  for (const stop of spare) sum += Math.max(0, (coils[stop] ?? 0) - (keep[stop] ?? 0));
  return sum;
}

/**
 * The least that both remains must have at hand together, each where the cut is at metre 0. A new hole may be dug anywhere on
 * its leg: what the one gains by a shift the other loses. Elsewhere each reaches by itself or not.
 */
export const apartOf = ({ left, right, leg }: Option): number => {
  if (leg === null) return Number.NEGATIVE_INFINITY;
  return left.stuck || right.stuck ? Number.POSITIVE_INFINITY : leg.to_m - leg.from_m;
};

const NOWHERE: Stretch = { from_m: Number.POSITIVE_INFINITY, to_m: Number.NEGATIVE_INFINITY };

/** The cuts that an option serves, however far they are from the piece. */
export function servedBy(option: Option, coils: Coils, nothing_m = NOTHING_M): Stretch {
  const { left, right } = option;
  const a = marginAt0(left, coils.left, coils.keep) + nothing_m;
  const b = marginAt0(right, coils.right, coils.keep) + nothing_m;
  const apart_m = apartOf(option);
  // Of a coil that nobody knows more than enough is taken: it makes nothing slide.
  if (apart_m === Number.POSITIVE_INFINITY || a + b < apart_m) return NOWHERE;
  return {
    from_m: left.slope === 0 ? (a >= 0 ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY) : -a,
    to_m: right.slope === 0 ? (b >= 0 ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY) : b,
  };
}

/** The stretches in order that some of them leave open between two metres. */
export function gapsIn({ from_m, to_m }: Stretch, served: readonly Stretch[]): Stretch[] {
  const gaps: Stretch[] = [];
  let at_m = from_m;
  for (const one of served.toSorted((a, b) => a.from_m - b.from_m)) {
    if (one.to_m <= at_m || one.to_m < one.from_m) continue;
    if (one.from_m >= to_m) break;
    if (one.from_m - at_m > LEAST_M) gaps.push({ from_m: at_m, to_m: one.from_m });
    at_m = Math.max(at_m, one.to_m);
  }
  if (to_m - at_m > LEAST_M) gaps.push({ from_m: at_m, to_m });
  return gaps;
}

/** Where a cut in the piece can't be mended; nothing where it is another repair. */
export const openIn = (piece: Piece, coils: Coils): Stretch[] =>
  piece.options === null
    ? []
    : gapsIn(
        piece,
        piece.options.map((option) => servedBy(option, coils)),
      );
