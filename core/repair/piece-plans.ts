/** Mends with new cable: a piece between two points, one up to an end, or a whole cable. */

import { say } from "../words/say.ts";
import {
  besideWay,
  type Course,
  type CourseStop,
  type Cut,
  insideAt,
  lacksCoil,
  liesOnGround,
  type Side,
} from "./course.ts";
import { inTheSameLeg, type Reach } from "./new-hole.ts";
import { type MendPlan, type MendPolicy, NONE, pointOf, pulledOf, restsOn, trimmed } from "./plan.ts";
import { betterBy, firstOf } from "./rank.ts";
import { isHeld, type Point, type Remain, stopBefore } from "./remain.ts";

/** A remain that reaches a splice point. */
export interface Reached {
  readonly side: Side;
  readonly at: Point;
  readonly hole_m: number | null;
  readonly remain: Remain;
}

/**
 * For each side a new hole for a piece to begin in: at the cut, else at the edge of what is destroyed, else so far back as
 * the remain lacks there, where its sheath comes back.
 */
export function newHoles(course: Course, cut: Cut, reach: Reach, reached: readonly Reached[]): Reached[] {
  return (["left", "right"] as const).flatMap((side): Reached[] => {
    if (reached.some((one) => one.side === side && one.at === "cut")) return [];
    const back = side === "left" ? -1 : 1;
    const edge_m = cut.at_m + back * (side === "left" ? cut.lost_left_m : cut.lost_right_m);
    // What is destroyed up to a place leaves no ground before it to dig in.
    const there = inTheSameLeg(course, cut.at_m, edge_m) ? reach(side, "cut", edge_m) : null;
    if (!there) return [];
    if (there.short_m === 0) return [{ side, at: "cut", hole_m: edge_m, remain: there }];
    const hole_m = edge_m + back * there.short_m;
    if (!inTheSameLeg(course, edge_m, hole_m)) return [];
    const farther = reach(side, "cut", hole_m);
    return farther?.short_m === 0 ? [{ side, at: "cut", hole_m, remain: farther }] : [];
  });
}

/** Where a piece enters a point, in metres of way: a place's mouth on that side, or the case where the cable is held. */
function entersAt(course: Course, { at, hole_m }: Pick<Reached, "at" | "hole_m">, side: Side): number {
  if (at === "cut") return hole_m ?? 0;
  const stop = course.stops[at];
  if (!stop) return 0;
  if (isHeld(course, at)) return stop.left_m + stop.through_m / 2;
  return side === "left" ? stop.left_m + stop.through_m : stop.left_m;
}

/** The nearest pairs of places with the cut between them, each remain reaching its own. */
export function twoPoints(course: Course, cut: Cut, reachable: readonly Reached[], policy: MendPolicy): MendPlan[] {
  const before = stopBefore(course, cut);
  const from = firstBeyond(course, cut);
  const lefts = reachable.filter(({ side, at }) => side === "left" && (at === "cut" || at <= before));
  const rights = reachable.filter(({ side, at }) => side === "right" && (at === "cut" || at >= from));
  const plans = lefts.flatMap((a) =>
    rights.flatMap((b): MendPlan[] => {
      // Both in the place in which it is cut: they are spliced to each other there.
      if (a.at === b.at && a.at !== "cut") return [];
      const holes = [a, b].filter(({ at }) => at === "cut").length;
      // Two new holes are no less than one in which both would meet; without leave, pieces begin in holes that are there.
      if (holes > (policy.held_too ? 1 : 0)) return [];
      // From end to end a piece is no less than a new cable, where there is a place between, or where that lies on the ground too.
      const ends = [a, b].every(({ at }) => at !== "cut" && course.stops[at]?.kind === "end");
      if (ends && (course.stops.length > 2 || liesOnGround(course))) return [];
      const points = [pointOf(course, cut, a.at, a.hole_m), pointOf(course, cut, b.at, b.hole_m)] as const;
      const [near, far] = points;
      const way_m = entersAt(course, b, "right") - entersAt(course, a, "left");
      const bare_m = way_m + near.work_m + far.work_m;
      const [left, right] = [trimmed(course, near, a.remain, policy), trimmed(course, far, b.remain, policy)];
      return [
        {
          kind: "two_points",
          points,
          left,
          right,
          landed: null,
          coils_m: [],
          new_cable_m: bare_m * (1 + policy.waste),
          joints: 2,
          new_holes: holes,
          pulled_m: pulledOf(left, right),
          ...restsOn(course, points, left, right),
          waits_for_pipe: true,
        },
      ];
    }),
  );
  // So many that there is a choice, and of those that dig some as well: they may need far less cable.
  const [dug, other] = [plans.filter((plan) => plan.new_holes > 0), plans.filter((plan) => plan.new_holes === 0)];
  const better = betterBy(policy.ranking);
  return [
    ...firstOf(other.sort(better), Math.max(4, MOST_PAIRS - dug.length)),
    ...firstOf(dug.sort(better), Math.max(2, MOST_PAIRS - other.length)),
  ];
}

const MOST_PAIRS = 6;

/** The first place at which the remain on the side of the last stop can be spliced: the one it is cut in is on both sides. */
const firstBeyond = (course: Course, cut: Cut): number => insideAt(course, cut) ?? stopBefore(course, cut) + 1;

/** Why no new cable can be laid up to an end, in words; null where it can. */
export function notToEnd(course: Course, cut: Cut, landed: Side): string | null {
  const beyond = beyondCut(course.stops, stopBefore(course, cut), landed);
  const end = beyond.at(-1);
  if (end?.kind !== "end" && !end?.spliced_on)
    return say`the cable is severed there, and what lies beyond has another way`;
  if (!end.usable) return say`the cable can't be reached there`;
  if (beyond.slice(0, -1).some(({ kind }) => kind === "severed")) return say`the cable is severed on the way there`;
  if (beyond.slice(0, -1).some(({ kind, usable }) => kind === "opened" && !usable))
    return say`the cable is opened on the way there at a place that can't be reached`;
  return null;
}

const beyondCut = (stops: Course["stops"], before: number, landed: Side): Course["stops"] =>
  landed === "right" ? stops.slice(before + 1) : stops.slice(0, before + 1).toReversed();

/**
 * From a splice point new cable up to an end of the cable, landed there in place of the old. Where the cable is opened on the
 * way the new one is too, with as much sheath there; places it passes get a coil as the plant's policy has it, no longer than
 * the old one's.
 */
export function toEnd(
  whole: Course,
  course: Course,
  cut: Cut,
  reachable: readonly Reached[],
  { waste, ...policy }: MendPolicy,
): MendPlan[] {
  const { stops } = course;
  const before = stopBefore(course, cut);
  const plans = (["left", "right"] as const).flatMap((landed): MendPlan[] => {
    const end = beyondCut(stops, before, landed).at(-1);
    if (!end || notToEnd(course, cut, landed) !== null) return [];
    const side: Side = landed === "right" ? "left" : "right";
    const from = reachable.filter(
      (one) =>
        one.side === side &&
        (one.at === "cut" ||
          ((side === "left" ? one.at <= before : one.at >= firstBeyond(course, cut)) && stops[one.at]?.kind !== "end")),
    );
    return from.map((one): MendPlan => {
      const point = pointOf(course, cut, one.at, one.hole_m);
      const remain = trimmed(course, point, one.remain, { waste, ...policy });
      const way_m = Math.abs(end.left_m - entersAt(course, one, side));
      const passed = stops.flatMap((stop, index): { stop: number; coil_m: number }[] => {
        const own = one.at === "cut" ? (side === "left" ? before : before + 1) : one.at;
        const between = side === "left" ? index > own && stop !== end : index < own && stop !== end;
        if (!between || stop.kind === "severed") return [];
        const most_m = stop.kind === "passing" ? (policy.coil_m ?? Number.POSITIVE_INFINITY) : Number.POSITIVE_INFINITY;
        return [{ stop: index, coil_m: Math.min(besideWay(whole.stops[index] ?? stop), most_m) }];
      });
      // Coils that nobody knows aren't in its length.
      const gone = {
        ...NONE,
        unknown: passed.flatMap(({ stop }) => (lacksCoil(stops[stop] as CourseStop) ? [stop] : [])),
      };
      const coiled_m = passed.reduce((sum, { coil_m }) => sum + coil_m, 0);
      return {
        kind: "to_end",
        points: [point],
        left: side === "left" ? remain : gone,
        right: side === "right" ? remain : gone,
        landed,
        ...(end.spliced_on || end.in_case ? { landed_in_case: true } : {}),
        coils_m: passed,
        new_cable_m: (way_m + coiled_m + point.work_m + end.work_m) * (1 + waste),
        joints: 1,
        new_holes: one.at === "cut" ? 1 : 0,
        pulled_m: pulledOf(remain),
        ...restsOn(course, [point], remain),
        waits_for_pipe: true,
      };
    });
  });
  return firstOf(plans.sort(betterBy(policy.ranking)), 3);
}

/**
 * A new cable from end to end: as long as the way, what is coiled and opened on it, what both ends take or have coiled, and
 * waste. It takes over every coil of the old one, so that the next mend has them too.
 */
export function newCable(course: Course, { waste }: MendPolicy): MendPlan {
  const { stops } = course;
  const [first] = stops;
  const last = stops.at(-1);
  const way_m = (last?.left_m ?? 0) - ((first?.left_m ?? 0) + (first?.through_m ?? 0));
  const ends_m = [first, last].reduce((sum, end) => sum + Math.max(end?.work_m ?? 0, end?.coil_left_m ?? 0), 0);
  const coiled_m = stops.slice(1, -1).reduce((sum, stop) => sum + besideWay(stop), 0);
  return {
    kind: "new_cable",
    points: [],
    // Coils that nobody knows aren't in its length.
    left: { ...NONE, unknown: stops.flatMap((stop, index) => (lacksCoil(stop) ? [index] : [])) },
    right: NONE,
    landed: null,
    coils_m: [],
    new_cable_m: (way_m + coiled_m + ends_m) * (1 + waste),
    joints: 0,
    new_holes: 0,
    pulled_m: 0,
    to_prove: false,
    sure: true,
    proven: true,
    unlooked: 0,
    waits_for_pipe: true,
  };
}
