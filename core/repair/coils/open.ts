/** Where a cable could not be mended from coils: each stretch of its way, why, and what would cure it. */
import type { Course } from "../course.ts";
import type { MendPolicy } from "../plans.ts";
import type { Point } from "../remain.ts";
import { apartOf, coilsOf, gapsIn, marginAt0, openIn, type Stretch } from "./cover.ts";
import { demandsOf } from "./demands.ts";
import { type NearlySet, nearlySet } from "./nearly.ts";
import { type Leg, type Lost, type Piece, piecesOf } from "./pieces.ts";
import { type SmallestSet, smallestSet } from "./smallest.ts";
import { PERHAPS, PROVEN } from "./supply.ts";

/**
 * `lacks`: no splice reaches, even if every leg slid that nobody has proven. `to_prove`: one would, by legs that nobody has
 * proven. `untold`: it hangs on coils that nobody knows.
 */
export type OpenState = "lacks" | "to_prove" | "untold";

export interface OpenStretch extends Stretch {
  readonly state: OpenState;
  /** Of what lacks: more coil would cure it, by proven legs, or once others are proven; null where no coil would. */
  readonly by_coils: "proven" | "once_proven" | null;
  /** Coil would, were it longer than the places are to hold. */
  readonly too_long: boolean;
  /** In its middle: the splice that lacks least, by proven legs or those that may slide; null where none is possible. */
  readonly nearest: Nearest | null;
}

export interface Nearest {
  readonly at: Point;
  /** Metre of way of a new hole; null at a stop. */
  readonly hole_m: number | null;
  readonly short_left_m: number;
  readonly short_right_m: number;
}

export interface OpenCourse {
  readonly stretches: readonly OpenStretch[];
  /** Metres of way at which a cut was asked for. */
  readonly asked_m: number;
  /** The rest: a cut there takes an end, an opening or a clamped stop with it. */
  readonly other_m: number;
  readonly proven: SmallestSet;
  /** The same where every leg slides that nobody has proven not to; null where that is no better. */
  readonly once_proven: SmallestSet | null;
  /** What it would take could places hold any length; null where that cures no more. */
  readonly unbounded: SmallestSet | null;
  /** Fewer coils that cure nearly as much as those of either set: worked out when it is asked. */
  nearly(once_proven: boolean): NearlySet | null;
}

const UNKNOWN_M = Number.POSITIVE_INFINITY;

export function openCourse(course: Course, lost: Lost, policy: MendPolicy): OpenCourse {
  const proven = piecesOf(course, lost, policy, PROVEN);
  const doubtful = course.legs.some(({ slides, slides_back }) => slides === "unproven" || slides_back === "unproven");
  const perhaps = doubtful ? piecesOf(course, lost, policy, PERHAPS) : proven;
  const [now, known] = [coilsOf(course, 0), coilsOf(course, UNKNOWN_M)];
  const best = smallestSet(course, proven);
  const later = doubtful ? smallestSet(course, perhaps) : best;

  const length = (list: readonly Stretch[]): number => list.reduce((sum, one) => sum + one.to_m - one.from_m, 0);
  const free = unbound(course);
  const boundless = free && best.barred.length > 0 ? smallestSet(free, proven) : null;
  const unbounded = boundless && length(boundless.barred) < length(best.barred) - 0.001 ? boundless : null;

  const raw: OpenStretch[] = [];
  for (const [index, piece] of proven.entries()) {
    const other = perhaps[index] as Piece;
    const open = openIn(piece, now);
    const lists: [Stretch[], OpenState][] = [
      [openIn(piece, known), "untold"],
      [openIn(other, now), "to_prove"],
    ];
    let parts: { stretch: Stretch; state: OpenState }[] = open.map((stretch) => ({ stretch, state: "lacks" }));
    // What is no longer open when more is known or proven is told by that, the surer first.
    for (const [still, state] of lists) {
      parts = parts.flatMap((part) => (part.state === "lacks" ? split(part.stretch, still, state) : [part]));
    }
    for (const { stretch, state } of parts) {
      if (state !== "lacks") raw.push({ ...stretch, state, by_coils: null, too_long: false, nearest: null });
      else {
        for (const one of byCure(stretch, best.barred, later.barred)) {
          const longer = one.by_coils === null && unbounded ? gapsIn(one, unbounded.barred) : [];
          for (const part of gapsIn(one, longer)) raw.push({ ...one, ...part, state, too_long: false, nearest: null });
          for (const part of longer) raw.push({ ...one, ...part, state, too_long: true, nearest: null });
        }
      }
    }
  }
  const all_m = length(proven);
  const asked_m = length(proven.filter(({ options }) => options !== null));
  const better = doubtful && length(later.barred) < length(best.barred) - 0.001;
  const stretches = joined(raw.sort((a, b) => a.from_m - b.from_m)).map((one) => ({
    ...one,
    nearest: nearestIn(perhaps, (one.from_m + one.to_m) / 2, now),
  }));
  return {
    stretches,
    asked_m,
    other_m: all_m - asked_m,
    proven: best,
    once_proven: better ? later : null,
    unbounded,
    nearly: (once) => (once ? nearlySet(course, perhaps, later) : nearlySet(course, proven, best)),
  };
}

/** The course were no place bound in what it holds; null where none is. */
function unbound(course: Course): Course | null {
  if (course.stops.every(({ coil_most_m }) => coil_most_m === undefined)) return null;
  const stops = course.stops.map(({ coil_most_m: _, ...stop }) => stop);
  return { ...course, stops };
}

/** The part of a stretch that is still open stays `lacks`; the rest takes the state. */
function split(
  stretch: Stretch,
  still: readonly Stretch[],
  state: OpenState,
): { stretch: Stretch; state: OpenState }[] {
  const closed = gapsIn(stretch, still);
  const open = gapsIn(stretch, closed);
  return [
    ...closed.map((one) => ({ stretch: one, state })),
    ...open.map((one) => ({ stretch: one, state: "lacks" as const })),
  ].sort((a, b) => a.stretch.from_m - b.stretch.from_m);
}

function byCure(
  stretch: Stretch,
  barred: readonly Stretch[],
  later: readonly Stretch[],
): (Stretch & Pick<OpenStretch, "by_coils">)[] {
  const proven = gapsIn(stretch, barred);
  const rest = gapsIn(stretch, proven);
  const once = rest.flatMap((one) => gapsIn(one, later));
  const never = rest.flatMap((one) => gapsIn(one, once));
  return [
    ...proven.map((one) => ({ ...one, by_coils: "proven" as const })),
    ...once.map((one) => ({ ...one, by_coils: "once_proven" as const })),
    ...never.map((one) => ({ ...one, by_coils: null })),
  ].sort((a, b) => a.from_m - b.from_m);
}

function nearestIn(pieces: readonly Piece[], at_m: number, coils: ReturnType<typeof coilsOf>): OpenStretch["nearest"] {
  const piece = pieces.find(({ from_m, to_m }) => from_m <= at_m && at_m <= to_m);
  return piece ? nearestAt(piece, at_m, coils) : null;
}

function nearestAt({ options }: Piece, at_m: number, coils: ReturnType<typeof coilsOf>): OpenStretch["nearest"] {
  let least = Number.POSITIVE_INFINITY;
  let nearest: OpenStretch["nearest"] = null;
  for (const option of options ?? []) {
    const { point, left, right, leg } = option;
    const a_m = marginAt0(left, coils.left, coils.keep) + left.slope * at_m;
    const b_m = marginAt0(right, coils.right, coils.keep) + right.slope * at_m;
    const shift_m = leg && Number.isFinite(apartOf(option)) ? shiftIn(leg, at_m, a_m, b_m) : 0;
    const [mouth_m, other_m] = leg ? [at_m - leg.from_m, leg.to_m - at_m] : [0, 0];
    const short_left_m = Math.max(0, mouth_m + shift_m - a_m);
    const short_right_m = Math.max(0, other_m - shift_m - b_m);
    if (short_left_m + short_right_m >= least) continue;
    least = short_left_m + short_right_m;
    nearest = { at: point, hole_m: leg && at_m + shift_m, short_left_m, short_right_m };
  }
  return nearest;
}

/**
 * How far towards the last stop a new hole is dug: from the cut towards the one that lacks, as far as the other gives.
 * @param a_m at hand of each remain were the hole at the leg's mouth on its side
 */
function shiftIn({ from_m, to_m }: Leg, at_m: number, a_m: number, b_m: number): number {
  const [left_m, right_m] = [a_m - (at_m - from_m), b_m - (to_m - at_m)];
  if (left_m < 0 === right_m < 0) return 0;
  const shift_m = left_m < 0 ? Math.max(left_m, -right_m) : Math.min(left_m, -right_m);
  return Math.min(to_m, Math.max(from_m, at_m + shift_m)) - at_m;
}

/** Neighbours of one kind become one stretch. */
function joined(stretches: readonly OpenStretch[]): OpenStretch[] {
  const found: OpenStretch[] = [];
  for (const one of stretches) {
    const last = found.at(-1);
    const same = last && last.state === one.state && last.by_coils === one.by_coils && last.too_long === one.too_long;
    if (last && same && one.from_m - last.to_m < 0.002) found[found.length - 1] = { ...last, to_m: one.to_m };
    else found.push(one);
  }
  return found;
}

/** What would have to change where no coil cures a stretch. */
export type Instead =
  /** These legs would have to slide, by their place in the course. */
  | { readonly kind: "legs"; readonly legs: readonly number[] }
  /** A hole that holds coil, close to one of these stops on the side of the stretch. */
  | { readonly kind: "hole"; readonly stops: readonly number[] };

/**
 * The legs around a place that would have to slide for coils to cure it, the fewest of up to four and else all; where that
 * is no help either, the stops that hold no coil.
 */
export function insteadOf(course: Course, lost: Lost, policy: MendPolicy, at_m: number): Instead {
  const last = course.legs.length - 1;
  const here = Math.max(
    0,
    course.stops.findLastIndex(({ left_m }) => left_m < at_m),
  );
  const barredAt = (legs: readonly Course["legs"][number][]): boolean => {
    const pieces = piecesOf({ ...course, legs }, lost, policy, PROVEN);
    return demandsOf({ ...course, legs }, pieces).barred.some(({ from_m, to_m }) => from_m <= at_m && at_m <= to_m);
  };
  const sliding = (legs: ReadonlySet<number>) =>
    course.legs.map((leg, at) => (legs.has(at) ? { length_m: leg.length_m, slides: "yes" as const } : leg));
  const tries = [0, 1, 2, 3].filter((wide) => wide < last);
  for (const wide of [...tries, last]) {
    for (let from = Math.max(0, here - wide); from <= here && from + wide <= last; from++) {
      const changed = course.legs.flatMap(({ slides, slides_back = slides }, at) =>
        at >= from && at <= from + wide && (slides !== "yes" || slides_back !== "yes") ? [at] : [],
      );
      if (changed.length > 0 && !barredAt(sliding(new Set(changed)))) return { kind: "legs", legs: changed };
    }
  }
  const stops = [here, here + 1].filter((at) => {
    const stop = course.stops[at];
    return stop !== undefined && (stop.kind === "opened" || stop.kind === "severed" || !stop.usable || stop.held);
  });
  return { kind: "hole", stops: stops.length > 0 ? stops : [here, Math.min(here + 1, course.stops.length - 1)] };
}
