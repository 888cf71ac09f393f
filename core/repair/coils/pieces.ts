/** A cable's way cut into pieces: while a cut stays in one, what can reach it changes evenly. */
import type { Course } from "../course.ts";
import { noHoleFor } from "../new-hole.ts";
import { type MendPolicy, unusable } from "../plans.ts";
import { type Point, stopBefore } from "../remain.ts";
import { bothWays, leftSupply, rightSupply, type Slides, type Supply } from "./supply.ts";

/** Metres lost on each side of every cut that is asked for. */
export interface Lost {
  readonly left_m: number;
  readonly right_m: number;
}

/** A splice at a point, for any cut in the piece. */
export interface Option {
  readonly point: Point;
  readonly left: Supply;
  readonly right: Supply;
  /** Of a new hole the leg it is dug on, anywhere between its mouths; null where the splice has its place. */
  readonly leg: Leg | null;
}

export interface Leg {
  readonly from_m: number;
  readonly to_m: number;
}

export interface Piece {
  readonly from_m: number;
  readonly to_m: number;
  /** Stops whose coil the cut destroys, because it reaches the middle of the hole. */
  readonly gone: ReadonlySet<number>;
  /** Null where the cut takes an end, an opening or a clamped stop with it: that is another repair. */
  readonly options: readonly Option[] | null;
}

/** Shorter pieces come of rounding. */
const LEAST_M = 1e-6;

/** The pieces of the whole way in order, without gaps. */
export function piecesOf(course: Course, lost: Lost, policy: MendPolicy, slides: Slides): Piece[] {
  const { stops } = course;
  const [first] = stops;
  const last = stops.at(-1);
  if (!first || !last || stops.length < 2) return [];
  const [begin_m, end_m] = [first.left_m + first.through_m, last.left_m];
  const breaks = stops.flatMap(({ left_m, through_m }) => {
    const [right_m, middle_m] = [left_m + through_m, left_m + through_m / 2];
    const mouths = [left_m, right_m].flatMap((mouth_m) => [mouth_m, mouth_m + lost.left_m, mouth_m - lost.right_m]);
    return [...mouths, middle_m + lost.left_m, middle_m - lost.right_m];
  });
  const within = breaks.filter((at) => at > begin_m && at < end_m);
  const edges = [...new Set([begin_m, ...within, end_m])].sort((a, b) => a - b);
  const ways = bothWays(course);
  const usable = [...stops.keys()].filter((at) => unusable(course, at, policy) === null);
  return edges.slice(1).flatMap((to_m, index): Piece[] => {
    const from_m = edges[index] as number;
    if (to_m - from_m < LEAST_M) return [];
    const cut = { at_m: (from_m + to_m) / 2, lost_left_m: lost.left_m, lost_right_m: lost.right_m };
    const [a, b] = [cut.at_m - lost.left_m, cut.at_m + lost.right_m];
    const gone = new Set<number>();
    let other = a < begin_m || b > end_m;
    for (const [at, { kind, left_m, through_m, held }] of stops.entries()) {
      if (kind === "end") continue;
      const middle_m = left_m + through_m / 2;
      if (kind === "passing" && !held && a <= middle_m && middle_m <= b) gone.add(at);
      if ((kind !== "passing" || held) && a < left_m + through_m && b > left_m) other = true;
    }
    if (other) return [{ from_m, to_m, gone, options: null }];
    const leg = legAt(course, stopBefore(course, cut));
    const points: readonly Point[] = noHoleFor(course, cut, policy) === null ? ["cut", ...usable] : usable;
    const options = points.flatMap((point): Option[] => {
      const left = leftSupply(course, cut, point, slides);
      const right = left && rightSupply(ways, cut, point, slides);
      if (!left || !right) return [];
      return [{ point, left: without(left, gone), right: without(right, gone), leg: point === "cut" ? leg : null }];
    });
    return [{ from_m, to_m, gone, options }];
  });
}

function legAt({ stops }: Course, before: number): Leg {
  const [a, b] = [stops[before], stops[before + 1]];
  return { from_m: (a?.left_m ?? 0) + (a?.through_m ?? 0), to_m: b?.left_m ?? 0 };
}

function without(supply: Supply, gone: ReadonlySet<number>): Supply {
  if (gone.size === 0) return supply;
  const there = (stop: number): boolean => !gone.has(stop);
  return { ...supply, whole: supply.whole.filter(there), spare: supply.spare.filter(there) };
}
