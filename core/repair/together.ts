/** What one job for several cut cables takes: each cable's way, the holes they share, and the order in which they come back. */

import { say } from "../words/say.ts";
import type { MendCircuit, MendStrand } from "./answer.ts";
import { shiningOf } from "./dark.ts";
import { hoursTogether } from "./hours.ts";
import { inHole, longOf, roomTogether } from "./in-hole.ts";
import type { MendTold } from "./mend.ts";
import type { MendPlan } from "./plans.ts";
import type { MendOneJob, MendShared, MendTogether, MendTurn } from "./several-answer.ts";
import type { Chosen } from "./several-choose.ts";
import type { Stock } from "./stock.ts";
import { metres, millimetre, told } from "./told.ts";
import { wholePlan } from "./whole.ts";

/** A cable's mend as it is chosen, in the way in which it is cut. */
export interface Used {
  readonly told: MendTold;
  readonly plan: MendPlan;
  readonly way: number;
}

/** Pure. The cables in the order of what is at stake. */
export function togetherOf(chosen: readonly Chosen[], stock: Stock): MendTogether[] {
  return chosen.map(({ told: one, plan, alone, why }) => {
    const { reckoned, answer } = one;
    const { cable, on, cut } = reckoned;
    const { order } = answer;
    const said = told(plan, { tag: cable.tag, on, cut, order });
    const shining = shiningOf(order, answer.circuits, cable.tag);
    const way = wholePlan(said, plan, { answer, reckoned, order, shining, stock });
    return { cable, plan: alone, why, way, differs: alone !== 1 };
  });
}

export function oneJob(chosen: readonly Chosen[], together: readonly MendTogether[], case_m: number): MendOneJob {
  const dug = new Set(chosen.flatMap(({ plan, way }) => (plan.new_holes > 0 ? [way] : [])));
  const sum = (of: (one: MendTogether) => number): number =>
    millimetre(together.reduce((all, one) => all + of(one), 0));
  const places = chosen.flatMap(placesSetUp);
  const digs = chosen.reduce((sum, { plan }) => sum + plan.new_holes, 0);
  const again = { set_up: places.length - new Set(places).size, dig_hole: digs - dug.size };
  const limits = chosen[0]?.told.reckoned.limits;
  return {
    pulled_m: sum(({ way }) => way.pulled_m),
    new_cable_m: sum(({ way }) => way.new_cable_m),
    new_holes: dug.size,
    cases: sum(({ way }) => way.points.length - way.loops.filter(({ reaches }) => reaches === "opened").length),
    hours: limits
      ? hoursTogether(
          together.map(({ way }) => way.hours.hours),
          again,
          limits,
        )
      : null,
    shared: sharedHoles(chosen, case_m),
    turns: turnsOf(chosen),
  };
}

/** Where a way sets up: its splice points, and the ends at which new cable is landed; alike for cables that meet there. */
function placesSetUp({ told: { reckoned }, plan, way }: Chosen): string[] {
  const { stops } = reckoned.on;
  const last = stops.length - 1;
  const ends = plan.kind === "new_cable" ? [0, last] : plan.landed === null ? [] : [plan.landed === "left" ? 0 : last];
  const named = (at: number): string => {
    const [place, stop] = [stops[at]?.place, stops[at]?.stop];
    return place ? `place ${place.id}` : `stop ${stop?.id}`;
  };
  return [...plan.points.map(({ at }) => (at === "cut" ? `way ${way}` : named(at))), ...ends.map(named)];
}

/** A circuit without a priority comes after all that have one, and what carries none at the end: priorities are 1 to 9. */
const LAST = 10;

/** Unit by unit over all cables, the one with the most urgent circuit in service first; of alike ones as the cables come. */
function turnsOf(chosen: readonly Chosen[]): MendTurn[] {
  const units = chosen.flatMap(({ told: { answer }, plan }) =>
    [
      ...Map.groupBy(
        plan.dark_only ? answer.order.filter(({ shines }) => !shines) : answer.order,
        ({ unit_order }) => unit_order,
      ).values(),
    ].map((strands) => {
      const circuits = servedBy(strands);
      const urgency = Math.min(LAST + 1, ...circuits.map(({ priority }) => priority ?? LAST));
      const numbers = strands.map(({ number }) => number);
      const [first] = strands;
      return { urgency, turn: { cable: answer.cable, unit: first?.unit ?? null, strands: rangeOf(numbers), circuits } };
    }),
  );
  return units.sort((a, b) => a.urgency - b.urgency).map(({ turn }) => turn);
}

/** What comes back with a unit, each circuit once. */
const servedBy = (strands: readonly MendStrand[]): MendCircuit[] => [
  ...new Map(
    strands
      .flatMap(({ circuits }) => circuits)
      .filter(({ state = "in_service" }) => state === "in_service")
      .toSorted((a, b) => (a.priority ?? LAST) - (b.priority ?? LAST))
      .map((one) => [one.circuit.id, one]),
  ).values(),
];

function rangeOf(numbers: readonly number[]): string {
  const [least, most] = [Math.min(...numbers), Math.max(...numbers)];
  return least === most ? String(least) : `${least}-${most}`;
}

/** Holes in which mends of more than one cable put a case, and whether all have room there. */
export function sharedHoles(used: readonly Used[], case_m: number): MendShared[] {
  // A case that is there is no further one.
  const uses = used.flatMap(({ told: { reckoned }, plan, way }) =>
    plan.points
      .filter(({ loop }) => loop?.reaches !== "opened")
      .map((point) => {
        const { on, cable } = reckoned;
        const place = point.at === "cut" ? null : (on.stops[point.at]?.place ?? null);
        const inner_m = point.at === "cut" ? null : (on.course.stops[point.at]?.inner_m ?? null);
        // A hole that is dug is of the way it is dug in.
        const hole = place ? `place ${place.id}` : `way ${way}`;
        return { cable, place, hole, inner_m, long_m: longOf(on, point.at), ...inHole(reckoned, point) };
      }),
  );
  const holes = [...Map.groupBy(uses, ({ hole }) => hole).values()].filter((own) => own.length > 1);
  return holes.map((own): MendShared => {
    const [first] = own as [(typeof own)[number]];
    const radii = own.map(({ radius_m }) => radius_m);
    const unknown = first.inner_m === null || radii.includes(null);
    const needs_m = roomTogether(own, case_m);
    const fits = unknown || first.long_m === null ? null : first.long_m >= needs_m;
    const tags = own.map(({ cable }) => cable.tag).join(", ");
    const where = first.place?.tag ?? say`A new hole`;
    const room =
      fits === null
        ? say`whether it has room for them is not known${unknown && first.place ? "" : say`: make it large enough`}; with coils they need at least ${metres(needs_m)}`
        : say`it is ${metres(first.long_m ?? 0)} long, and with coils at their radius they need ${metres(needs_m)}: ${fits ? say`there is room` : say`there is no room for all`}`;
    return {
      place: first.place,
      cables: own.map(({ cable }) => cable),
      fits,
      words: say`${where} takes ${own.length} cases, of ${tags}; ${room}.`,
    };
  });
}
