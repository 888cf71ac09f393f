/** A file is the record of one plant: its own row is changed, and never deleted or given a second. */
import { refuse } from "../result.ts";
import { say } from "../words/say.ts";
import type { Draft } from "./draft.ts";
import type { Reader } from "./handle.ts";

/** Refuses `not_possible` a draft that would leave the file without its plant, or with another one. */
export async function refuseOtherPlants(reader: Reader, draft: Draft): Promise<void> {
  const part = draft.get("plant");
  if (!part || part.inserts.size + part.deletes.size === 0) return;
  const rows = await reader.rows<{ id: number; name: string }>("SELECT id, name FROM plant ORDER BY id");
  const stay = rows.filter(({ id }) => !part.deletes.has(id));
  const [gone] = part.deletes.values();
  const [added] = part.inserts.values();
  if (stay.length + part.inserts.size === 0 && gone) {
    const record = rows.find(({ id }) => id === gone.id)?.name ?? say`the plant`;
    refuse("not_possible", say`${record} is the plant of this file and stays. Change what it says instead.`, [
      { ...at(gone.row), record, reason: say`is the plant of this file and can't be deleted` },
    ]);
  }
  if (added && stay.length + part.inserts.size > 1) {
    const own = stay[0]?.name ?? say`one plant`;
    const record = String(added.values.name ?? say`new plant`);
    refuse("not_possible", say`This file is the record of ${own}. Make a file of its own for another plant.`, [
      { ...at(added.row), record, reason: say`is a second plant beside ${own}` },
    ]);
  }
}

const at = (row: number | undefined) => (row === undefined ? {} : { row });
