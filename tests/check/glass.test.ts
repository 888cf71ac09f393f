import { describe, expect, it } from "vitest";
import { type CheckedPlant, campus } from "./campus.ts";

const spliced = async (plant: CheckedPlant, one: string, a_side: string, other: string, b_side: string) =>
  plant.add("splice", {
    a_section_id: await plant.section(one),
    a_side,
    b_section_id: await plant.section(other),
    b_side,
  });

describe("a ring of glass", () => {
  it("is told without the line that leads into it by a double joint", async () => {
    const plant = await campus();
    for (const side of ["A", "B"]) await spliced(plant, "F-021:7", side, "F-021:8", side);
    await spliced(plant, "F-021:9", "B", "F-021:7", "B");
    const { findings } = await plant.check();
    expect(findings.map(({ rule }) => rule)).toEqual(["truth.joined_twice", "truth.ring"]);
    expect(findings[1]?.records.map(({ tag }) => tag)).toEqual(["F-021:7", "F-021:8"]);
  });

  it("is told once however many strands it has, and each ring by itself", async () => {
    const plant = await campus();
    const chain = ["F-021:7", "F-021:8", "F-021:9", "F-021:10"];
    await spliced(plant, "F-021:7", "A", "F-021:8", "A");
    await spliced(plant, "F-021:8", "B", "F-021:9", "B");
    await spliced(plant, "F-021:9", "A", "F-021:10", "A");
    await spliced(plant, "F-021:10", "B", "F-021:7", "B");
    for (const side of ["A", "B"]) await spliced(plant, "F-021:11", side, "F-021:12", side);
    const rings = await plant.found("truth.ring");
    expect(rings.map(({ records }) => records.map(({ tag }) => tag))).toEqual([chain, ["F-021:11", "F-021:12"]]);
  });

  it("through a splitter is found although the splitter forks by design", async () => {
    const plant = await campus();
    const { run } = plant;
    await run("module.enter", {
      kind: "splitter",
      tag: "SP1",
      in: "LIB/101/A",
      inputs: [{ numbers: "IN", connector: "lc" }],
      outputs: [{ numbers: "1..2", connector: "lc" }],
      loss_db: 3.7,
    });
    await run("cord.patch", { from: "LIB/101/A/SP1:IN", to: "LIB/101/A/SP1:2", fibres: 1 });
    expect(await plant.found("truth.ring")).toMatchObject([
      { sentence: "`LIB/101/A/SP1:2` and `LIB/101/A/SP1:IN` form a ring without an end: 2 ports." },
    ]);
  });
});

describe("a cord that overlaps itself in an array port", () => {
  it("is one slip", async () => {
    const plant = await campus();
    const port_id = await plant.add("port", { tag: "MPO", panel_id: "LIB/101/A", connector: "mpo" });
    for (const ordinal of [1, 2, 3, 4]) await plant.add("position", { port_id, ordinal });
    await plant.add("cord", { a_port_id: port_id, a_first: 1, b_port_id: port_id, b_first: 2, fibres: 2 });
    expect((await plant.check()).findings.map(({ rule }) => rule)).toEqual(["truth.cord_to_itself"]);
  });
});

describe("an end in two joints", () => {
  it("is one finding a place, with its count", async () => {
    const plant = await campus();
    await plant.run("splice.range", {
      from: "F-014:13-18#1",
      to: "F-021:7-12",
      tray: "MH-03/CL-1/T1",
      first_place: 7,
      even_if_taken: true,
    });
    expect(await plant.found("truth.joined_twice")).toMatchObject([
      { key: "cable F-014; stop F-014@2", count: 6, building: null },
    ]);
  });

  it("is found on the back of a port as well", async () => {
    const plant = await campus();
    await plant.run("strand.land", {
      strands: "F-014:19",
      end: "A",
      ports: "LIB/101/A:01#1",
      method: "pigtail",
      even_if_taken: true,
    });
    expect(await plant.found("truth.joined_twice")).toMatchObject([
      { key: "port LIB/101/A:01", count: 1, building: { tag: "LIB" } },
    ]);
  });
});
