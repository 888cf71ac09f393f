/**
 * Which of two ways comes first. All a way needs is put into metres of new cable: what is ordered, and so many for each place
 * where it is spliced, each end landed anew and each hole dug. What is still to be looked at counts as so many more, but
 * never as more than two places: so a way that needs three times as much as another is never put before it for its proof.
 * A sheath that can be opened in place only, if at all, counts as so many more by itself, whatever else is unproven.
 */
import { POINT_AS_M, UNPROVEN_AS_M } from "../standards/limits/repair.ts";
import type { MendKind, MendPlan, Ranking } from "./plan.ts";

const USUAL: Ranking = { point_m: POINT_AS_M, unproven_m: UNPROVEN_AS_M };

type Needs = Pick<MendPlan, "points" | "landed" | "landed_in_case" | "new_holes" | "new_cable_m">;

/** What a way needs, in metres of new cable, whatever it rests on. To land an end anew is as much as two splice points. */
export function needsOf(
  { points, landed, landed_in_case, new_holes, new_cable_m }: Needs,
  { point_m }: Ranking = USUAL,
): number {
  const landings = landed === null ? 0 : landed_in_case ? 1 : 2;
  return new_cable_m + point_m * (points.length + landings + new_holes);
}

/** The same with what is still to be looked at, to the millimetre. */
export function weightOf(plan: Needs & Pick<MendPlan, "unlooked" | "in_place">, ranking: Ranking = USUAL): number {
  const { unlooked, in_place = 0 } = plan;
  const unproven_m = Math.min((unlooked - in_place) * ranking.unproven_m, 2 * ranking.point_m);
  return Math.round((needsOf(plan, ranking) + unproven_m + in_place * ranking.unproven_m) * 1000) / 1000;
}

const RANK: Readonly<Record<MendKind, number>> = { one_point: 0, two_points: 1, to_end: 2, new_cable: 3 };
/** Up to a case in which the cable is spliced on no splice is added to one point: it is no more than two of them. */
const rankOf = ({ kind, landed_in_case }: MendPlan): number => (landed_in_case ? RANK.two_points : RANK[kind]);
const lastly = ({ kind }: MendPlan): boolean => kind === "new_cable";

/**
 * A new cable comes at last; before it the way with the least weight. Of two alike what surely reaches first, then what rests on less, one
 * point before two before a new piece to the end, no digging, the least new cable, the least pull.
 */
export const betterBy =
  (ranking: Ranking = USUAL) =>
  (a: MendPlan, b: MendPlan): number =>
    Number(lastly(a)) - Number(lastly(b)) ||
    weightOf(a, ranking) - weightOf(b, ranking) ||
    Number(b.sure) - Number(a.sure) ||
    a.unlooked - b.unlooked ||
    rankOf(a) - rankOf(b) ||
    a.new_holes - b.new_holes ||
    a.new_cable_m - b.new_cable_m ||
    a.pulled_m - b.pulled_m;

/** The first so many, and beside them the first that rests on nothing unproven, where there is one. */
export function firstOf(plans: readonly MendPlan[], most: number): MendPlan[] {
  const first = plans.slice(0, most);
  const sure = plans.find(({ unlooked }) => unlooked === 0);
  return sure && !first.includes(sure) ? [...first, sure] : first;
}
