/** The fifth migration: who keeps a cable, in a file that was made before. */
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { createPlant } from "../../host/plant-file.ts";
import { Connection } from "../../host/sqlite-connection.ts";
import { MIGRATIONS } from "../../migrations/index.ts";
import { newFolder, newPlant } from "../support/plant.ts";
import { query } from "./old-plant.ts";

describe("a file from before the fifth migration", () => {
  it("keeps its cables, which are kept by their owners until somebody says otherwise", async () => {
    const path = join(newFolder(), "old.strandbook");
    await createPlant(path, "Old Campus", MIGRATIONS.slice(0, 4));
    const connection = new Connection(path);
    connection.run("INSERT INTO party (id, rev, tag, role) VALUES (1, 1, 'ISLES', 'carrier'), (2, 1, 'US', 'self')");
    connection.run("INSERT INTO cable (id, rev, tag, life, owner_id) VALUES (1, 1, 'X-1', 'in_place', 1)");
    connection.close();
    const plant = await newPlant({ path });
    await plant.run("record.edit", { kind: "cable", id: "X-1", values: { kept_by_id: "US" } });
    await plant.close();
    expect(query(path, "SELECT tag, owner_id, kept_by_id FROM cable")).toEqual([
      { tag: "X-1", owner_id: 1, kept_by_id: 2 },
    ]);
  });
});
