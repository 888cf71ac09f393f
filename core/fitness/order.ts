/** Metres of cable to order for a chain of ways: the ways, the holes, coils, ends and waste. */

import { crossingOf } from "../trace/sheath.ts";
import { say } from "../words/say.ts";
import type { Facts } from "./facts.ts";
import { derived, type Figure, type Lack, limitFigure, recorded, round } from "./judgement.ts";
import type { Limits } from "./limits.ts";
import { lacking, lackingLength } from "./weather.ts";
import { sideOf } from "./where.ts";

export interface Order {
  /** Whole metres, rounded up; null where something is not known. */
  readonly length_m: number | null;
  readonly at_least_m: number;
  readonly parts: readonly Figure[];
  readonly lacks: readonly Lack[];
}

export function orderOf(
  facts: Facts,
  chosen: readonly { readonly pathway_id: number }[],
  places: readonly (number | null)[],
  limits: Limits,
): Order {
  const parts: Figure[] = [];
  const lacks: Lack[] = [];
  for (const { pathway_id } of chosen) {
    const way = facts.pathways.get(pathway_id);
    const length = way?.length_m ?? null;
    if (length === null) lacks.push(lackingLength(way ?? { id: pathway_id, senseless_m: null }));
    else parts.push(recorded(say`the way`, length, "m", ["pathway", pathway_id], say`the pathway`));
  }
  const [atEnd, inHole, waste] = ["order.coil.end", "order.coil.hole", "order.waste"].map((tag) => limits.get(tag));
  for (const [i, id] of places.entries()) {
    const space = facts.spaces.get(id ?? 0);
    if (i === 0 || i === places.length - 1) {
      if (atEnd) parts.push(limitFigure(atEnd, say`at an end of the cable`));
      continue;
    }
    const crossing = space ? crossingOf(space, null) : null;
    if (!space || crossing === null) {
      lacks.push(
        lacking(say`the way through it`, id === null ? ["pathway", chosen[i]?.pathway_id ?? 0] : ["space", id]),
      );
    } else if (space.crossing_m !== null) {
      parts.push(recorded(say`through the place`, crossing, "m", ["space", space.id], say`the place`));
    } else {
      const how = say`three quarters of the perimeter (MIL-HDBK-1012/3, read in the source)`;
      parts.push(derived(say`through the place`, crossing, "m", how, [["space", space.id]]));
    }
    if (inHole && sideOf(space) === "outdoors") {
      parts.push({
        ...limitFigure(inHole, say`coiled in the hole`),
        rests_on: [...limitFigure(inHole, "").rests_on, ["space", id ?? 0]],
      });
    }
  }
  const sum = parts.reduce((metres, { value }) => metres + (value ?? 0), 0);
  const extra = sum * (waste?.value ?? 0);
  if (waste)
    parts.push({
      ...limitFigure(waste, say`waste, ${round(waste.value * 100, 1)} % of the whole`),
      value: round(extra),
      unit: "m",
    });
  // An order is in whole metres, never short; rounding first keeps the noise of adding from costing a metre.
  const metres = Math.ceil(round(sum + extra, 6));
  return { length_m: lacks.length === 0 ? metres : null, at_least_m: metres, parts, lacks };
}
