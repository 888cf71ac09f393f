/** What a new cable is to take over from the one it replaces: joints by place, the cases entered, and which strands still shine. */
import type { Side } from "../repair/course.ts";
import type { MendReckoned } from "../repair/mend.ts";
import { addressesOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { type GlassUnit, glassUnits } from "./glass-units.ts";
import { type OuterJoint, outerJoints } from "./outer-joints.ts";

export interface ReplaceFacts {
  readonly joints: readonly OuterJoint[];
  /** The case the cable enters at each stop, by address. */
  readonly cases: readonly (string | null)[];
  /** The cable goes on beyond the stops that are replaced, after a gap that a piece fills. */
  readonly goes_on: boolean;
  /** Units with what is dark, and after them those of which strands still shine and are taken off last. */
  readonly units: readonly GlassUnit[];
  readonly shining: readonly GlassUnit[];
}

export interface TakenOver extends Omit<ReplaceFacts, "goes_on"> {
  /** The stop of the old one at which the new one begins, by its place along it; the first where it is left out. */
  readonly from?: number;
  /** Circuits that the cut left alone, where the new one is spliced only afterwards to what the cut took down. */
  readonly alone?: ReadonlySet<string>;
}

/** What a piece up to an end takes over on its way there; null where nothing branches off before that end. */
export async function throughFacts(
  reader: Reader,
  reckoned: MendReckoned,
  { landed, from, before }: { readonly landed: Side | null; readonly from: number; readonly before: number },
  over: readonly GlassUnit[],
  today: string,
): Promise<TakenOver | null> {
  if (landed === null) return null;
  const { cable, on } = reckoned;
  const beyond = reckoned.inside ? reckoned.inside.stop + 1 : before + 1;
  const facts = await replaceFacts(reader, reckoned, null, today);
  const joints = facts.joints.filter(({ at }) => (landed === "right" ? at >= beyond : at <= before));
  const end = landed === "right" ? on.stops.length - 1 : 0;
  if (joints.every(({ at }) => at === end)) return null;
  const cut = new Set(over.flatMap(({ circuits }) => circuits.map(({ id }) => id)));
  const orders = await ordersOf(reader, cable.id);
  const order = (index: number): number => orders.get(on.stops[index]?.stop.id ?? 0) ?? 0;
  const stretch =
    landed === "right"
      ? { before: order(before), after: Number.MAX_SAFE_INTEGER }
      : { before: -1, after: order(beyond) };
  const units = await glassUnits(reader, cable.id, today, null, stretch);
  const circuits = units.flatMap((unit) => unit.circuits);
  const alone = new Set(circuits.flatMap(({ id, tag }) => (cut.has(id) ? [] : [tag])));
  return { joints, cases: facts.cases, units, shining: [], from, alone };
}

async function ordersOf(reader: Reader, cable_id: number): Promise<Map<number, number>> {
  const rows = await reader.rows<{ id: number; ordinal: number }>("select id, ordinal from stop where cable_id = ?", [
    cable_id,
  ]);
  return new Map(rows.map(({ id, ordinal }) => [id, ordinal]));
}

export async function replaceFacts(
  reader: Reader,
  { cable, on, waiting }: MendReckoned,
  dark: ReadonlySet<number> | null,
  today: string,
): Promise<ReplaceFacts> {
  const ids = on.stops.map(({ stop }) => stop.id);
  const rows = await reader.rows<{ id: number; closure_id: number | null }>(
    "select id, closure_id from stop where cable_id = ? order by ordinal",
    [cable.id],
  );
  const cases = await addressesOf(reader, "closure", new Set(rows.flatMap(({ closure_id }) => closure_id ?? [])));
  const entered = new Map(rows.map(({ id, closure_id }) => [id, cases.get(closure_id ?? 0) ?? null]));
  const known = new Set([...ids, waiting?.stop_id]);
  const strands = await reader.rows<{ number: number }>("select number from strand where cable_id = ?", [cable.id]);
  const lit = dark && new Set(strands.flatMap(({ number }) => (dark.has(number) ? [] : [number])));
  return {
    joints: await outerJoints(reader, cable.id, ids),
    cases: ids.map((id) => entered.get(id) ?? null),
    goes_on: rows.some(({ id }) => !known.has(id)),
    units: await glassUnits(reader, cable.id, today, dark),
    shining: lit ? await glassUnits(reader, cable.id, today, lit) : [],
  };
}
