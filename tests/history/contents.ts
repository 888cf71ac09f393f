/** All records of a plant as they stand, to hold one file against another. */
import { KIND_NAMES } from "../../core/model/dictionary.ts";
import { FIELD_NAMES } from "../../core/store/relations.ts";
import type { TestPlant } from "../support/plant.ts";

/** By kind each record's id and fields; which change set wrote a row is left out. */
export function contents(plant: TestPlant): Promise<Record<string, unknown[]>> {
  return plant.store.read(async (reader) => {
    const all: Record<string, unknown[]> = {};
    for (const kind of KIND_NAMES) {
      const fields = ["id", ...FIELD_NAMES[kind]].map((name) => `"${name}"`).join(", ");
      const rows = await reader.rows(`SELECT ${fields} FROM "${kind}" ORDER BY id`);
      if (rows.length > 0) all[kind] = rows;
    }
    return all;
  });
}
