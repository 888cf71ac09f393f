/**
 * A sheath that doesn't reach into the new case in the place of a wrecked one: it is spliced at a place on its way that it
 * reaches, and a piece of new cable goes from there into the new case. What lies between is given up.
 */
import type { Cut, Side } from "./course.ts";
import { type MendPlan, type MendPoint, type MendPolicy, NONE, pointOf, pulledOf, restsOn, trimmed } from "./plan.ts";
import { reachOf, unusable } from "./plans.ts";
import type { HeldCourse } from "./pulls.ts";
import { betterBy } from "./rank.ts";
import type { Remain } from "./remain.ts";

/** A sheath up to the place of the case, which is its last stop, or its first. */
export interface ArmCourse {
  readonly on: HeldCourse;
  readonly cut: Cut;
  readonly at: number;
  readonly side: Side;
  /** Sheath that a splice takes in the new case. */
  readonly needs_m: number;
}

export interface CasePiece {
  /** Where the sheath is spliced to the piece, by its order in the course of the sheath. */
  readonly at: number;
  readonly point: MendPoint;
  readonly remain: Remain;
  /** What both splices take of it and the way between them, waste included. */
  readonly new_cable_m: number;
  /** As a way to mend a cut at that place, of which the other side is no part. */
  readonly plan: MendPlan;
}

/** The least of all places which the cable only passes and its sheath reaches; null where there is none. */
export function pieceInto({ on, cut, at, side, needs_m }: ArmCourse, policy: MendPolicy): CasePiece | null {
  const { course } = on;
  const reach = reachOf(course, cut);
  const found: CasePiece[] = [];
  const step = side === "left" ? -1 : 1;
  for (let index = at + step; index > 0 && index < course.stops.length - 1; index += step) {
    const [stop, own] = [course.stops[index], course.stops[at]];
    // Where it is opened its glass is joined to others: that is another splice point.
    if (!stop || !own || stop.kind !== "passing") break;
    const reached = reach(side, index, cut.at_m);
    if (reached?.short_m !== 0 || unusable(course, index, policy) !== null) continue;
    const point = pointOf(course, cut, index, null);
    const remain = trimmed(course, point, reached, policy);
    const way_m =
      side === "left" ? own.left_m - stop.left_m - stop.through_m : stop.left_m - own.left_m - own.through_m;
    const new_cable_m = (way_m + point.work_m + needs_m) * (1 + policy.waste);
    const plan: MendPlan = {
      ...{ kind: "two_points", points: [point], landed: null, coils_m: [], joints: 2, new_holes: 0 },
      left: side === "left" ? remain : NONE,
      right: side === "right" ? remain : NONE,
      new_cable_m,
      pulled_m: pulledOf(remain),
      ...restsOn(course, [point], remain),
      waits_for_pipe: true,
    };
    found.push({ at: index, point, remain, new_cable_m, plan });
  }
  const better = betterBy(policy.ranking);
  return found.sort((a, b) => better(a.plan, b.plan))[0] ?? null;
}
