/** The seventh migration: how far another file was seen by a merge, in a file that was made before. */
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { createPlant } from "../../host/plant-file.ts";
import { MIGRATIONS } from "../../migrations/index.ts";
import { newFolder, newPlant } from "../support/plant.ts";
import { query } from "./old-plant.ts";

describe("a file from before the seventh migration", () => {
  it("has seen no other file yet, keeps what is on record, and can be merged from then on", async () => {
    const path = join(newFolder(), "old.strandbook");
    await createPlant(path, "Old Campus", MIGRATIONS.slice(0, 6));
    const before = query<{ name: string }>(path, "SELECT name FROM plant");
    const office = await newPlant({ path });
    expect(query(path, "SELECT * FROM merge_seen")).toEqual([]);
    expect(query(path, "SELECT name FROM plant")).toEqual(before);
    await office.run("record.add", { kind: "building", values: { tag: "LIB" } });
    const copy = join(newFolder(), "field.strandbook");
    await office.application.file.saveCopy(copy);
    const field = await newPlant({ path: copy });
    await field.run("record.add", { kind: "building", values: { tag: "GYM" } });
    await office.run("merge.apply", { file: copy });
    expect(query(path, "SELECT their_id FROM merge_seen")).toEqual([{ their_id: 2 }]);
  });
});
