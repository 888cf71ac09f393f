/**
 * Ways to mend a cut that left strands whole. Nothing of such a sheath is pulled out of its way or cut off, for others shine
 * in it: the dark strands alone are cut at two places, and a piece carries them past the break. At a place it passes that is
 * done in a window of its loop; where it is opened already, in that window, in its case; at its end the piece is landed in
 * their place, for there each strand is parted from the others. A loop takes the window and twice the reach, as for a
 * break-out, and what lacks of it neighbours lend by the same rule; nothing slides through the leg that is cut, since what is
 * strained there would come along.
 */
import { say } from "../words/say.ts";
import { afterCut, type Course, type CourseStop, type Cut, insideAt, type Side } from "./course.ts";
import { type MendPlan, type MendPoint, type MendPolicy, NONE, type NoPlan, pulledOf, restsOn } from "./plan.ts";
import { comesOut, type LoopPolicy, loopAt, openedAlready } from "./point-loop.ts";
import { betterBy, firstOf } from "./rank.ts";
import type { Remain } from "./remain.ts";
import { noRoom, roomFor } from "./room.ts";

export interface DarkFound {
  /** By what they need, and what is to be proven or hoped for. */
  readonly plans: readonly MendPlan[];
  /** Places at which no dark strand can be taken out with the others whole, and why. */
  readonly refused: readonly NoPlan[];
}

/** A place at which the dark strands leave the sheath; of an end the piece is landed there. */
interface Leaving {
  readonly point: MendPoint;
  readonly end: boolean;
}

/** Pure. No plans where not both sides have a place to take them out. */
export function darkPlans(whole: Course, cut: Cut, policy: MendPolicy, loops: LoopPolicy): DarkFound {
  const course = notSliding(afterCut(whole, cut), cut);
  const refused: NoPlan[] = [];
  const [lefts, rights]: [Leaving[], Leaving[]] = [[], []];
  for (const [at, stop] of course.stops.entries()) {
    const reason = notToOpen(course, cut, at, policy);
    if (reason) refused.push({ at, hole_m: null, reason, short_left_m: 0, short_right_m: 0 });
    else (stop.left_m < cut.at_m ? lefts : rights).push(leavingAt(course, at, loops));
  }
  const plans = lefts.flatMap((near) => rights.flatMap((far) => planOf(course, near, far, policy)));
  const [a, b] = [lefts, rights].map((all) => all.length > 0 && all.every(({ end }) => end));
  if (a && b)
    for (const at of [0, course.stops.length - 1])
      refused.push({ at, hole_m: null, reason: BETWEEN_ENDS, short_left_m: 0, short_right_m: 0 });
  return { plans: firstOf(plans.sort(betterBy(policy.ranking)), MOST_PAIRS), refused };
}

const MOST_PAIRS = 6;

const BETWEEN_ENDS = say`from one end of the cable to the other, with no place between at which it is opened or can be, a cable of its own is laid for the dark strands: that is a new run, and no mend`;

function leavingAt(course: Course, at: number, loops: LoopPolicy): Leaving {
  const stop = course.stops[at] as CourseStop;
  const own = { at, hole_m: null, work_m: stop.work_m, held: false };
  switch (stop.kind) {
    case "end":
      return { point: { ...own, unproven: [] }, end: true };
    case "opened":
      return { point: { ...own, unproven: [CASE_ROOM], loop: openedAlready(stop) }, end: false };
    default: {
      const { unproven } = roomFor(course, stop, 2 * stop.work_m, { case_m: 0 });
      return { point: { ...own, unproven, loop: loopAt(course, at, loops) }, end: false };
    }
  }
}

const CASE_ROOM = say`whether the case has an entry and room in its trays for the piece`;

/** In place is what one hopes for. */
const inPlace = (points: readonly MendPoint[]): number =>
  points.filter(({ loop }) => loop !== undefined && !comesOut(loop)).length;

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
  if (stop.kind === "severed") return say`the cable is severed there already`;
  if (!stop.usable) return say`the cable can't be reached there`;
  const left = stop.left_m < cut.at_m;
  const between = course.stops.some(
    ({ kind, left_m }, index) =>
      kind !== "passing" && (left ? index > at && left_m < cut.at_m : index < at && left_m > cut.at_m),
  );
  if (between) return say`between it and the cut the cable is opened`;
  if (stop.kind !== "passing") return null;
  const middle_m = stop.left_m + stop.through_m / 2;
  if (from_m <= middle_m && middle_m <= to_m) return say`what is coiled there is destroyed or strained by the cut`;
  return noRoom(course, stop, 2 * stop.work_m, policy);
}

/** What a loop draws on, as a remain: nothing of the sheath is a stump, and nothing is cut off. */
const drawnOn = ({ loop }: MendPoint): Remain => ({
  ...NONE,
  drawn: loop?.lent ?? [],
  unproven: loop?.unproven ?? [],
  unknown: loop?.unknown ?? [],
});

function planOf(course: Course, near: Leaving, far: Leaving, { waste }: MendPolicy): MendPlan[] {
  if (near.end && far.end) return [];
  const both = [near.point, far.point];
  const [a, b] = both.map(({ at }) => course.stops[at as number]) as [CourseStop, CourseStop];
  const bare_m = entersAt(b) - leavesAt(a) + near.point.work_m + far.point.work_m;
  const [left, right] = [drawnOn(near.point), drawnOn(far.point)];
  const landed: Side | null = near.end ? "left" : far.end ? "right" : null;
  const points = [near, far].flatMap(({ point, end }) => (end ? [] : [point]));
  const hoped = inPlace(points);
  // What is coiled at an end is no part of it.
  const doubtful = points.filter(({ at }) => course.stops[at as number]?.doubtful === true).length;
  const rests = restsOn(course, points, left, right);
  return [
    {
      kind: landed === null ? "two_points" : "to_end",
      dark_only: true,
      points,
      left,
      right,
      landed,
      ...(landed !== null && (landed === "left" ? a : b).in_case ? { landed_in_case: true } : {}),
      coils_m: [],
      new_cable_m: bare_m * (1 + waste),
      joints: points.length,
      new_holes: 0,
      pulled_m: pulledOf(left, right),
      to_prove: rests.to_prove || hoped > 0,
      sure: rests.sure && hoped === 0 && doubtful === 0,
      proven: rests.proven && hoped === 0 && doubtful === 0,
      unlooked: rests.unlooked + hoped + doubtful,
      ...(hoped > 0 ? { in_place: hoped } : {}),
      waits_for_pipe: true,
    },
  ];
}

/** Where the piece leaves a place and where it enters one, in metres of way: its mouth, or the case in the middle of it. */
const leavesAt = ({ kind, left_m, through_m }: CourseStop): number =>
  left_m + (kind === "opened" ? through_m / 2 : through_m);
const entersAt = ({ kind, left_m, through_m }: CourseStop): number => left_m + (kind === "opened" ? through_m / 2 : 0);
