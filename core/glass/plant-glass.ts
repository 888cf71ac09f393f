/**
 * The memory reader of the graph: the whole plant's glass as columns of numbers, for bulk questions. A million strands
 * take some tens of megabytes; it is kept current from the change sets.
 */
import type { Pause } from "../ports.ts";
import type { Reader } from "../store/handle.ts";
import { Joints } from "./columns.ts";
import { PlantGlass } from "./held-glass.ts";
import { JOINT_SOURCES, readJoints } from "./plant-joints.ts";
import { refreshed, revisionOf } from "./plant-refresh.ts";
import {
  emptyTable,
  lastId,
  PAGE,
  readRange,
  TABLE_NAMES,
  type Table,
  type TableName,
  type Tables,
} from "./plant-tables.ts";

export { PlantGlass } from "./held-glass.ts";

/**
 * The plant's glass as it stands. `held` is what was loaded before: where little was written since, only that is read.
 * Yields between pages, so that nothing else waits for it.
 */
export async function loadPlantGlass(
  reader: Reader,
  pause: Pause,
  held: PlantGlass | null = null,
): Promise<PlantGlass> {
  if (held && (await refreshed(reader, held))) return held;
  const tables: Partial<Record<TableName, Table<TableName>>> = {};
  for (const name of TABLE_NAMES) {
    const table = (await emptyTable(reader, name)) as unknown as Table<TableName>;
    tables[name] = table;
    for (let from = 1; from <= table.last; from += PAGE) {
      await readRange(reader, name, table, from, from + PAGE - 1);
      await pause();
    }
  }
  const known = tables as unknown as Tables;
  let room = 0;
  for (const { table } of JOINT_SOURCES) {
    const [row] = await reader.rows<{ n: number }>(`select count(*) as n from ${table}`);
    room += row?.n ?? 0;
  }
  const joints = new Joints(room, known.section.last, known.position.last);
  for (const source of JOINT_SOURCES) {
    const last = await lastId(reader, source.table);
    for (let from = 1; from <= last; from += PAGE) {
      await readJoints(reader, joints, source, from, from + PAGE - 1);
      await pause();
    }
  }
  return new PlantGlass(await revisionOf(reader), known, joints);
}
