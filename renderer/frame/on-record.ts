/** What was kept as not written may stand on record by now: its window ended while it was on its way, or another wrote it. */
import { fieldOf, type KindName } from "../../core/model/dictionary.ts";
import type { Client } from "../client/client.ts";
import { settings } from "../client/settings.ts";
import { readCell } from "../grid/reading.ts";
import type { GridRow } from "../grid/row-source.ts";
import { editText } from "../grid/showing.ts";
import { today } from "../grid/today.ts";
import { idOf, type TypedAway } from "../grid/typed.ts";

type Tables = readonly (readonly [KindName, readonly TypedAway[]])[];

export interface Sifted {
  readonly left: Tables;
  readonly onRecord: Tables;
}

/** Parts the cells that say what is on record from those that don't. */
export async function siftOnRecord(client: Client, tables: Tables): Promise<Sifted> {
  const left: (readonly [KindName, readonly TypedAway[]])[] = [];
  const onRecord: (readonly [KindName, readonly TypedAway[]])[] = [];
  for (const [kind, cells] of tables) {
    const ids = [...new Set(cells.flatMap(({ row }) => idOf(row) ?? []))];
    const reply = ids.length > 0 ? await client.call("record.chosen", { kind, ids }) : null;
    const rows = new Map((reply?.ok ? reply.value.rows : []).map((row) => [row.id, row]));
    const { true: there = [], false: not = [] } = Object.groupBy(cells, (one) => `${stands(kind, one, rows)}` as const);
    if (there.length > 0) onRecord.push([kind, there]);
    if (not.length > 0) left.push([kind, not]);
  }
  return { left, onRecord };
}

function stands(kind: KindName, { row, field: name, cell }: TypedAway, rows: ReadonlyMap<number, GridRow>): boolean {
  const record = rows.get(idOf(row) ?? 0);
  const field = fieldOf(kind, name);
  if (!record || !field) return false;
  const value = record.values[name] ?? null;
  const lengths = settings.get().unit;
  const reading = readCell(kind, name, field, cell.text, { today: today(), lengths, wholeWords: true });
  if (reading.is === "refused") return false;
  if (reading.is === "value") return reading.value === value;
  // A record is named by its address.
  return value !== null && editText(field, value, record.shown[name] ?? null, lengths) === reading.text;
}
