/**
 * Circuits that the cut left alone. A way that lays new cable in the place of the old takes them down while their glass is
 * moved over: that is for somebody to choose, and such a way comes after those that take nothing down.
 */
import type { Reader } from "../store/handle.ts";
import type { CableFacts } from "../trace/cables.ts";
import type { Cut } from "./course.ts";
import { alsoMoved, circuitsOnCable, type OnCable } from "./dark.ts";
import { legOf } from "./place-cut.ts";
import type { MendPlan } from "./plan.ts";
import type { CourseOnRecord } from "./read-course.ts";
import type { WaitingCut } from "./waiting-cut.ts";

/** Every circuit in service on the cable, with where its glass lies among the stops of the course. */
export function litOn(
  reader: Reader,
  { ref }: CableFacts,
  { stops }: CourseOnRecord,
  waiting: WaitingCut | null,
  cut_at: number,
  today: string,
): Promise<OnCable[]> {
  const places = new Map(stops.map(({ stop }, index) => [stop.id, index]));
  return circuitsOnCable(reader, ref.id, today, (id) =>
    id === waiting?.stop_id && !waiting.inside ? cut_at : (places.get(id) ?? null),
  );
}

/** Where a cut lies among the stops of the course: at one, or half-way between two. */
export const cutAmong = (on: CourseOnRecord, cut: Cut, inside: { readonly stop: number } | null): number =>
  inside ? inside.stop : legOf(on, cut) + 0.5;

/** Pure. Each plan with the circuits it takes down though the cut left them alone; those that take none down first. */
export function sparing(plans: readonly MendPlan[], lit: readonly OnCable[], cut_at: number): MendPlan[] {
  // What comes by the cut is down already, or shines in it on and is told of by itself.
  const there = lit.filter(({ from, to }) => from <= cut_at && cut_at <= to).map(({ circuit }) => circuit);
  return plans
    .map((plan) => ({ ...plan, also_down: alsoMoved(lit, plan, cut_at, there) }))
    .toSorted((a, b) => Number(a.also_down.length > 0) - Number(b.also_down.length > 0));
}
