/** The third migration: templates and sheets for labels, in a file that was made before them. */
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { createPlant } from "../../host/plant-file.ts";
import { MIGRATIONS } from "../../migrations/index.ts";
import { newFolder, newPlant } from "../support/plant.ts";
import { query } from "./old-plant.ts";

describe("a file from before the third migration", () => {
  it("takes templates and sheets once it is opened, and keeps its plant", async () => {
    const path = join(newFolder(), "old.strandbook");
    await createPlant(path, "Old Campus", MIGRATIONS.slice(0, 2));
    expect(query(path, "PRAGMA user_version")).toEqual([{ user_version: 2 }]);
    const plant = await newPlant({ path });
    await plant.run("record.add", {
      kind: "label_template",
      values: { tag: "street", place: "outdoor", text: "{tag}\n{count} strands" },
    });
    await plant.run("record.add", { kind: "label_sheet", values: { tag: "small", label_height_mm: 12.7 } });
    expect(await plant.run("plant.read")).toMatchObject({ name: "Old Campus" });
    await plant.close();
    expect(query(path, "SELECT tag, place, code FROM label_template")).toEqual([
      { tag: "street", place: "outdoor", code: null },
    ]);
    expect(query(path, "SELECT tag, form, label_height_mm, columns FROM label_sheet")).toEqual([
      { tag: "small", form: "sheet", label_height_mm: 12.7, columns: null },
    ]);
  });
});

describe("a template with a blank that refers to nothing", () => {
  it("is refused by the blank's name", async () => {
    const plant = await newPlant();
    const reply = await plant.call("record.add", {
      kind: "label_template",
      values: { tag: "odd", place: "indoor", text: "{tag} {serves}" },
    });
    expect(reply).toMatchObject({
      ok: false,
      error: { problems: [expect.objectContaining({ reason: expect.stringContaining("{serves}") })] },
    });
  });
});
