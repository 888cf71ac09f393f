/**
 * What one remain of a cut cable has for a splice at a point: its stump, what it lacks there, and the coils that make up
 * for it. Written for the remain on the side of the first stop; the other is the same of the mirrored course.
 */
import type { Course, CourseStop, Cut } from "./course.ts";

/** A stop by its place in the course, or a new hole dug for the cut, at it or beside it on the same leg. */
export type Point = number | "cut";

export interface Drawn {
  /** Place of the stop in the course. */
  readonly stop: number;
  readonly pulled_m: number;
  readonly left_m: number;
}

export interface Remain {
  /** Sheath from the point's mouth to the end of the stump, once what can come back has come back. */
  readonly stump_m: number;
  /** What is cut off: what can't come back, where it lies; and what is more than is kept. */
  readonly trimmed_m: number;
  /** The part of it that is more than the splice takes and the place keeps as a coil. */
  readonly over_m: number;
  /** The part of it that nothing is known to hold: it is cut off because the splice reaches without it. */
  readonly needless_m?: number;
  /** What is wanted beyond the stump; 0 or less is surplus, which is never lent to the other side. */
  readonly lack_m: number;
  readonly drawn: readonly Drawn[];
  /** What is still lacking when all is drawn; 0 where the remain reaches. */
  readonly short_m: number;
  /** Legs that must slide and are not proven to, by their place in the course. */
  readonly unproven: readonly number[];
  /** Coils that may help and that nobody knows, by the stop's place. */
  readonly unknown: readonly number[];
  /** Sheath is pulled across the break: that waits for the pipe. */
  readonly across: boolean;
}

/** Below this a length is nothing: half a millimetre. */
const NOTHING_M = 0.0005;

/** The coil hangs in the middle of a place: in one that is cut it is of the remain that has the middle, and of no other. */
export const hasCoil = (stop: CourseStop, tip_m: number): boolean => stop.left_m + stop.through_m / 2 < tip_m;
const coilOf = (stop: CourseStop, tip_m: number): number => (hasCoil(stop, tip_m) ? (stop.coil_right_m ?? 0) : 0);
const gives = (stop: CourseStop, tip_m: number): number => Math.max(0, coilOf(stop, tip_m) - stop.keep_m);

/** The last stop before the cut, and so the leg in which it is cut; in a place it passes, that place. */
export function stopBefore({ stops }: Course, cut: Cut): number {
  let before = 0;
  for (const [index, stop] of stops.entries()) if (stop.left_m < cut.at_m) before = index;
  return before;
}

/** The sheath stands in a case or at a panel: a splice beside it draws on the coil on its own side alone. */
export const isHeld = ({ stops }: Course, point: Point): boolean =>
  point !== "cut" && stops[point] !== undefined && stops[point].kind !== "passing";

/**
 * Metre of way from which a splice's sheath is measured: the mouth on the side of the first stop, or the case or panel
 * where the sheath is held. A case hangs in the middle of a place.
 */
export function measuredFrom(course: Course, point: number): number {
  const stop = course.stops[point];
  if (!stop) return 0;
  return isHeld(course, point) ? stop.left_m + stop.through_m / 2 : stop.left_m;
}

/**
 * The remain on the side of the first stop, for a splice at `point`, where the legs named may slide. Null where a stop
 * between the point and the cut is opened or severed: beyond it the sheath is another's.
 * @param hole_m metre of way of a new hole; just at the cut where it is left out
 */
export function leftRemain(
  course: Course,
  cut: Cut,
  point: Point,
  slides: (leg: number) => boolean,
  hole_m: number = cut.at_m,
): Remain | null {
  const { stops, legs } = course;
  const tip_m = cut.at_m - cut.lost_left_m;
  const work_m = point === "cut" ? newHoleWork(course, cut) : (stops[point]?.work_m ?? 0);
  const mouth_m = point === "cut" ? hole_m : measuredFrom(course, point);
  const held = isHeld(course, point);
  const unproven = new Set<number>();
  const unknown = new Set<number>();
  const passes = (leg: number): boolean => {
    if (!slides(leg)) return false;
    if (legs[leg]?.slides === "unproven") unproven.add(leg);
    return true;
  };

  let stump_m = 0;
  let trimmed_m = 0;
  let needless_m = 0;
  // Outward from here coils are drawn, through the leg that leads to the point.
  let outward: number;
  let reaches = true;
  if (mouth_m < tip_m && point !== "cut") {
    // The stump reaches beyond the point: what lies between comes back as far as it can. Past a case nothing is drawn.
    outward = held ? -1 : point - 1;
    let stuck = false;
    let needless = false;
    for (let index = point; index < stops.length; index++) {
      const stop = stops[index] as CourseStop;
      if (stop.left_m >= tip_m) break;
      if (index > point && (stop.kind === "opened" || stop.kind === "severed" || stop.kind === "end")) return null;
      if (index > point && stop.held) {
        stuck = true;
        needless = false;
      }
      const from_m = index === point ? mouth_m : stop.left_m;
      const inside = Math.min(stop.left_m + stop.through_m, tip_m) - from_m + coilOf(stop, tip_m);
      const next = stops[index + 1]?.left_m ?? tip_m;
      const beyond = Math.max(0, Math.min(next, tip_m) - (stop.left_m + stop.through_m));
      if (stop.coil_right_m === null && hasCoil(stop, tip_m)) unknown.add(index);
      if (stuck) {
        trimmed_m += inside + beyond;
        if (needless) needless_m += inside + beyond;
      } else {
        stump_m += inside;
        if (beyond > 0) {
          // What is beyond the mouth comes back through this leg, or is cut off at the mouth.
          const wanted = stump_m < work_m;
          if (wanted && passes(index)) stump_m += beyond;
          else {
            stuck = true;
            needless = !wanted || legs[index]?.slides !== "no";
            trimmed_m += beyond;
            if (needless) needless_m += beyond;
          }
        }
      }
    }
  } else {
    outward = lastBefore(stops, tip_m);
    stump_m = tip_m - mouth_m;
    // A hole dug before the broken end: what lies in the way beyond it comes back, or is cut off.
    if (stump_m > 0 && !passes(outward)) {
      trimmed_m = stump_m;
      if (legs[outward]?.slides !== "no") needless_m = trimmed_m;
      stump_m = 0;
    }
    // On its way to a hole beyond the cut the sheath is pulled through every leg up to it, the one it is dug on included.
    const upTo = point === "cut" ? lastBefore(stops, mouth_m) + 1 : point;
    for (let leg = outward + 1; leg < upTo; leg++) reaches = passes(leg) && reaches;
  }
  let lack_m = work_m - stump_m;
  const drawn: Drawn[] = [];
  let short_m = Math.max(0, lack_m);
  for (let index = outward; reaches && index >= 0 && short_m > NOTHING_M; index--) {
    const stop = stops[index];
    if (!stop || !passes(index)) break;
    if (stop.coil_right_m === null && hasCoil(stop, tip_m)) unknown.add(index);
    const pulled_m = Math.min(short_m, gives(stop, tip_m));
    if (pulled_m > NOTHING_M) {
      drawn.push({ stop: index, pulled_m, left_m: coilOf(stop, tip_m) - pulled_m });
      short_m -= pulled_m;
    }
    if (stop.held || stop.kind !== "passing") break;
  }
  if (short_m <= NOTHING_M) short_m = 0;
  if (Math.abs(lack_m) <= NOTHING_M) lack_m = 0;
  // A leg that was asked and through which nothing came proves nothing.
  const used = usedLegs(drawn, outward);
  const dug = point === "cut" && stump_m > 0;
  return {
    stump_m,
    trimmed_m,
    needless_m,
    over_m: 0,
    lack_m,
    drawn,
    short_m,
    unproven: [...unproven]
      .filter((leg) => leg > outward || used.has(leg) || (leg === outward && dug))
      .sort((a, b) => a - b),
    unknown: [...unknown].sort((a, b) => a - b),
    // In a hole dug at the cut the ends meet in the open; to one beyond what is destroyed the sheath is pulled as well.
    across: mouth_m > (point === "cut" ? cut.at_m + cut.lost_right_m + NOTHING_M : tip_m) && drawn.length > 0,
  };
}

/** The legs that drawn sheath slides through. */
function usedLegs(drawn: readonly Drawn[], outward: number): ReadonlySet<number> {
  const farthest = Math.min(outward + 1, ...drawn.map(({ stop }) => stop));
  return new Set(Array.from({ length: Math.max(0, outward - farthest + 1) }, (_, index) => farthest + index));
}

function lastBefore(stops: readonly CourseStop[], tip_m: number): number {
  let last = 0;
  for (const [index, stop] of stops.entries()) if (stop.left_m < tip_m) last = index;
  return last;
}

/** A new hole takes as much as the larger of its neighbours: nobody knows it before it is dug. */
export function newHoleWork(course: Course, cut: Cut): number {
  const before = stopBefore(course, cut);
  return Math.max(course.stops[before]?.work_m ?? 0, course.stops[before + 1]?.work_m ?? 0);
}
