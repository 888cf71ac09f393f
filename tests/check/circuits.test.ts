/** Circuits in service run from A to Z over their own glass (`common practice, no source`). */
import { describe, expect, it } from "vitest";
import { campus, circuit, give } from "./campus.ts";

describe("a circuit in service", () => {
  it("that runs on one of its two strands says how many and where the other stops", async () => {
    const plant = await campus();
    await plant.run("cord.unplug", { cords: ["C-2"] });
    await plant.run("cord.patch", { from: "SCI/B01/P:01#1", to: "SCI/B01/SW-2:1#2", fibres: 1 });
    await plant.edit("port", "SCI/B01/P:01", { front: "empty" });
    const findings = (await plant.check()).findings.filter(({ rule }) => rule.startsWith("truth.circuit"));
    expect(findings).toMatchObject([
      { rule: "truth.circuit_apart", count: 1, facts: { arrive: 1, needed: 2, stops: expect.anything() } },
    ]);
  });

  it("that goes on over glass of no circuit names that glass", async () => {
    const plant = await campus();
    await plant.run("circuit.release", { circuit: "K-1" });
    await plant.edit("circuit", "K-1", { state: "in_service" });
    await give(plant, "K-1", "F-014:3");
    const [finding] = await plant.found("truth.circuit_apart");
    expect(finding?.facts).toEqual({
      arrive: 0,
      needed: 2,
      stops: ["it goes on over glass that is not given to it"],
    });
    expect(finding?.records.map(({ tag }) => tag)).toContain("F-014:1");
  });

  it("over a splice and two cables is followed through", async () => {
    const plant = await campus();
    const { run } = plant;
    await run("strand.land", { strands: "F-021:1", ports: "LIB/102/B:01#1", method: "pigtail" });
    await run("strand.land", { strands: "F-014:13#1", ports: "LIB/101/A:07#1", method: "pigtail" });
    await circuit(plant, "K-2", { strands: 1, a_port: "LIB/101/A:07", z_port: "LIB/102/B:01" });
    await give(plant, "K-2", "F-014:13#1");
    await give(plant, "K-2", "F-021:1");
    expect((await plant.check()).findings).toEqual([]);
  });

  it("below a splitter is followed through the output that leads to its Z", async () => {
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
    await run("cord.patch", { from: "LIB/101/SW-1:2#1", to: "LIB/101/A:02#1", fibres: 1 });
    await run("cord.patch", { from: "SCI/B01/P:02#1", to: "SCI/B01/P/SP1:IN", fibres: 1 });
    await run("cord.patch", { from: "SCI/B01/P/SP1:2", to: "SCI/B01/SW-2:4#1", fibres: 1 });
    await circuit(plant, "K-2", { strands: 1, a_port: "LIB/101/SW-1:2", z_port: "SCI/B01/SW-2:4" });
    await give(plant, "K-2", "F-014:3");
    expect((await plant.check()).findings).toEqual([]);
  });

  it("that rides on another needs no glass of its own", async () => {
    const plant = await campus();
    await circuit(plant, "K-2", {
      strands: 2,
      rides_on: "K-1",
      a_port: "LIB/101/SW-1:1",
      z_port: "SCI/B01/SW-2:1",
    });
    expect((await plant.check()).findings).toEqual([]);
  });

  it("whose cords are all assumed has one gap, with their count", async () => {
    const plant = await campus();
    await plant.run("cord.unplug", { cords: ["C-1", "C-2"] });
    for (const port of ["LIB/101/A:01", "LIB/101/SW-1:1", "SCI/B01/P:01", "SCI/B01/SW-2:1"])
      await plant.edit("port", port, { front: null });
    const { findings } = await plant.check();
    expect(findings).toMatchObject([{ rule: "truth.cord_assumed", severity: "gap", count: 2 }]);
  });

  it("alone makes a broken strand a contradiction: one reserved may still be repaired", async () => {
    const plant = await campus();
    await plant.edit("circuit", "K-1", { state: "reserved" });
    await plant.edit("strand", "F-014:2", { condition: "broken" });
    expect((await plant.check()).findings).toEqual([]);
  });

  it("that ended or begins later is given no glass today", async () => {
    const plant = await campus();
    await plant.run("circuit.release", { circuit: "K-1" });
    await plant.edit("circuit", "K-1", { state: "in_service" });
    const before = await plant.found("truth.circuit_without_glass");
    expect(before).toHaveLength(1);
    await give(plant, "K-1", "F-014:1", { from_on: "2026-05-02" });
    expect(await plant.found("truth.circuit_without_glass")).toHaveLength(1);
  });
});
