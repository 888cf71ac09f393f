/** The sixth migration: sheath along a leg, in a file that was made before. */
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { createPlant } from "../../host/plant-file.ts";
import { Connection } from "../../host/sqlite-connection.ts";
import { MIGRATIONS } from "../../migrations/index.ts";
import { newFolder, newPlant } from "../support/plant.ts";
import { query } from "./old-plant.ts";

describe("a file from before the sixth migration", () => {
  it("keeps its legs, of whose sheath nothing is known until somebody says it", async () => {
    const path = join(newFolder(), "old.strandbook");
    await createPlant(path, "Old Campus", MIGRATIONS.slice(0, 5));
    const connection = new Connection(path);
    connection.run("INSERT INTO cable (id, rev, tag, life) VALUES (1, 1, 'X-1', 'in_place')");
    for (const end of [1, 2])
      connection.run(`INSERT INTO stop (id, rev, cable_id, ordinal, kind) VALUES (${end}, 1, 1, ${end}, 'end')`);
    connection.run("INSERT INTO leg (id, rev, from_stop_id, to_stop_id, life) VALUES (1, 1, 1, 2, 'in_place')");
    connection.close();
    const plant = await newPlant({ path });
    const legs = () => query(path, "SELECT id, length_m, length_basis FROM leg");
    expect(legs()).toEqual([{ id: 1, length_m: null, length_basis: null }]);
    await plant.run("record.edit", { kind: "leg", id: 1, values: { length_m: 145.3, length_basis: "planned" } });
    await plant.close();
    expect(legs()).toEqual([{ id: 1, length_m: 145.3, length_basis: "planned" }]);
  });
});
