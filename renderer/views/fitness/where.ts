/** Where along a cable a verdict belongs: at a stop, on a leg, or to the cable as a whole. */
import type { FitnessVerdict, RuleName, Verdict } from "../../../core/fitness/answer.ts";
import type { RecordRef } from "../../../core/trace/answer.ts";
import type { CableAnswer, CableLeg, CableStop } from "../../../core/trace/cable-answer.ts";
import { say } from "../../../core/words/say.ts";
import { shapeOf, VERDICTS } from "./words.ts";

export interface Spot {
  readonly key: string;
  /** The head of its column: the place or the way. */
  readonly words: string;
  readonly what: "stop" | "leg" | "cable";
  readonly record: RecordRef | null;
}

export interface Cell {
  readonly verdict: Verdict;
  /** The worst one here. */
  readonly one: FitnessVerdict;
}

export interface FitnessMatrix {
  /** In order along the cable, what concerns the whole of it first; without spots of which nothing is said. */
  readonly spots: readonly Spot[];
  readonly rules: readonly RuleName[];
  readonly cell: (rule: RuleName, spot: Spot) => Cell | undefined;
  /** The worst verdict at `stop 0`, `leg 0`, ...; nothing where nothing was asked. */
  readonly worstAt: (key: string) => FitnessVerdict | undefined;
}

const has = (records: readonly RecordRef[], record: RecordRef | null): boolean =>
  record !== null && records.some(({ kind, id }) => kind === record.kind && id === record.id);

function atStop({ record, place }: CableStop, { records }: FitnessVerdict): boolean {
  if (has(records, record)) return true;
  // A verdict that names its leg or another stop is about that one.
  if (records.some(({ kind }) => kind === "leg" || kind === "stop")) return false;
  const { space } = place;
  const inside = records.some(({ tag }) => space !== null && tag.startsWith(`${space.tag}/`));
  return has(records, space) || has(records, place.building) || inside;
}

/** @param ends the stops that it leads from and to */
function onLeg(leg: CableLeg, ends: readonly (CableStop | undefined)[], { records }: FitnessVerdict): boolean {
  const named = records.find(({ kind }) => kind === "leg");
  // A leg has no page of its own on the cable's sheet; its name begins with its stops.
  if (named) return `${named.tag} `.startsWith(`leg ${ends.map((stop) => stop?.record.tag).join(say` to `)} `);
  if (records.some(({ kind }) => kind === "stop")) return false;
  // A pipe is one of the way's; the way itself stands for all of them.
  const pipe = records.find(({ kind }) => kind === "conduit");
  return pipe ? has([pipe], leg.conduit) : has(records, leg.pathway);
}

const severity = ({ rule, verdict }: FitnessVerdict): number =>
  VERDICTS.indexOf(verdict) * 10 - (shapeOf(rule, verdict) === "hazard" ? 1 : 0);

export function matrixOf(verdicts: readonly FitnessVerdict[], sheet: CableAnswer): FitnessMatrix {
  const cells = new Map<string, Cell>();
  const put = (spot: string, one: FitnessVerdict): void => {
    const key = `${one.rule} ${spot}`;
    const there = cells.get(key);
    if (!there || severity(one) < severity(there.one)) cells.set(key, { verdict: one.verdict, one });
  };
  for (const one of verdicts) {
    let found = false;
    for (const [index, stop] of sheet.stops.entries()) {
      if (!atStop(stop, one)) continue;
      put(`stop ${index}`, one);
      found = true;
    }
    for (const [index, leg] of sheet.legs.entries()) {
      if (!onLeg(leg, [sheet.stops[index], sheet.stops[index + 1]], one)) continue;
      put(`leg ${index}`, one);
      found = true;
    }
    if (!found) put("cable", one);
  }
  const spots: Spot[] = [{ key: "cable", words: say`the cable`, what: "cable", record: null }];
  for (const [index, stop] of sheet.stops.entries()) {
    spots.push({
      key: `stop ${index}`,
      words: stop.place.space?.tag ?? stop.record.tag,
      what: "stop",
      record: stop.record,
    });
    const leg = sheet.legs[index];
    if (!leg) continue;
    const way = leg.conduit ?? leg.pathway;
    spots.push({ key: `leg ${index}`, words: way?.tag ?? say`way not given`, what: "leg", record: way });
  }
  const worstAt = (key: string): FitnessVerdict | undefined =>
    [...cells]
      .filter(([at]) => at.endsWith(` ${key}`))
      .map(([, { one }]) => one)
      .toSorted((one, other) => severity(one) - severity(other))[0];
  const rules = [...new Set(verdicts.map(({ rule }) => rule))];
  const told = spots.filter(({ key }) => rules.some((rule) => cells.has(`${rule} ${key}`)));
  return { spots: told, rules, cell: (rule, spot) => cells.get(`${rule} ${spot.key}`), worstAt };
}
