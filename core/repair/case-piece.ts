/**
 * A sheath that doesn't reach into the new case in the place of a wrecked one: it is spliced at a place on its way that it
 * reaches, and a piece of new cable goes from there into the new case. What lies between is given up. Where it is opened on
 * the way, or ends, it is spliced beside the case or panel there; or the piece takes its place up to that end.
 */
import { besideWay, type CourseStop, type Cut, lacksCoil, type Side } from "./course.ts";
import { type MendPlan, type MendPoint, type MendPolicy, NONE, pointOf, pulledOf, restsOn, trimmed } from "./plan.ts";
import { reachOf, unusable } from "./plans.ts";
import type { HeldCourse } from "./pulls.ts";
import { betterBy } from "./rank.ts";
import { isHeld, type Remain } from "./remain.ts";

/** A sheath up to the place of the case, which is its last stop, or its first. */
export interface ArmCourse {
  readonly on: HeldCourse;
  readonly cut: Cut;
  readonly at: number;
  readonly side: Side;
  /** Sheath that a splice takes in the new case. */
  readonly needs_m: number;
  /** Nothing of the cable lies beyond a gap. */
  readonly in_one: boolean;
}

export interface CasePiece {
  /** Where the sheath is spliced to the piece, or where it ends and is given up, by its order in the course of the sheath. */
  readonly at: number;
  readonly point: MendPoint;
  readonly remain: Remain;
  /** What both splices take of it and the way between them, waste included; up to an end what stays coiled on the way as well. */
  readonly new_cable_m: number;
  /** As a way to mend a cut at that place, of which the other side is no part. */
  readonly plan: MendPlan;
}

/** It takes the place of the old cable up to that one's end, and what was joined there is joined to it. */
export const landsAnew = ({ plan }: Pick<CasePiece, "plan">): boolean => plan.landed !== null;

/** The old sheath is spliced to it beside the case or panel in which that stands, at a stop of its own. */
export const isBeside = (piece: Pick<CasePiece, "plan" | "point">): boolean => piece.point.held && !landsAnew(piece);

/**
 * The least, by the order in which ways to mend are ranked, of all places which the cable only passes and its sheath reaches,
 * and of the first at which it is opened or ends; null where there is none.
 */
export function pieceInto(arm: ArmCourse, policy: MendPolicy): CasePiece | null {
  const { on, side } = arm;
  const reach = reachOf(on.course, arm.cut);
  const found: CasePiece[] = [];
  for (const index of outward(arm)) {
    const stop = on.course.stops[index] as CourseStop;
    const reached = reach(side, index, arm.cut.at_m);
    if (reached?.short_m === 0 && unusable(on.course, index, { ...policy, held_too: true }) === null)
      found.push(splicedAt(arm, index, reached, policy));
    if (stop.kind === "end" && stop.usable && arm.in_one) found.push(upToEnd(arm, index, policy));
  }
  const better = betterBy(policy.ranking);
  return found.sort((a, b) => better(a.plan, b.plan))[0] ?? null;
}

/** The places on its way, the nearest first, up to the first at which it is opened or ends: beyond that its glass is joined to others. */
export function outward({ on: { course }, at, side }: Pick<ArmCourse, "on" | "at" | "side">): number[] {
  const all = [...course.stops.keys()];
  const way = side === "left" ? all.slice(0, at).toReversed() : all.slice(at + 1);
  const last = way.findIndex((index) => course.stops[index]?.kind !== "passing");
  return last < 0 ? way : way.slice(0, last + 1);
}

function splicedAt(arm: ArmCourse, index: number, reached: Remain, policy: MendPolicy): CasePiece {
  const { on, cut, side, needs_m } = arm;
  const { course } = on;
  const point = pointOf(course, cut, index, null);
  const remain = trimmed(course, point, reached, policy);
  const new_cable_m = (wayFrom(arm, index) + point.work_m + needs_m) * (1 + policy.waste);
  const plan: MendPlan = {
    ...{ kind: "two_points", points: [point], landed: null, coils_m: [], joints: 2, new_holes: 0 },
    left: side === "left" ? remain : NONE,
    right: side === "right" ? remain : NONE,
    new_cable_m,
    pulled_m: pulledOf(remain),
    ...restsOn(course, [point], remain),
    waits_for_pipe: true,
  };
  return { at: index, point, remain, new_cable_m, plan };
}

/** Where it passes a place as much stays coiled as the old one has there, and no more than the plant's policy. */
function upToEnd(arm: ArmCourse, index: number, policy: MendPolicy): CasePiece {
  const { on, cut, side, needs_m } = arm;
  const { course } = on;
  const end = course.stops[index] as CourseStop;
  const passed = outward(arm).filter((one) => one !== index);
  const stopAt = (one: number): CourseStop => course.stops[one] as CourseStop;
  const coils_m = passed.map((stop) => ({
    stop,
    coil_m: Math.min(besideWay(stopAt(stop)), policy.coil_m ?? Number.POSITIVE_INFINITY),
  }));
  const coiled_m = coils_m.reduce((sum, { coil_m }) => sum + coil_m, 0);
  const new_cable_m = (wayFrom(arm, index) + coiled_m + end.work_m + needs_m) * (1 + policy.waste);
  const lies_m =
    Math.abs(cut.at_m - end.left_m) + [...passed, index].reduce((sum, one) => sum + besideWay(stopAt(one)), 0);
  // All that is left of the old sheath is given up; coils that nobody knows aren't in the length of the new.
  const remain: Remain = { ...NONE, trimmed_m: lies_m, unknown: passed.filter((one) => lacksCoil(stopAt(one))) };
  const plan: MendPlan = {
    ...{ kind: "to_end", points: [], left: NONE, right: NONE, landed: side, coils_m, new_cable_m },
    ...(end.in_case ? { landed_in_case: true } : {}),
    ...{ joints: 1, new_holes: 0, pulled_m: 0, ...restsOn(course, []), waits_for_pipe: true },
  };
  return { at: index, point: { ...pointOf(course, cut, index, null), unproven: [] }, remain, new_cable_m, plan };
}

/** Metres of way from a place to the case: from its mouth on that side, or from the case or panel in which the sheath stands. */
function wayFrom({ on: { course }, at, side }: ArmCourse, index: number): number {
  const [stop, own] = [course.stops[index] as CourseStop, course.stops[at] as CourseStop];
  const inside_m = isHeld(course, index) ? stop.through_m / 2 : side === "left" ? stop.through_m : 0;
  return side === "left" ? own.left_m - stop.left_m - inside_m : stop.left_m + inside_m - own.left_m - own.through_m;
}
