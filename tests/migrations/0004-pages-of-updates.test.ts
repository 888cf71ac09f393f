/** The fourth migration: history may keep a change of many records in pages, in a file that was made before. */
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { createPlant } from "../../host/plant-file.ts";
import { Connection } from "../../host/sqlite-connection.ts";
import { MIGRATIONS } from "../../migrations/index.ts";
import { newFolder, newPlant } from "../support/plant.ts";
import { query } from "./old-plant.ts";

/** A file of the third version in which a building was entered and renamed. */
async function storied(): Promise<string> {
  const path = join(newFolder(), "old.strandbook");
  await createPlant(path, "Old Campus", MIGRATIONS.slice(0, 3));
  const connection = new Connection(path);
  connection.run("INSERT INTO building (id, rev, tag, name, life) VALUES (1, 2, 'LIB', 'new', 'in_place')");
  for (const [id, op, data] of [
    [2, "insert", null],
    [3, "update", '{"name":["old","new"]}'],
  ] as const) {
    connection.run(
      `INSERT INTO change_set (id, at, author, act, summary, meaning, verb, records, hash)
       VALUES (?, '2026-03-01T08:00:00.000Z', 'Ada', 'record.edit', 'Test', 'change', 'do', 1, 'h' || ?)`,
      [id, id],
    );
    connection.run("INSERT INTO change_entry VALUES (?, 1, 'building', ?, 1, 1, ?)", [id, op, data]);
  }
  connection.close();
  return path;
}

describe("a file from before the fourth migration", () => {
  it("keeps its history, entry by entry, and its last change can still be undone", async () => {
    const path = await storied();
    const before = query(path, "SELECT * FROM change_entry ORDER BY change_set_id, seq");
    expect(before.length).toBeGreaterThanOrEqual(2);
    const plant = await newPlant({ path });
    expect(
      await plant.store.read((reader) => reader.rows("SELECT * FROM change_entry ORDER BY change_set_id, seq")),
    ).toEqual(before);
    await plant.run("history.undo");
    await plant.close();
    expect(query(path, "SELECT name FROM building")).toEqual([{ name: "old" }]);
  });
});
