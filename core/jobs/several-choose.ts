/** Which way each of several cut cables is mended, the one with the most at stake first, so that no hole takes more than it holds. */
import type { MendTold } from "../repair/mend.ts";
import type { MendPlan } from "../repair/plans.ts";
import { type InHole, inHole, longOf, roomTogether } from "../repair/several.ts";
import { type Problem, refuse } from "../result.ts";
import { metres } from "./mend-facts.ts";

export interface Chosen {
  readonly told: MendTold;
  readonly plan: MendPlan;
  /** Its number among the plans of its cable, the best being 1. */
  readonly nth: number;
}

interface Taken extends InHole {
  readonly cable: string;
}

/**
 * Refuses a plan that was asked for and isn't there.
 * @param told in the order of what is at stake
 * @param wanted plans that people chose, by cable: they stand, and what doesn't fit is told
 */
export function choosePlans(
  told: readonly MendTold[],
  wanted: ReadonlyMap<number, number>,
  case_m: number,
): { readonly chosen: Chosen[]; readonly notices: string[] } {
  const holes = new Map<number, Taken[]>();
  const notices: string[] = [];
  const chosen = told.map((one): Chosen => {
    const { found, cable } = one.reckoned;
    const asked = wanted.get(cable.id);
    const [best] = found.plans;
    if (!best || (asked !== undefined && !found.plans[asked - 1])) {
      const problem: Problem = { field: "plans", record: cable.tag, reason: `has ${found.plans.length} plans` };
      return refuse("not_possible", `${cable.tag} has ${found.plans.length} plans, and no plan ${asked ?? 1}.`, [
        problem,
      ]);
    }
    const fits = (plan: MendPlan): boolean => fullAt(one, plan, holes, case_m) === null;
    // Another hole before a whole new cable, even where it is still to be proven.
    const other = found.plans.findIndex((plan) => plan.kind !== "new_cable" && fits(plan));
    const fitting = fits(best) ? 0 : other >= 0 ? other : found.plans.findIndex(fits);
    const nth = asked ?? Math.max(0, fitting) + 1;
    const plan = found.plans[nth - 1] as MendPlan;
    const full = fullAt(one, asked === undefined ? best : plan, holes, case_m);
    if (full !== null) {
      notices.push(
        asked === undefined && fitting > 0
          ? `${full}: ${cable.tag} is mended by its way ${nth} instead, ${pointsOf(one, plan)}.`
          : `${full}.${fitting >= 0 && fitting + 1 !== nth ? ` Its way ${fitting + 1}, ${pointsOf(one, found.plans[fitting] as MendPlan)}, would spare that hole.` : ""}`,
      );
    }
    for (const { id, own } of placesOf(one, plan))
      holes.set(id, [...(holes.get(id) ?? []), { ...own, cable: cable.tag }]);
    return { told: one, plan, nth };
  });
  return { chosen, notices };
}

function placesOf({ reckoned: { on } }: MendTold, { points }: MendPlan) {
  return points.flatMap((point) => {
    const { at } = point;
    const place = at === "cut" ? null : (on.stops[at]?.place ?? null);
    return place && at !== "cut" ? [{ ...place, long_m: longOf(on, at), own: inHole(on, point) }] : [];
  });
}

/** Of the plan's holes one that would be too full, with both numbers; what nobody measured is never too full. */
function fullAt(
  one: MendTold,
  plan: MendPlan,
  holes: ReadonlyMap<number, readonly Taken[]>,
  case_m: number,
): string | null {
  const { cable } = one.reckoned;
  for (const { id, tag, long_m, own } of placesOf(one, plan)) {
    const others = holes.get(id) ?? [];
    if (long_m === null || others.length === 0) continue;
    const needs_m = roomTogether([...others, own], case_m);
    if (long_m >= needs_m) continue;
    const all = [...others.map((other) => other.cable), cable.tag].join(", ");
    return `${tag} is ${metres(long_m)} long inside, and the cases and coils of ${all} need ${metres(needs_m)}`;
  }
  return null;
}

function pointsOf({ reckoned: { on } }: MendTold, { kind, points }: MendPlan): string {
  if (kind === "new_cable") return "a new cable";
  return `spliced at ${points.map(({ at }) => (at === "cut" ? "a new hole at the cut" : (on.stops[at]?.name ?? "a stop"))).join(" and ")}`;
}
