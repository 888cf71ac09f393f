/**
 * Ways to mend a cut that left strands whole. Nothing of such a sheath is pulled out of its way or cut off, for others shine
 * in it: the dark strands alone are cut at two places it passes, in a window of its loop there, and a piece carries them
 * past the break. A loop takes the window and twice the reach, as for a break-out, and what lacks of it neighbours lend by
 * the same rule; nothing slides through the leg that is cut, since what is strained there would come along.
 */
import { say } from "../words/say.ts";
import { afterCut, type Course, type CourseStop, type Cut, insideAt } from "./course.ts";
import { type MendPlan, type MendPoint, type MendPolicy, NONE, type NoPlan, pulledOf, restsOn } from "./plan.ts";
import { type LoopPolicy, loopAt } from "./point-loop.ts";
import { betterBy, firstOf } from "./rank.ts";
import type { Remain } from "./remain.ts";
import { noRoom, roomFor } from "./room.ts";

export interface DarkFound {
  /** Those in which both loops come out first. */
  readonly plans: readonly MendPlan[];
  /** Places at which no dark strand can be taken out with the others whole, and why. */
  readonly refused: readonly NoPlan[];
}

/** Pure. No plans where not both sides have a place to open. */
export function darkPlans(whole: Course, cut: Cut, policy: MendPolicy, loops: LoopPolicy): DarkFound {
  const course = notSliding(afterCut(whole, cut), cut);
  const refused: NoPlan[] = [];
  const [lefts, rights]: [MendPoint[], MendPoint[]] = [[], []];
  for (const [at, stop] of course.stops.entries()) {
    const reason = notToOpen(course, cut, at, policy);
    if (reason) refused.push({ at, hole_m: null, reason, short_left_m: 0, short_right_m: 0 });
    else {
      const { unproven } = roomFor(course, stop, 2 * stop.work_m, { case_m: 0 });
      const loop = loopAt(course, at, loops);
      const point: MendPoint = { at, hole_m: null, work_m: stop.work_m, held: false, unproven, loop };
      (stop.left_m < cut.at_m ? lefts : rights).push(point);
    }
  }
  const plans = lefts.flatMap((near) => rights.map((far) => planOf(course, near, far, policy)));
  return { plans: firstOf(plans.sort(comesOut(policy)), MOST_PAIRS), refused };
}

const MOST_PAIRS = 6;

/** In place is what one hopes for: it comes after what the record says will come out. */
const inPlace = ({ points }: Pick<MendPlan, "points">): number =>
  points.filter(({ loop }) => loop?.reaches === "in_place" || loop?.reaches === "unknown").length;

const comesOut =
  ({ ranking }: MendPolicy) =>
  (a: MendPlan, b: MendPlan): number =>
    inPlace(a) - inPlace(b) || betterBy(ranking)(a, b);

/** The course with its sheath fixed in every leg that the cut or what it destroys touches. */
function notSliding(course: Course, cut: Cut): Course {
  const [from_m, to_m] = [cut.at_m - cut.lost_left_m, cut.at_m + cut.lost_right_m];
  const inside = insideAt(course, cut);
  const { stops } = course;
  return {
    ...course,
    legs: course.legs.map((leg, index) => {
      const [a, b] = [stops[index], stops[index + 1]];
      const touched = a !== undefined && b !== undefined && from_m < b.left_m && to_m > a.left_m + a.through_m;
      const beside = inside !== null && (index === inside || index + 1 === inside);
      return touched || beside ? { ...leg, slides: "no", slides_back: "no" } : leg;
    }),
  };
}

/** Why no dark strand can be taken out at a place while others shine, in words; null where one can, or nobody knows. */
function notToOpen(course: Course, cut: Cut, at: number, policy: MendPolicy): string | null {
  const stop = course.stops[at] as CourseStop;
  const [from_m, to_m] = [cut.at_m - cut.lost_left_m, cut.at_m + cut.lost_right_m];
  if (stop.kind === "end") return say`the cable ends there: no strand is taken out of its way with the others whole`;
  if (stop.kind === "severed") return say`the cable is severed there already`;
  if (stop.kind === "opened")
    return say`the cable is opened there already, and a splice beside its case severs all: whether that case takes the dark strands is for whoever opens it`;
  if (!stop.usable) return say`the cable can't be reached there`;
  const middle_m = stop.left_m + stop.through_m / 2;
  if (from_m <= middle_m && middle_m <= to_m) return say`what is coiled there is destroyed or strained by the cut`;
  const left = stop.left_m < cut.at_m;
  const between = course.stops.some(
    ({ kind, left_m }, index) =>
      kind !== "passing" && (left ? index > at && left_m < cut.at_m : index < at && left_m > cut.at_m),
  );
  if (between) return say`between it and the cut the cable is opened`;
  return noRoom(course, stop, 2 * stop.work_m, policy);
}

/** What a loop draws on, as a remain: nothing of the sheath is a stump, and nothing is cut off. */
const drawnOn = ({ loop }: MendPoint): Remain => ({
  ...NONE,
  drawn: loop?.lent ?? [],
  unproven: loop?.unproven ?? [],
  unknown: loop?.unknown ?? [],
});

function planOf(course: Course, near: MendPoint, far: MendPoint, { waste }: MendPolicy): MendPlan {
  const [a, b] = [near, far].map(({ at }) => course.stops[at as number]) as [CourseStop, CourseStop];
  const bare_m = b.left_m - (a.left_m + a.through_m) + near.work_m + far.work_m;
  const [left, right] = [drawnOn(near), drawnOn(far)];
  const points = [near, far];
  const out = points.every(({ loop }) => loop?.reaches === "yes" || loop?.reaches === "to_prove");
  const doubtful = points.filter(({ at }) => course.stops[at as number]?.doubtful === true).length;
  const rests = restsOn(course, points, left, right);
  return {
    kind: "two_points",
    dark_only: true,
    points,
    left,
    right,
    landed: null,
    coils_m: [],
    new_cable_m: bare_m * (1 + waste),
    joints: 2,
    new_holes: 0,
    pulled_m: pulledOf(left, right),
    to_prove: rests.to_prove || !out,
    sure: rests.sure && out && doubtful === 0,
    proven: rests.proven && out && doubtful === 0,
    unlooked: rests.unlooked + inPlace({ points }) + doubtful,
    waits_for_pipe: true,
  };
}
