/** The loop in which a sheath is opened at a place it passes while strands in it shine on, and what neighbours lend it. */
import type { Course, CourseStop } from "./course.ts";
import { type Lent, lend, lendable } from "./lend.ts";

export interface LoopPolicy {
  /** Sheath that is opened in a loop. */
  readonly window_m: number;
  /** The part of a splice's work that is no reach but sheath taken off. */
  readonly preparation_m: number;
}

/** The loop in which a sheath is opened at a place it passes, with strands in it that stay whole. */
export interface PointLoop {
  readonly needs_m: number;
  readonly window_m: number;
  /** What lies there, crossing and coil; null where nobody knows what is coiled. */
  readonly lies_m: number | null;
  /** All that neighbours could lend, over legs that may slide. */
  readonly lends_m: number;
  /** What they do lend; nothing where the loop would not come out by it either. */
  readonly lent: readonly Lent[];
  /** What it lacks with all that is lent; 0 where it comes out. */
  readonly lack_m: number;
  /**
   * `to_prove`: by pulls that nobody has proven; `in_place`: it stays where it lies, and is opened there if at all; `opened`:
   * in the window that is there, in its case.
   */
  readonly reaches: "yes" | "to_prove" | "unknown" | "in_place" | "opened";
  /** Legs that must slide and are not proven to, and coils that may help and that nobody knows. */
  readonly unproven: readonly number[];
  readonly unknown: readonly number[];
}

/** What comes out of a place as a loop, with what neighbours lend. */
export function loopAt(course: Course, at: number, { window_m, preparation_m }: LoopPolicy): PointLoop {
  const stop = course.stops[at] as CourseStop;
  const needs_m = window_m + 2 * Math.max(0, stop.work_m - preparation_m);
  const lies_m = stop.coil_left_m === null ? null : stop.through_m + stop.coil_left_m;
  // What is known of it only in part is a lower bound.
  const lack_m = Math.max(0, needs_m - (lies_m ?? stop.through_m));
  const lends_m = lack_m > 0 ? lendable(course, at) : 0;
  const lending = lend(course, at, lack_m);
  const out = lending.short_m === 0;
  const reaches = out ? (lending.unproven.length > 0 ? "to_prove" : "yes") : lies_m === null ? "unknown" : "in_place";
  return {
    needs_m,
    window_m: out || lies_m === null ? window_m : Math.min(window_m, lies_m),
    lies_m,
    lends_m,
    lent: out ? lending.lent : [],
    lack_m: lending.short_m,
    reaches,
    unproven: out ? lending.unproven : [],
    unknown: out ? [] : lending.unknown,
  };
}

/** A place where the sheath is opened already: the dark strands are taken out in that window, and nothing of it is moved. */
export const openedAlready = ({ window_m = 0 }: CourseStop): PointLoop => ({
  ...{ needs_m: 0, window_m, lies_m: null, lends_m: 0, lent: [], lack_m: 0 },
  ...{ reaches: "opened", unproven: [], unknown: [] },
});

/** The dark strands come out there, by what is proven or may be: the sheath isn't opened where it lies. */
export const comesOut = ({ reaches }: Pick<PointLoop, "reaches">): boolean =>
  reaches === "yes" || reaches === "to_prove" || reaches === "opened";
