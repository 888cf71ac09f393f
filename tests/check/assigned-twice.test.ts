/** When one length of glass may be given to two circuits: readings of the plant's designers; common practice, no source. */
import { describe, expect, it } from "vitest";
import { campus, circuit, give } from "./campus.ts";

const RULE = "truth.assigned_twice";

describe("one strand given to two circuits", () => {
  it("is found once, with both circuits and the days, when one is in service and one reserved", async () => {
    const plant = await campus();
    await circuit(plant, "K-2", { state: "reserved" });
    await give(plant, "K-2", "F-014:1", { from_on: "2026-07-01", until_on: "2026-08-01" });
    await give(plant, "K-2", "F-014:2", { from_on: "2026-07-01", until_on: "2026-08-01" });
    const [finding, ...more] = await plant.found(RULE);
    expect(more).toEqual([]);
    expect(finding).toMatchObject({
      severity: "error",
      count: 2,
      sentence: "`F-014:1` and 1 more are given to `K-1` and `K-2` from 2026-07-01 until 2026-08-01.",
      key: "circuit K-1; circuit K-2",
    });
    expect(finding?.records.map(({ tag }) => tag)).toEqual(["F-014:1", "F-014:2", "K-1", "K-2"]);
  });

  it("is found when one is only planned", async () => {
    const plant = await campus();
    await circuit(plant, "K-2", { state: "planned" });
    await give(plant, "K-2", "F-014:1");
    expect(await plant.found(RULE)).toHaveLength(1);
  });

  it("is right in two bands", async () => {
    const plant = await campus();
    for (const [tag, band] of [
      ["K-2", "1310"],
      ["K-3", "1530-1565"],
    ] as const) {
      await circuit(plant, tag, { state: "reserved" });
      await give(plant, tag, "F-014:3", { band });
    }
    expect(await plant.found(RULE)).toEqual([]);
  });

  it("is found in bands that overlap", async () => {
    const plant = await campus();
    for (const [tag, band] of [
      ["K-2", "1550"],
      ["K-3", "1530-1565"],
    ] as const) {
      await circuit(plant, tag, { state: "reserved" });
      await give(plant, tag, "F-014:3", { band });
    }
    expect(await plant.found(RULE)).toHaveLength(1);
  });

  it("is right where one rides on the other", async () => {
    const plant = await campus();
    await circuit(plant, "K-2", { state: "planned", rides_on: "K-1" });
    await give(plant, "K-2", "F-014:1");
    expect(await plant.found(RULE)).toEqual([]);
  });

  it("is right where one ends on the day the other begins, and found a day later", async () => {
    const plant = await campus();
    for (const tag of ["K-2", "K-3"]) await circuit(plant, tag, { state: "reserved" });
    await give(plant, "K-2", "F-014:3", { until_on: "2026-06-01" });
    const id = await give(plant, "K-3", "F-014:3", { from_on: "2026-06-01" });
    expect(await plant.found(RULE)).toEqual([]);
    await plant.edit("assignment", id, { from_on: "2026-05-31" });
    expect(await plant.found(RULE)).toHaveLength(1);
  });

  it("is right where one is retired", async () => {
    const plant = await campus();
    await circuit(plant, "K-2", { state: "retired" });
    await give(plant, "K-2", "F-014:1");
    expect(await plant.found(RULE)).toEqual([]);
  });

  it("is right above a splitter with both below different outputs, and found with both below one", async () => {
    const plant = await campus();
    const { run } = plant;
    await run("module.enter", {
      kind: "splitter",
      tag: "SP1",
      in: "SCI/B01/P",
      inputs: [{ numbers: "IN", connector: "lc" }],
      outputs: [{ numbers: "1..2", connector: "lc" }],
      loss_db: 3.7,
    });
    await run("cord.patch", { from: "SCI/B01/P:02#1", to: "SCI/B01/P/SP1:IN", fibres: 1 });
    for (const [tag, output, z] of [
      ["K-2", "1", "SCI/B01/SW-2:3"],
      ["K-3", "2", "SCI/B01/SW-2:4"],
    ] as const) {
      await circuit(plant, tag, { state: "reserved", z_port: z });
      await run("cord.patch", { from: `SCI/B01/P/SP1:${output}`, to: `${z}#1`, fibres: 1 });
      await give(plant, tag, "F-014:3");
    }
    expect(await plant.found(RULE)).toEqual([]);
    // Cut, the feeder's other half leads to no splitter any more: a broken line, and no second clash.
    await run("cable.open", { cable: "F-014", stop: "F-014@2", cut: "3" });
    for (const tag of ["K-2", "K-3"]) await give(plant, tag, "F-014:3#1");
    const held = await plant.check({ rules: [RULE] });
    expect(held.findings).toEqual([]);
    await plant.edit("circuit", "K-3", { z_port_id: "SCI/B01/SW-2:3" });
    expect(await plant.found(RULE)).toHaveLength(1);
  });
});
