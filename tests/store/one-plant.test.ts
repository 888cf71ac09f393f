import { describe, expect, it } from "vitest";
import { newPlant } from "../support/plant.ts";

describe("the plant of a file", () => {
  it("can't be deleted, and says to change it", async () => {
    const plant = await newPlant();
    const reply = await plant.call("record.remove", { kind: "plant", ids: [1] });
    expect(reply).toMatchObject({
      ok: false,
      error: { code: "not_possible", problems: [{ reason: "is the plant of this file and can't be deleted" }] },
    });
    expect(await plant.run("plant.read", {})).toMatchObject({ id: 1 });
  });

  it("gets no second one beside it, whichever row of many adds it", async () => {
    const plant = await newPlant();
    const reply = await plant.call("record.change_many", {
      changes: [
        { op: "add", kind: "building", values: { tag: "LIB" } },
        { op: "add", kind: "plant", values: { name: "Second" } },
      ],
    });
    expect(reply).toMatchObject({
      ok: false,
      error: { code: "not_possible", problems: [{ row: 2, record: "Second" }] },
    });
    expect(await plant.run("record.window", { kind: "building" })).toMatchObject({ total: 0 });
    expect(await plant.run("record.window", { kind: "plant" })).toMatchObject({ total: 1 });
  });

  it("is changed like any record", async () => {
    const plant = await newPlant();
    await plant.run("record.edit", { kind: "plant", id: 1, values: { name: "Renamed" } });
    expect(await plant.run("plant.read", {})).toMatchObject({ name: "Renamed" });
  });
});
