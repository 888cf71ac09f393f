/** In which change set records came onto record. */
import type { KindName } from "../model/dictionary.ts";
import type { Reader } from "./handle.ts";

/**
 * The last change set that added each record: what was added later was not on record before. A record of which the
 * history knows no beginning is left out.
 */
export async function enteredIn(reader: Reader, kind: KindName, ids: readonly number[]): Promise<Map<number, number>> {
  const singly = await reader.rows<{ id: number; entered: number }>(
    `SELECT j.value AS id, max(e.change_set_id) AS entered FROM json_each(?) j
     JOIN change_entry e ON e.kind = ? AND e.record_id = j.value AND e.op = 'insert' GROUP BY j.value`,
    [JSON.stringify(ids), kind],
  );
  const entered = new Map(singly.map((one) => [one.id, one.entered]));
  const ranges = await reader.rows<{ first: number; last: number; entered: number }>(
    `SELECT record_id AS first, last_id AS last, change_set_id AS entered FROM change_entry
     WHERE kind = ? AND op = 'insert_range' ORDER BY change_set_id`,
    [kind],
  );
  for (const { first, last, entered: later } of ranges)
    for (const id of ids) if (id >= first && id <= last && later > (entered.get(id) ?? 0)) entered.set(id, later);
  return entered;
}
