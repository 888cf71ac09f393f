/**
 * Metallic members: at each building that a cable enters they are bonded, or broken by an isolating joint where it comes
 * in; at a case the armour is carried through or bonded.
 */

import { say } from "../words/say.ts";
import type { Facts, FitCable, FitStop } from "./facts.ts";
import { type About, type Judgement, judgement } from "./judgement.ts";
import { lacking, metalLacks, metalOf, sheetRecord } from "./weather.ts";
import { sideOf } from "./where.ts";

type State = "bonded" | "isolated" | "unbonded" | "not_on_record";

/** Places of one building that a cable runs through one after the other, the one it comes in by at either end. */
interface Stay {
  readonly building_id: number | null;
  readonly stops: readonly FitStop[];
  /** Stops next to the outside or to another building. */
  readonly entrances: readonly FitStop[];
}

/** The buildings a cable enters, in order; one that it never leaves is entered by nobody. */
export function staysOf(facts: Facts, cable: FitCable): Stay[] {
  const runs: { building_id: number | null; indoors: boolean; stops: FitStop[] }[] = [];
  for (const stop of cable.stops) {
    const space = facts.spaces.get(stop.space_id ?? 0);
    const indoors = sideOf(space) === "indoors";
    const building_id = indoors ? (space?.building_id ?? null) : null;
    const last = runs.at(-1);
    if (last && last.indoors === indoors && last.building_id === building_id) last.stops.push(stop);
    else runs.push({ building_id, indoors, stops: [stop] });
  }
  if (runs.length < 2) return [];
  return runs.flatMap(({ building_id, indoors, stops }, i) => {
    if (!indoors) return [];
    const [first, last] = [stops[0] as FitStop, stops.at(-1) as FitStop];
    const entrances = [...(i > 0 ? [first] : []), ...(i < runs.length - 1 && !(i > 0 && last === first) ? [last] : [])];
    return [{ building_id, stops, entrances }];
  });
}

const bondOf = (facts: Facts, stop: FitStop) =>
  facts.bondsOfStop.get(stop.id)?.[0] ??
  (stop.closure_id === null ? undefined : facts.bondsOfClosure.get(stop.closure_id)?.[0]);

/** What is on record of the metal in one building: an entrance seen unbonded first, whatever is bonded farther in. */
function stateOf(
  facts: Facts,
  { stops, entrances }: Stay,
): { readonly state: State; readonly stop: FitStop; readonly bond?: About } {
  const first = entrances[0] ?? (stops[0] as FitStop);
  const open = entrances.find(({ metal }) => metal === "unbonded");
  if (open) return { state: "unbonded", stop: open };
  // Isolating it farther in leaves metal from the wall to there.
  const isolated = entrances.filter(({ metal }) => metal === "isolated");
  if (isolated.length > 0 && isolated.length === entrances.length)
    return { state: "isolated", stop: isolated[0] as FitStop };
  const bonded = stops.find((stop) => stop.metal !== "unbonded" && (stop.metal === "bonded" || bondOf(facts, stop)));
  if (bonded) {
    const bond = bondOf(facts, bonded);
    return { state: "bonded", stop: bonded, ...(bond ? { bond: ["bond", bond.id] as const } : {}) };
  }
  const unbonded = stops.find(({ metal }) => metal === "unbonded");
  return unbonded ? { state: "unbonded", stop: unbonded } : { state: "not_on_record", stop: first };
}

export function metal(facts: Facts, cable: FitCable): Judgement[] {
  return [...betweenBuildings(facts, cable), ...atCases(facts, cable)];
}

function betweenBuildings(facts: Facts, cable: FitCable): Judgement[] {
  const stays = staysOf(facts, cable);
  if (stays.length === 0) return [];
  const has = metalOf(cable);
  const sheet = sheetRecord(cable);
  const told = { armour: cable.sheet.armour, metal: cable.sheet.metal };
  if (has === "none") return [judgement("metal", "fits", [sheet], { facts: { ...told, state: "no_metal" } })];
  if (has === "unknown") {
    return [
      judgement("metal", "cannot_tell", [sheet], { facts: { ...told, state: "unknown" }, lacks: metalLacks(cable) }),
    ];
  }
  return stays.map((stay): Judgement => {
    const { state, stop, bond } = stateOf(facts, stay);
    const good = state === "bonded" || state === "isolated";
    const place = stay.building_id ?? stop.space_id;
    return judgement(
      "metal",
      good ? "fits" : "does_not",
      [["stop", stop.id], place !== null && [stay.building_id === null ? "space" : "building", place], bond, sheet],
      { facts: { ...told, state, seen_on: stop.metal_on } },
    );
  });
}

function atCases(facts: Facts, cable: FitCable): Judgement[] {
  if (cable.sheet.armour !== "metallic") return [];
  return cable.stops.flatMap((stop): Judgement[] => {
    const indoors = sideOf(facts.spaces.get(stop.space_id ?? 0)) === "indoors";
    if (stop.closure_id === null) {
      // Indoors a cable ends at a panel; elsewhere an end or an opening without a case is one that nobody noted.
      if (stop.kind === "passing" || (stop.kind === "end" && indoors)) return [];
      return [
        judgement("armour_at_case", "cannot_tell", [["stop", stop.id], sheetRecord(cable)], {
          facts: { state: stop.metal },
          lacks: [lacking(say`the case it enters`, ["stop", stop.id])],
        }),
      ];
    }
    const bond = bondOf(facts, stop);
    const good =
      stop.metal === "carried_through" ||
      stop.metal === "bonded" ||
      (bond !== undefined && stop.metal !== "unbonded") ||
      // Inside a building an isolating joint is what the rule of entrances asks for, and is judged there.
      (indoors && stop.metal === "isolated");
    return [
      judgement(
        "armour_at_case",
        good ? "fits" : "does_not",
        [["stop", stop.id], ["closure", stop.closure_id], bond && ["bond", bond.id], sheetRecord(cable)],
        { facts: { state: stop.metal } },
      ),
    ];
  });
}
