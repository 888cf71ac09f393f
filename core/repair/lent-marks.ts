/** What mouths and coils say once neighbours of an opening have lent it sheath. */
import { type MarkBreak, markAlong } from "../model/marks.ts";
import { type LengthUnit, metresAs } from "../model/units.ts";
import type { Lent } from "./lend.ts";
import type { CourseOnRecord } from "./read-course.ts";

export interface MarksOnRecord {
  readonly printed: readonly (number | null)[];
  readonly breaks: readonly MarkBreak[];
}

/** What a stop's mouths say once sheath has been pulled. */
export interface MovedStop {
  /** Place of the stop in the course. */
  readonly at: number;
  readonly mark_in: number | null;
  readonly mark_out: number | null;
  /** What is coiled there, where it is on record by itself and not by marks; null where nothing is to be said. */
  readonly slack_m: number | null;
}

/** Marks at mouths that see other sheath after the pulls: at the stops that lend, those between, and at the opening. */
export function movedStops(on: CourseOnRecord, at: number, lent: readonly Lent[], marks: MarksOnRecord): MovedStop[] {
  if (lent.length === 0) return [];
  const pulledAt = (stop: number): number => lent.find((one) => one.stop === stop)?.pulled_m ?? 0;
  const outermost = [Math.min(at, ...lent.map(({ stop }) => stop)), Math.max(at, ...lent.map(({ stop }) => stop))];
  const moved: MovedStop[] = [];
  for (let stop = outermost[0] as number; stop <= (outermost[1] as number); stop += 1) {
    const sum = (from: number, to: number): number => {
      let all = 0;
      for (let one = from; one <= to; one += 1) if (one !== at) all += pulledAt(one);
      return all;
    };
    // Sheath moves towards the opening: past the mouths before it, earlier sheath is seen, past those beyond, later.
    const [in_m, out_m] =
      stop < at
        ? [-sum(0, stop - 1), -sum(0, stop)]
        : stop > at
          ? [sum(stop, on.stops.length - 1), sum(stop + 1, on.stops.length - 1)]
          : [-sum(0, at - 1), sum(at + 1, on.stops.length - 1)];
    const own = on.stops[stop];
    const told = (mouth: { readonly along_m: number } | null | undefined, by_m: number): number | null =>
      mouth && by_m !== 0 ? printed(on, marks, mouth.along_m + by_m) : null;
    const change = stop === at ? sum(0, on.stops.length - 1) : -pulledAt(stop);
    const coil_m = on.course.stops[stop]?.coil_left_m ?? null;
    moved.push({
      at: stop,
      mark_in: told(own?.in, in_m),
      mark_out: told(own?.out, out_m),
      slack_m: own?.in && own.out ? null : change === 0 || coil_m === null ? null : toCentimetre(coil_m + change),
    });
  }
  return moved;
}

const toCentimetre = (value: number): number => Math.round(value * 100) / 100;

/** A position along the sheath as the mark printed there. */
export function printed(on: CourseOnRecord, { printed: all, breaks }: MarksOnRecord, along_m: number): number | null {
  if (on.unit === null) return null;
  return Math.round(markAlong(metresAs(along_m, on.unit), all, breaks) * 10) / 10;
}

export interface Edges {
  readonly from_m: number;
  readonly to_m: number;
  /** The mouths before anything is pulled. */
  readonly in_m: number;
  readonly out_m: number;
}

/** A window in the middle of the loop, pulled sheath included; null where marks don't say, or the loop is too short. */
export function edgesOf(on: CourseOnRecord, at: number, lent: readonly Lent[], window_m: number): Edges | null {
  const own = on.stops[at];
  if (!own?.in || !own.out || on.unit === null) return null;
  const sum = (side: (stop: number) => boolean): number =>
    lent.reduce((all, { stop, pulled_m }) => (side(stop) ? all + pulled_m : all), 0);
  const [in_m, out_m] = [own.in.along_m, own.out.along_m];
  const [from_m, to_m] = [in_m - sum((stop) => stop < at), out_m + sum((stop) => stop > at)];
  const middle = (from_m + to_m) / 2;
  if (to_m - from_m < window_m) return null;
  return { from_m: middle - window_m / 2, to_m: middle + window_m / 2, in_m, out_m };
}

/** What the sheath says at the edges of the window. */
export function windowMarks(
  on: CourseOnRecord,
  at: number,
  lent: readonly Lent[],
  window_m: number,
  marks: MarksOnRecord,
): { readonly from: number; readonly to: number; readonly unit: LengthUnit } | null {
  const edges = edgesOf(on, at, lent, window_m);
  if (!edges || on.unit === null) return null;
  const [from, to] = [printed(on, marks, edges.from_m), printed(on, marks, edges.to_m)];
  return from === null || to === null ? null : { from, to, unit: on.unit };
}
