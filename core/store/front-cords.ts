/** Which cord was plugged or pulled where a change says that a port's front was seen with one, or is now bare. */
import type { Reader } from "./handle.ts";
import { IDS } from "./relations.ts";

/** What is looked at of a change. */
interface Changed {
  readonly kind: string;
  readonly id: number;
  readonly before: Readonly<Record<string, unknown>>;
  readonly after: Readonly<Record<string, unknown>>;
}

const SEEN = "cord";

/** @returns the cords that the same changes concern, by the port they are plugged into */
export async function cordsAtFronts(
  reader: Reader,
  changes: readonly Changed[],
): Promise<ReadonlyMap<number, readonly number[]>> {
  const found = new Map<number, number[]>();
  const fronts = changes.filter(
    ({ kind, before, after }) => kind === "port" && [before.front, after.front].includes(SEEN),
  );
  const cords = changes.filter(({ kind }) => kind === "cord");
  if (fronts.length === 0 || cords.length === 0) return found;
  const ports = new Set(fronts.map(({ id }) => id));
  // An update in the history holds only what it changed: where the cord is plugged stands on record.
  const rows = await reader.rows<{ id: number; a_port_id: number | null; b_port_id: number | null }>(
    `SELECT id, a_port_id, b_port_id FROM cord WHERE id IN ${IDS}`,
    [JSON.stringify(cords.map(({ id }) => id))],
  );
  const onRecord = new Map(rows.map((row) => [row.id, row]));
  for (const { id, before, after } of cords)
    for (const end of ["a_port_id", "b_port_id"] as const)
      for (const port of new Set([before[end], after[end] ?? onRecord.get(id)?.[end]]))
        if (typeof port === "number" && ports.has(port)) found.set(port, [...(found.get(port) ?? []), id]);
  return found;
}
