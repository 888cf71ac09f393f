/** Every way to mend a cut cable: one splice point, two with a piece between, or a new cable; the least first. */

import { choiceWords } from "../model/wording.ts";
import { say } from "../words/say.ts";
import { afterCut, type Course, type Cut, cutFault, mirrored, mirroredCut } from "./course.ts";
import { holeToMeetIn, noHoleFor, type Reach } from "./new-hole.ts";
import { newCable, newHoles, notToEnd, type Reached, toEnd, twoPoints } from "./piece-plans.ts";
import { type Mend, type MendPlan, type MendPolicy, type NoPlan, pointOf, pulledOf, restsOn, trimmed } from "./plan.ts";
import { betterBy } from "./rank.ts";
import { leftRemain, type Point, type Remain } from "./remain.ts";
import { noRoom } from "./room.ts";

export type { Mend, MendKind, MendPlan, MendPoint, MendPolicy, NoPlan } from "./plan.ts";

/** Every splice point of a cut, with both remains; refuses nothing: a cut that can't be one has no plans and says why. */
export function mendPlans(whole: Course, cut: Cut, policy: MendPolicy): Mend | string {
  const fault = cutFault(whole, cut);
  if (fault) return say`The cut ${fault}.`;
  const course = afterCut(whole, cut);
  const reach = reachOf(course, cut);
  const { stops } = course;

  const plans: MendPlan[] = [];
  const refused: NoPlan[] = [];
  const reachable: Reached[] = [];
  const no_hole = noHoleFor(course, cut, policy);
  const dug_m = policy.hole_m ?? cut.at_m;
  for (const at of ["cut", ...stops.keys()] as Point[]) {
    const reason = at === "cut" ? no_hole : unusable(course, at, policy);
    if (reason) {
      refused.push({ at, hole_m: null, reason, short_left_m: 0, short_right_m: 0 });
      continue;
    }
    const there = { hole_m: dug_m, left: reach("left", at, dug_m), right: reach("right", at, dug_m) };
    const hole_m = at === "cut" ? dug_m : null;
    if (there.left?.short_m === 0) reachable.push({ side: "left", at, hole_m, remain: there.left });
    if (there.right?.short_m === 0) reachable.push({ side: "right", at, hole_m, remain: there.right });
    const own = at === "cut" && policy.hole_m == null ? holeToMeetIn(course, cut, there, reach) : there;
    const [a, b] = [own.left, own.right];
    const meets_m = at === "cut" ? own.hole_m : null;
    if (a?.short_m === 0 && b?.short_m === 0) plans.push(onePoint(course, cut, at, meets_m, a, b, policy));
    else
      refused.push({
        at,
        hole_m: meets_m,
        reason: a && b ? say`the cable does not reach` : say`between it and the cut the cable is opened`,
        short_left_m: a && b ? a.short_m : 0,
        short_right_m: a && b ? b.short_m : 0,
      });
  }
  if (policy.held_too && !no_hole && policy.hole_m == null) reachable.push(...newHoles(course, cut, reach, reachable));
  plans.push(...twoPoints(course, cut, reachable, policy));
  if (policy.held_too) plans.push(...toEnd(whole, course, cut, reachable, policy));
  // What the cut destroys in a coil is to be there again.
  if (![stops[0], stops.at(-1)].some((end) => end?.kind === "severed" && !end.usable))
    plans.push(newCable(whole, policy));
  const not_to_end = (["left", "right"] as const).flatMap((side) => {
    const reason = policy.held_too ? notToEnd(course, cut, side) : null;
    return reason === null ? [] : [{ side, reason }];
  });
  return { plans: plans.sort(betterBy(policy.ranking)), refused, not_to_end };
}

/** What either remain of a cut has for a splice at a point, by coils that are read before those that are guessed. */
export function reachOf(course: Course, cut: Cut): Reach {
  const reach = reachBy(course, cut);
  const sure = course.stops.some(({ doubtful }) => doubtful) ? reachBy(undoubted(course), cut) : reach;
  return (side, point, hole_m, surely = false) => (surely ? sure : reach)(side, point, hole_m, surely);
}

/** Nothing is drawn from a coil that is guessed, nor from beyond it, for it would be drawn first. */
const undoubted = ({ stops, ...course }: Course): Course => ({
  ...course,
  stops: stops.map((stop) => (stop.doubtful ? { ...stop, coil_left_m: 0, coil_right_m: 0, held: true } : stop)),
});

function reachBy(course: Course, cut: Cut): Reach {
  const around = { course: mirrored(course), cut: mirroredCut(course, cut) };
  const last = course.stops.length - 1;
  const end_m = around.cut.at_m + cut.at_m;
  return (side, point, hole_m, surely = false) => {
    const remain = (may: Slides): Remain | null => {
      if (side === "left") return leftRemain(course, cut, point, (leg) => may(course, leg), hole_m);
      const turned = point === "cut" ? point : last - point;
      const found = leftRemain(around.course, around.cut, turned, (leg) => may(around.course, leg), end_m - hole_m);
      return found && turnedBack(found, last);
    };
    return surely ? remain(PROVEN) : best(remain);
  };
}

type Slides = (course: Course, leg: number) => boolean;
const PROVEN: Slides = ({ legs }, leg) => legs[leg]?.slides === "yes";
const PERHAPS: Slides = ({ legs }, leg) => legs[leg]?.slides !== "no" && legs[leg] !== undefined;

/** By proven legs where they suffice, else by those that are not. */
function best(remain: (may: Slides) => Remain | null): Remain | null {
  const proven = remain(PROVEN);
  return proven && proven.short_m > 0 ? remain(PERHAPS) : proven;
}

/** Its stops and legs counted from the first stop again. */
function turnedBack(remain: Remain, last: number): Remain {
  return {
    ...remain,
    drawn: remain.drawn.map((one) => ({ ...one, stop: last - one.stop })),
    unproven: remain.unproven.map((leg) => last - 1 - leg).sort((a, b) => a - b),
    unknown: remain.unknown.map((stop) => last - stop).sort((a, b) => a - b),
  };
}

/** Why no splice can be made at a place of the cable; null where one can, or nobody knows. */
export function unusable(course: Course, at: number, policy: MendPolicy): string | null {
  const stop = course.stops[at];
  if (!stop) return say`it is no place of the cable`;
  if (stop.kind !== "passing" && !policy.held_too)
    return stop.kind === "end"
      ? say`it is the cable's end`
      : say`the cable is ${choiceWords("stop", "kind", stop.kind)} there already`;
  const outer = at === 0 || at === course.stops.length - 1;
  if (stop.kind === "severed" && !(outer && stop.usable)) return say`the cable is severed there already`;
  if (!stop.usable) return say`the cable can't be reached there`;
  return noRoom(course, stop, 2 * stop.work_m, policy);
}

function onePoint(
  course: Course,
  cut: Cut,
  at: Point,
  hole_m: number | null,
  a: Remain,
  b: Remain,
  policy: MendPolicy,
): MendPlan {
  const point = pointOf(course, cut, at, hole_m);
  const [left, right] = [trimmed(course, point, a, policy), trimmed(course, point, b, policy)];
  return {
    kind: "one_point",
    points: [point],
    left,
    right,
    landed: null,
    coils_m: [],
    new_cable_m: 0,
    joints: 1,
    new_holes: at === "cut" ? 1 : 0,
    pulled_m: pulledOf(left, right),
    ...restsOn(course, [point], left, right),
    waits_for_pipe: left.across || right.across,
  };
}
