/** What pulling a cable along a way would take, from either end. */

import { say } from "../words/say.ts";
import type { Facts, FitCable, FitPathway } from "./facts.ts";
import {
  type About,
  derived,
  type Figure,
  type Judgement,
  judgement,
  type Lack,
  limitFigure,
  recorded,
  round,
} from "./judgement.ts";
import { type Limits, saidOf } from "./limits.ts";
import { bendsOf, type RoutePart, routeParts, tensionAfter, weightOf } from "./reckon.ts";
import { lacking, lackingLength, sheetRecord } from "./weather.ts";

type Pulled = Pick<FitCable, "id" | "type_id" | "type_tag" | "sheet" | "strands">;

/** Newtons a metre of a cable: as the plant gives it for its type in kg/km, else from its diameter; or what it lacks. */
export function weightFigure(cable: Pulled, limits: Limits): Figure | Lack {
  const own = cable.type_tag === null ? undefined : limits.get(`weight.${cable.type_tag}`);
  if (own) {
    const limit = limitFigure(own, say`weight of the cable`);
    return {
      ...limit,
      value: round((own.value / 1000) * 9.80665),
      unit: "N/m",
      source: `${own.value} kg/km: ${limit.source}`,
    };
  }
  const wrong = cable.type_tag === null ? undefined : limits.senseless(`weight.${cable.type_tag}`);
  const { outer_diameter_mm: across, armour } = cable.sheet;
  const density = limits.get(armour === "metallic" ? "pull.density.armoured" : "pull.density");
  const sheet = sheetRecord(cable as FitCable);
  if (!across || across <= 0 || !density || density.value <= 0) return lacking(say`an outer diameter`, sheet);
  const limit = limitFigure(density, say`weight of the cable`);
  return {
    ...limit,
    value: round(weightOf(across, density.value)),
    unit: "N/m",
    basis: "typical",
    source: `${wrong ? say`the plant's own ${saidOf(wrong)} can't be; ` : ""}${say`${density.value} kg/m³ of its volume at ${across} mm: ${limit.source}`}`,
    rests_on: [...limit.rests_on, sheet],
  };
}

/** Strands of the indoor cable for which a tension is published. */
const SMALL: readonly number[] = [2, 4];

/** The greatest tension a cable bears in newtons: of its sheet, else of cable made for such a place; or what it lacks. */
export function tensionLimit(cable: Pulled, limits: Limits): Figure | Lack {
  const { max_tension_n: own, environment, construction } = cable.sheet;
  const sheet = sheetRecord(cable as FitCable);
  if (own !== null && own > 0)
    return recorded(say`greatest tension`, own, "N", sheet, say`the data sheet, or what the cable has otherwise`);
  const small = cable.strands !== null && SMALL.includes(cable.strands);
  if (environment === "indoor" && !small) {
    const known = limits.get("pull.tension.indoor");
    const but = known ? say` (${saidOf(known)} holds for indoor cable of two or four strands alone)` : "";
    return lacking(say`the greatest tension it bears${but}`, sheet);
  }
  const tag =
    environment === "indoor"
      ? "pull.tension.indoor"
      : environment !== null && construction === "loose_tube"
        ? "pull.tension.outdoor"
        : null;
  const limit = tag === null ? undefined : limits.get(tag);
  return limit
    ? limitFigure(limit, say`greatest tension of such a cable`)
    : lacking(say`the greatest tension it bears`, sheet);
}

export const isFigure = (one: Figure | Lack): one is Figure => "value" in one;

export interface Route {
  readonly parts: readonly RoutePart[];
  /** What the route lacks: a length, or its line on the map. */
  readonly lacks: readonly Lack[];
  readonly figures: readonly Figure[];
}

/** The straights and bends of a way in its own direction; a riser is upright all along, for the level part isn't known. */
export function routeOf(way: FitPathway): Route {
  const of: About = ["pathway", way.id];
  if (way.length_m === null) return { parts: [], lacks: [lackingLength(way)], figures: [] };
  const stand = (parts: readonly RoutePart[]): RoutePart[] =>
    parts.map((part) => ("length" in part && way.kind === "riser" ? { upright: part.length } : part));
  const length = recorded(say`length of the way`, way.length_m, "m", of, say`the pathway`);
  const line = way.geometry === null ? null : (JSON.parse(way.geometry) as [number, number][]);
  if (line === null || line.length < 2) {
    return {
      parts: stand([{ length: way.length_m }]),
      lacks: [lacking(say`its bends (a line on the map)`, of)],
      figures: [length],
    };
  }
  const parts = stand(routeParts(line, way.length_m));
  const bends = derived(say`bends of the way`, bendsOf(parts), "°", say`its line on the map`, [of]);
  return { parts, lacks: [], figures: [length, bends] };
}

/** Ways that cable is pulled through; elsewhere it is laid, lashed or buried. */
export const isPulled = (way: FitPathway, held: string | null): boolean =>
  (held === null || held === "loose") && (way.kind === "duct_bank" || way.kind === "sleeve" || way.kind === "riser");

export interface Pull {
  readonly verdict: Judgement["verdict"];
  readonly facts: Judgement["facts"];
  readonly figures: readonly Figure[];
  readonly lacks: readonly Lack[];
}

/** A pull along a route, from its beginning and from its end. */
export function pull(cable: Pulled, { parts, lacks, figures }: Route, limits: Limits, on: readonly About[]): Pull {
  const weight = weightFigure(cable, limits);
  const most = tensionLimit(cable, limits);
  const friction = limits.get("pull.friction.dry");
  const bends = limits.get("pull.bends_deg");
  const missing = [...lacks, ...[weight, most].flatMap((one) => (isFigure(one) ? [] : [one]))];
  const shown = [
    ...figures,
    ...[weight, most].filter(isFigure),
    ...(friction ? [limitFigure(friction, say`friction`)] : []),
  ];
  if (!isFigure(weight) || !friction || friction.value < 0 || parts.length === 0) {
    return { verdict: "cannot_tell", facts: {}, figures: shown, lacks: missing };
  }
  const there = tensionAfter(parts, weight.value as number, friction.value);
  const back = tensionAfter(parts.toReversed(), weight.value as number, friction.value);
  const hangs = parts.some((part) => "upright" in part);
  const how = say`friction × weight × length, and e^(friction × angle) in each bend, in the order of the way${hangs ? say`; upright at least weight × length` : ""}`;
  const tensions = [
    derived(say`tension pulled along the way`, there, "N", how, on),
    derived(say`tension pulled against the way`, back, "N", how, on),
  ];
  const degrees = round(bendsOf(parts), 0);
  const bent = bends !== undefined && degrees > bends.value;
  const facts = {
    there_n: round(there, 0),
    back_n: round(back, 0),
    most_n: isFigure(most) ? most.value : null,
    at_least: lacks.length > 0 ? "yes" : "no",
    hangs: hangs ? "yes" : "no",
    bends_deg: degrees,
    bends_over: bent && bends ? bends.value : null,
  };
  const limit = isFigure(most) ? (most.value as number) : null;
  const verdict: Judgement["verdict"] =
    limit !== null && Math.min(there, back) > limit
      ? "does_not"
      : limit === null || lacks.length > 0
        ? "cannot_tell"
        : Math.max(there, back) > limit || bent
          ? "caution"
          : "fits";
  return {
    verdict,
    facts,
    figures: [
      ...tensions,
      ...(bent && bends ? [limitFigure(bends, say`bends between two points of pull`)] : []),
      ...shown,
    ],
    lacks: missing,
  };
}

export function tensions(facts: Facts, cable: FitCable, limits: Limits): Judgement[] {
  return cable.legs.flatMap((leg): Judgement[] => {
    const way = facts.pathways.get(leg.pathway_id ?? 0);
    if (!way || !isPulled(way, leg.held)) return [];
    const records: About[] = [["leg", leg.id], ["pathway", way.id], sheetRecord(cable)];
    const { verdict, ...more } = pull(cable, routeOf(way), limits, records.slice(1));
    return [judgement("tension", verdict, records, more)];
  });
}
