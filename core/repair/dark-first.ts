/** Where a cut left strands whole: which are dark, and the ways that leave the others whole before those that sever them. */
import type { Limits } from "../standards/limits/in-use.ts";
import type { Reader } from "../store/handle.ts";
import type { CableFacts } from "../trace/cables.ts";
import type { Course, Cut } from "./course.ts";
import { darkOf } from "./dark.ts";
import { darkPlans } from "./dark-plans.ts";
import type { MendAsked, Stretch } from "./place-cut.ts";
import type { Mend, MendPolicy } from "./plan.ts";
import type { CourseOnRecord } from "./read-course.ts";
import type { WaitingCut } from "./waiting-cut.ts";

/** The dark strands, as named or as they are cut on record; null where all are. */
export function darkHere(
  reader: Reader,
  { dark = null }: MendAsked,
  cable: CableFacts,
  on: CourseOnRecord,
  [before, beyond]: Stretch,
  waiting: WaitingCut | null,
): Promise<ReadonlySet<number> | null> {
  const orders = new Map(cable.stops.map(({ id, ordinal }) => [id, ordinal]));
  const orderOf = (at: number, unknown: number): number => orders.get(on.stops[at]?.stop.id ?? 0) ?? unknown;
  const between = [orderOf(before, 0), orderOf(beyond, Number.MAX_SAFE_INTEGER)] as const;
  return darkOf(reader, cable.ref, dark, {
    between,
    stop_id: waiting?.stop_id ?? null,
    past: waiting?.strands.past ?? new Set(),
  });
}

/** Ways that leave whole what shines, and then those that sever it: that is for somebody to choose. Pure. */
export function darkFirst(severing: Mend, course: Course, cut: Cut, policy: MendPolicy, limits: Limits): Mend {
  const { plans, refused } = darkPlans(course, cut, policy, {
    window_m: limits.get("breakout.window_m")?.value ?? 0,
    preparation_m: limits.get("repair.preparation_m")?.value ?? 0,
  });
  return { ...severing, plans: [...plans, ...severing.plans], refused };
}
