/** The second migration: a desk in the plant file for what is typed and no record yet. */
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { createPlant } from "../../host/plant-file.ts";
import { MIGRATIONS } from "../../migrations/index.ts";
import { newFolder, newPlant } from "../support/plant.ts";
import { query } from "./old-plant.ts";

describe("a plant file made before there was a desk", () => {
  it("is given an empty one, and everything on record stays as it was", async () => {
    const path = join(newFolder(), "before.strandbook");
    await createPlant(path, "Before", MIGRATIONS.slice(0, 1));
    const before = query<{ name: string }>(path, "SELECT name FROM plant");
    const plant = await newPlant({ path });
    await plant.close();
    expect(query(path, "PRAGMA user_version")).toEqual([{ user_version: MIGRATIONS.length }]);
    expect(query(path, "SELECT * FROM desk")).toEqual([]);
    expect(query(path, "SELECT name FROM plant")).toEqual(before);
  });
});
