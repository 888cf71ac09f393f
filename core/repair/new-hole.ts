/**
 * Where the new hole is dug in which both remains of a cut meet: at the cut where both reach it, and else so far to one side
 * of it as the one remain lacks there and the other has to give. What one gains by the shift the other loses, metre for metre.
 */
import { say } from "../words/say.ts";
import { type Course, type Cut, insideAt, type Side } from "./course.ts";
import type { MendPolicy } from "./plan.ts";
import { type Point, type Remain, stopBefore } from "./remain.ts";

/**
 * What one remain has for a splice at a point; null where another's sheath lies between.
 * @param surely by legs alone that are proven to slide, and coils that are no guess; else by others, where those don't suffice
 */
export type Reach = (side: Side, point: Point, hole_m: number, surely?: boolean) => Remain | null;

export interface Dug {
  /** Metre of way. */
  readonly hole_m: number;
  readonly left: Remain | null;
  readonly right: Remain | null;
}

/** Why no hole can be dug for a cut, in words; null where one can. A leg's own reason goes before the policy's. */
export function noHoleFor(course: Course, cut: Cut, { no_hole = null }: MendPolicy): string | null {
  if (insideAt(course, cut) !== null)
    return no_hole ?? say`it is cut inside a place: no hole is dug where there is one`;
  return course.legs[stopBefore(course, cut)]?.no_hole ?? no_hole;
}

/** Both lie on one leg, strictly between its mouths. */
export const inTheSameLeg = ({ stops }: Course, a_m: number, b_m: number): boolean => {
  const [from_m, to_m] = [Math.min(a_m, b_m), Math.max(a_m, b_m)];
  return !stops.some(({ left_m, through_m }) => from_m <= left_m + through_m && left_m <= to_m);
};

const meet = ({ left, right }: Dug): boolean => left?.short_m === 0 && right?.short_m === 0;
const sure = ({ stops }: Course, { left, right }: Dug): boolean =>
  [left, right].every((one) => !one?.unproven.length && !one?.drawn.some(({ stop }) => stops[stop]?.doubtful));
const lacksOf = ({ left, right }: Dug): readonly [number, number] => [left?.short_m ?? 0, right?.short_m ?? 0];

/**
 * The hole nearest to the cut that both remains reach, by proven legs and coils that are no guess wherever along its leg there
 * is one; where there is none, the one at which they lack least together.
 * @param at what both have at the cut itself
 */
export function holeToMeetIn(course: Course, cut: Cut, at: Dug, reach: Reach): Dug {
  // Where both lack, whatever helps the one is the other's loss.
  if (meet(at) ? sure(course, at) : Math.min(...lacksOf(at)) > 0) return at;
  const dugAt = (hole_m: number, surely = false): Dug => ({
    hole_m,
    left: reach("left", "cut", hole_m, surely),
    right: reach("right", "cut", hole_m, surely),
  });
  const surely = shifted(course, cut, dugAt(cut.at_m, true), (hole_m) => dugAt(hole_m, true));
  // What reaches there by all there is draws on no more than that.
  if (surely) return dugAt(surely.hole_m);
  return meet(at) ? at : (shifted(course, cut, at, dugAt) ?? nearestMiss(course, cut, at, dugAt));
}

/** So far towards the one that lacks, and no farther; null where that serves not both. */
function shifted(course: Course, cut: Cut, at: Dug, dugAt: (hole_m: number) => Dug): Dug | null {
  if (meet(at)) return at;
  const [left_m, right_m] = lacksOf(at);
  if (Math.min(left_m, right_m) > 0) return null;
  const towards = left_m > 0 ? -1 : 1;
  const lacks_m = left_m + right_m;
  // A tenth of a metre is what is read from a tape; to the millimetre only where no more is to give.
  for (const shift_m of [Math.ceil(lacks_m * 10 - 1e-6) / 10, lacks_m]) {
    const hole_m = cut.at_m + towards * shift_m;
    const dug = inTheSameLeg(course, cut.at_m, hole_m) ? dugAt(hole_m) : null;
    if (dug && meet(dug)) return dug;
  }
  return null;
}

/** As far towards the one that lacks as the other gives. */
function nearestMiss(course: Course, cut: Cut, at: Dug, dugAt: (hole_m: number) => Dug): Dug {
  const [left_m, right_m] = lacksOf(at);
  const towards = left_m > 0 ? -1 : 1;
  const far = dugAt(cut.at_m + towards * (left_m + right_m));
  const gives_m = left_m + right_m - ((left_m > 0 ? far.right : far.left)?.short_m ?? 0);
  const hole_m = cut.at_m + towards * gives_m;
  return gives_m > 0 && inTheSameLeg(course, cut.at_m, hole_m) ? dugAt(hole_m) : at;
}
