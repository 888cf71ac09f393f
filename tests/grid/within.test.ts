/** "Show ports in LIB": what lies in, on or along a record, as the table's question asks it. */
import { describe, expect, it } from "vitest";
import type { AnswerOf } from "../../core/operations/list.ts";
import { newPlant, type TestPlant } from "../support/plant.ts";

const add = (plant: TestPlant, kind: string, values: Record<string, unknown>) =>
  plant.run("record.add", { kind, values });

async function campus() {
  const plant = await newPlant();
  for (const tag of ["LIB", "GYM"]) {
    await add(plant, "building", { tag });
    await add(plant, "space", { tag: "101", building_id: tag });
    await plant.run("panel.enter", {
      tag: "A",
      space: `${tag}/101`,
      ports: [{ numbers: "1..2", connector: "lc_duplex" }],
    });
  }
  await add(plant, "space", { tag: "MH-3", kind: "maintenance_hole" });
  await add(plant, "pathway", { tag: "DB-1", from_space_id: "LIB/101", to_space_id: "MH-3" });
  await add(plant, "pathway", { tag: "DB-2", from_space_id: "MH-3", to_space_id: "GYM/101" });
  await plant.run("closure.enter", { tag: "CL-1", space: "MH-3", trays: [{ numbers: "T1..T2" }] });
  for (const [tag, ends] of [
    ["F-1", ["LIB/101", "MH-3"]],
    ["F-2", ["MH-3", "GYM/101"]],
  ] as const) {
    await add(plant, "cable", { tag });
    for (const [at, space] of ends.entries())
      await add(plant, "stop", { cable_id: tag, ordinal: at + 1, space_id: space, kind: "end" });
    await add(plant, "leg", {
      from_stop_id: `${tag}@1`,
      to_stop_id: `${tag}@2`,
      pathway_id: tag === "F-1" ? "DB-1" : "DB-2",
    });
    for (const number of [1, 2]) {
      await add(plant, "strand", { cable_id: tag, number });
      await add(plant, "section", {
        strand_id: `${tag}:${number}`,
        ordinal: 1,
        a_stop_id: `${tag}@1`,
        b_stop_id: `${tag}@2`,
      });
    }
  }
  await add(plant, "splice", {
    tray_id: "MH-3/CL-1/T1",
    a_section_id: "F-1:1#1",
    a_side: "B",
    b_section_id: "F-2:1#1",
    b_side: "A",
  });
  return plant;
}

const shown = async (plant: TestPlant, kind: string, inKind: string, inside: string) => {
  const answer = await plant.run<AnswerOf<"record.window">>("record.window", {
    kind,
    within: { kind: inKind, id: inside },
  });
  return answer.rows.map((row) => row.address);
};

describe("a table of what lies in a place", () => {
  it("finds rooms, panels, ports and positions of a building", async () => {
    const plant = await campus();
    expect(await shown(plant, "space", "building", "LIB")).toEqual(["LIB/101"]);
    expect(await shown(plant, "panel", "building", "LIB")).toEqual(["LIB/101/A"]);
    expect(await shown(plant, "port", "building", "LIB")).toEqual(["LIB/101/A:1", "LIB/101/A:2"]);
    expect(await shown(plant, "position", "panel", "GYM/101/A")).toHaveLength(4);
  });

  it("finds the cables that come by, and their strands, sections and stops", async () => {
    const plant = await campus();
    expect(await shown(plant, "cable", "building", "LIB")).toEqual(["F-1"]);
    expect(await shown(plant, "cable", "space", "MH-3")).toEqual(["F-1", "F-2"]);
    expect(await shown(plant, "cable", "pathway", "DB-2")).toEqual(["F-2"]);
    expect(await shown(plant, "strand", "building", "GYM")).toEqual(["F-2:1", "F-2:2"]);
    expect(await shown(plant, "strand", "cable", "F-1")).toEqual(["F-1:1", "F-1:2"]);
    expect(await shown(plant, "stop", "cable", "F-2")).toEqual(["F-2@1", "F-2@2"]);
  });

  it("finds a splice where it is kept and by its cables, not where its glass happens to end", async () => {
    const plant = await campus();
    expect(await shown(plant, "splice", "space", "MH-3")).toHaveLength(1);
    expect(await shown(plant, "splice", "cable", "F-2")).toHaveLength(1);
    expect(await shown(plant, "splice", "building", "LIB")).toEqual([]);
  });

  it("finds the thing itself, and nothing of a kind that lies nowhere", async () => {
    const plant = await campus();
    expect(await shown(plant, "space", "space", "MH-3")).toEqual(["MH-3"]);
    expect(await shown(plant, "party", "building", "LIB")).toEqual([]);
  });

  it("is read anew when something on the way changes", async () => {
    const plant = await campus();
    expect(await shown(plant, "port", "building", "GYM")).toHaveLength(2);
    await plant
      .run("record.edit", { kind: "space", id: "GYM/101", values: { building_id: "LIB" } })
      .catch(() =>
        plant.run("record.edit", { kind: "space", id: "GYM/101", values: { building_id: "LIB", tag: "102" } }),
      );
    expect(await shown(plant, "port", "building", "GYM")).toEqual([]);
    expect(await shown(plant, "port", "building", "LIB")).toHaveLength(4);
  });
});

describe("words of an address", () => {
  it("find a record by what it lies in", async () => {
    const plant = await campus();
    const found = async (input: object) =>
      (await plant.run<AnswerOf<"record.window">>("record.window", input)).rows.map((row) => row.address);
    expect(await found({ kind: "tray", text: "mh-3 t2" })).toEqual(["MH-3/CL-1/T2"]);
    expect(await found({ kind: "tray", text: "MH-3/CL-1/T1" })).toEqual(["MH-3/CL-1/T1"]);
    expect(await found({ kind: "port", text: "gym 2" })).toEqual(["GYM/101/A:2"]);
    expect(
      await found({ kind: "splice", filters: [{ field: "tray_id", test: "contains", value: "MH-3/CL" }] }),
    ).toHaveLength(1);
  });
});

describe("a strand named where a section is meant", () => {
  const splice = (b: string) => ({
    a_section_id: "F-1:2",
    a_side: "B",
    b_section_id: b,
    b_side: "A",
  });

  it("is its section while it is uncut", async () => {
    const plant = await campus();
    await add(plant, "splice", splice("F-2 2"));
    const { rows } = await plant.run<AnswerOf<"record.window">>("record.window", {
      kind: "splice",
      within: { kind: "cable", id: "F-1" },
    });
    expect(rows.map((row) => row.shown.b_section_id)).toContain("F-2:2#1");
  });

  it("is asked once it is cut", async () => {
    const plant = await campus();
    await add(plant, "section", { strand_id: "F-2:2", ordinal: 2 });
    const reply = await plant.call("record.add", { kind: "splice", values: splice("F-2:2") });
    expect(reply.ok ? "" : reply.error.problems[0]?.reason).toMatch(/F-2:2#1.*F-2:2#2/);
  });
});
