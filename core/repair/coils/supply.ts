/**
 * What a remain has for a splice at a point, as a sum that can be solved: metres that don't depend on coils, and the coils
 * that count, each whole or above what must stay. `../remain.ts` answers the same for one cut and one set of coils.
 */
import { type Course, type CourseStop, type Cut, mirrored, mirroredCut } from "../course.ts";
import { hasCoil, isHeld, measuredFrom, newHoleWork, type Point, stopBefore } from "../remain.ts";

export type Slides = (leg: Course["legs"][number]) => boolean;
export const PROVEN: Slides = ({ slides }) => slides === "yes";
export const PERHAPS: Slides = ({ slides }) => slides !== "no";

/** The sum for cuts near one place: it holds while the cut passes no mouth and no middle of a hole. */
export interface Supply {
  /** Sheath at hand less what the splice takes: `fixed_m + slope × metre of the cut`. */
  readonly fixed_m: number;
  readonly slope: -1 | 0 | 1;
  /** Stops whose coil counts in full, by their place in the course. */
  readonly whole: readonly number[];
  /** Stops whose coil counts above what must stay. */
  readonly spare: readonly number[];
  /** Nothing slides up to a new hole on the leg, wherever it is dug: the splice can't be made. */
  readonly stuck?: true;
}

/**
 * For the remain on the side of the first stop. Null where the point is ruled out. For a new hole, which may be dug anywhere
 * on the leg, it is what would be at hand in one at the leg's first mouth.
 */
export function leftSupply(course: Course, cut: Cut, point: Point, slides: Slides): Supply | null {
  const { stops, legs } = course;
  const tip_m = cut.at_m - cut.lost_left_m;
  const passes = (leg: number): boolean => {
    const own = legs[leg];
    return own !== undefined && slides(own);
  };
  const whole: number[] = [];
  const spare: number[] = [];
  let slope: Supply["slope"] = 0;
  let outward = before(stops, tip_m);
  let reaches = true;
  const leg = stopBefore(course, cut);
  let fixed_m = -(point === "cut" ? newHoleWork(course, cut) : (stops[point]?.work_m ?? 0));
  const upToTip = (from_m: number): void => {
    slope = 1;
    fixed_m -= cut.lost_left_m + from_m;
  };
  // Beside a case or a panel the sheath is measured from there, and only its near coil is at hand.
  const held = isHeld(course, point);
  const mouth_m = point === "cut" ? mouthBeyond(stops[leg]) : measuredFrom(course, point);
  if (point === "cut" || mouth_m >= tip_m) {
    upToTip(mouth_m);
    // On its way to a hole beyond the cut the sheath is pulled through every leg up to it.
    const upTo = point === "cut" ? leg + 1 : point;
    for (let own = outward + 1; own < upTo; own++) reaches = passes(own) && reaches;
  } else {
    outward = held ? -1 : point - 1;
    let stuck = false;
    for (let index = point; index < stops.length; index++) {
      const stop = stops[index] as CourseStop;
      if (stop.left_m >= tip_m) break;
      if (index > point && stop.kind !== "passing") return null;
      stuck ||= index > point && stop.held;
      if (stuck) continue;
      if (hasCoil(stop, tip_m)) whole.push(index);
      const from_m = index === point ? mouth_m : stop.left_m;
      const out_m = stop.left_m + stop.through_m;
      if (out_m >= tip_m) {
        upToTip(from_m);
        continue;
      }
      fixed_m += out_m - from_m;
      const next_m = stops[index + 1]?.left_m ?? Number.POSITIVE_INFINITY;
      if (!passes(index)) stuck = true;
      else if (next_m < tip_m) fixed_m += next_m - out_m;
      else upToTip(out_m);
    }
  }
  for (let index = outward; reaches && index >= 0 && passes(index); index--) {
    const stop = stops[index] as CourseStop;
    if (hasCoil(stop, tip_m)) spare.push(index);
    if (stop.held || stop.kind !== "passing") break;
  }
  const stuck = point === "cut" && !(reaches && passes(leg));
  return { fixed_m, slope, whole, spare, ...(stuck ? { stuck } : {}) };
}

const mouthBeyond = (stop: CourseStop | undefined): number => (stop?.left_m ?? 0) + (stop?.through_m ?? 0);

function before(stops: readonly CourseStop[], tip_m: number): number {
  let last = 0;
  for (const [index, stop] of stops.entries()) if (stop.left_m < tip_m) last = index;
  return last;
}

/** A course and the same turned about, so that it is turned once. */
export interface BothWays {
  readonly course: Course;
  readonly turned: Course;
}

export const bothWays = (course: Course): BothWays => ({ course, turned: mirrored(course) });

/** For the remain on the side of the last stop. */
export function rightSupply({ course, turned }: BothWays, cut: Cut, point: Point, slides: Slides): Supply | null {
  const last = course.stops.length - 1;
  const there = point === "cut" ? point : last - point;
  const found = leftSupply(turned, mirroredCut(course, cut), there, slides);
  if (!found) return null;
  const end = course.stops[last];
  const end_m = (end?.left_m ?? 0) + (end?.through_m ?? 0);
  return {
    ...found,
    fixed_m: found.fixed_m + found.slope * end_m,
    slope: found.slope === 0 ? 0 : -1,
    whole: found.whole.map((stop) => last - stop),
    spare: found.spare.map((stop) => last - stop),
  };
}
