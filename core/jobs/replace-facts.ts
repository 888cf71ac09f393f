/** What a new cable is to take over from the one it replaces: joints by place, the cases entered, and which strands still shine. */
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
