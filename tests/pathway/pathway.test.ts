/** What lies in a way: pipes in their places, cables in them, and how full they are. */
import { beforeEach, describe, expect, it } from "vitest";
import type { FitnessAnswer } from "../../core/fitness/answer.ts";
import type { PathwayAnswer, Pipe } from "../../core/pathway/answer.ts";
import { newPlant, type TestPlant } from "../support/plant.ts";

let plant: TestPlant;
const add = (kind: string, values: Record<string, unknown>) => plant.run("record.add", { kind, values });
const shown = (what = "DB-1"): Promise<PathwayAnswer> => plant.run<PathwayAnswer>("pathway.show", { what });
const pipe = async (tag: string): Promise<Pipe> => {
  const found = (await shown()).pipes.find(({ conduit }) => conduit.tag === `DB-1/${tag}`);
  if (!found) throw new Error(`no pipe ${tag}`);
  return found;
};
const lay = (tag: string, type: string, way: object) =>
  plant.run("cable.enter", { tag, type, units: [], stops: [{ space: "MH-1", way }, { space: "MH-2" }] });

beforeEach(async () => {
  plant = await newPlant();
  await add("space", { tag: "MH-1", kind: "maintenance_hole" });
  await add("space", { tag: "MH-2", kind: "maintenance_hole" });
  await add("pathway", { tag: "DB-1", kind: "duct_bank", from_space_id: "MH-1", to_space_id: "MH-2", length_m: 80 });
  const pipes: [string, number, number, number][] = [
    ["4", 1, 1, 53],
    ["1", 2, 2, 53],
    ["3", 2, 1, 53],
    ["2", 1, 2, 30],
  ];
  for (const [tag, bank_row, bank_column, inner_diameter_mm] of pipes) {
    await add("conduit", { tag, pathway_id: "DB-1", bank_row, bank_column, inner_diameter_mm });
  }
  await add("cable_type", { tag: "T-10", construction: "loose_tube", outer_diameter_mm: 10 });
  await add("cable_type", { tag: "T-0", construction: "loose_tube" });
});

describe("a duct bank", () => {
  it("tells its pipes row by row, from the left", async () => {
    const { pipes, from, to, length_m } = await shown();
    expect(pipes.map(({ conduit }) => conduit.tag)).toEqual(["DB-1/4", "DB-1/2", "DB-1/3", "DB-1/1"]);
    expect([from?.tag, to?.tag, length_m]).toEqual(["MH-1", "MH-2", 80]);
  });

  it("calls a pipe without a cable empty, with nothing to hold it against", async () => {
    expect(await pipe("1")).toMatchObject({ fill: 0, fill_limit: null, occupants: [], lacks: [] });
  });

  it("fills a pipe by the areas of what lies in it, and names the limit for so many cables", async () => {
    await lay("F-1", "T-10", { conduit: "DB-1/1" });
    // 10² over 53².
    expect(await pipe("1")).toMatchObject({ fill: 0.0356, fill_limit: { value: 0.53 } });
    await lay("F-2", "T-10", { conduit: "DB-1/1" });
    expect(await pipe("1")).toMatchObject({ fill: 0.0712, fill_limit: { value: 0.31 } });
    expect((await pipe("1")).occupants.map(({ cable }) => cable.tag)).toEqual(["F-1", "F-2"]);
  });

  it("takes the plant's own limit before the published one, and says so", async () => {
    await lay("F-1", "T-10", { conduit: "DB-1/1" });
    await add("limit_value", { tag: "fill.one", value: 0.02, reason: "pipes of this campus are bent" });
    const one = await pipe("1");
    expect(one.fill_limit?.value).toBe(0.02);
    expect(one.fill_limit?.source).toContain("pipes of this campus are bent");
    expect((await shown()).sentence).toContain("DB-1/1 is fuller than is usual.");
  });

  it("says that it is fuller than that where a diameter is not on record, and which", async () => {
    await lay("F-1", "T-10", { conduit: "DB-1/1" });
    await lay("F-9", "T-0", { conduit: "DB-1/1" });
    expect(await pipe("1")).toMatchObject({ fill: 0.0356, at_least: true, lacks: ["the outer diameter of F-9"] });
  });

  it("goes by the diameter of the cable itself where that differs from its type's", async () => {
    await lay("F-1", "T-10", { conduit: "DB-1/1" });
    await plant.run("record.edit", { kind: "cable", id: "F-1", values: { differs: { outer_diameter_mm: 26.5 } } });
    expect(await pipe("1")).toMatchObject({ fill: 0.25 });
  });

  it("warns where three cables alike may jam, and not where two do", async () => {
    await lay("F-1", "T-10", { conduit: "DB-1/2" });
    await lay("F-2", "T-10", { conduit: "DB-1/2" });
    expect(await pipe("2")).toMatchObject({ jam_ratio: null, jams: null });
    await lay("F-3", "T-10", { conduit: "DB-1/2" });
    // 30 over 10, between 2.8 and 3.2.
    expect(await pipe("2")).toMatchObject({ jam_ratio: 3, jams: { from: 2.8, to: 3.2 } });
    expect((await shown()).sentence).toContain("In DB-1/2 three cables alike may jam.");
  });

  it("says of a pipe with pipes in it that their outsides are not on record", async () => {
    await add("conduit", {
      tag: "1a",
      pathway_id: "DB-1",
      parent_id: "DB-1/1",
      bank_row: 1,
      bank_column: 1,
      inner_diameter_mm: 20,
    });
    expect(await pipe("1")).toMatchObject({
      pipes: [{ tag: "DB-1/1a" }],
      // Its bore is the least that a pipe takes up: 20² over 53².
      fill: 0.1424,
      at_least: true,
      lacks: ["the outer diameter of the pipes inside it"],
    });
    expect((await shown()).pipes.at(-1)?.conduit.tag).toBe("DB-1/1a");
    expect(await pipe("1a")).toMatchObject({ inside: { tag: "DB-1/1" }, fill: 0 });
  });

  it("gives no number where the bore is not on record", async () => {
    await add("conduit", { tag: "5", pathway_id: "DB-1" });
    await lay("F-1", "T-10", { conduit: "DB-1/5" });
    expect(await pipe("5")).toMatchObject({ fill: null, lacks: ["the inner diameter of the pipe"] });
  });

  it("holds an innerduct against its own limit, and a microduct of blown cable against another", async () => {
    await add("conduit", { tag: "1a", pathway_id: "DB-1", parent_id: "DB-1/1", inner_diameter_mm: 20 });
    await add("cable_type", { tag: "T-M", construction: "microduct", outer_diameter_mm: 4 });
    await lay("F-1", "T-M", { conduit: "DB-1/1a" });
    expect((await pipe("1a")).fill_limit?.value).toBe(0.7);
    await lay("F-2", "T-10", { conduit: "DB-1/1a" });
    expect((await pipe("1a")).fill_limit?.value).toBe(0.4);
  });

  it("says the same as fitness does of a cable in it", async () => {
    await lay("F-1", "T-10", { conduit: "DB-1/2" });
    await lay("F-2", "T-10", { conduit: "DB-1/2" });
    const { verdicts } = await plant.run<FitnessAnswer>("fitness.of", { what: "F-1" });
    const fill = verdicts.find(({ rule }) => rule === "fill");
    const value = (words: string) => fill?.figures.find((figure) => figure.words === words)?.value;
    const two = await pipe("2");
    expect((two.fill ?? 0) * 100).toBeCloseTo(value("fill") ?? 0, 1);
    expect((two.fill_limit?.value ?? 0) * 100).toBeCloseTo(value("fill to stay under") ?? 0, 6);
  });

  it("keeps cables whose pipe is not on record apart", async () => {
    await lay("F-1", "T-10", { pathway: "DB-1" });
    const { loose, pipes, sentence } = await shown();
    expect(loose.map(({ cable }) => cable.tag)).toEqual(["F-1"]);
    expect(pipes.flatMap(({ occupants }) => occupants)).toEqual([]);
    expect(sentence).toContain("Of 1 cable the pipe is not on record.");
  });

  it("counts no cable that was taken out", async () => {
    await lay("F-1", "T-10", { conduit: "DB-1/1" });
    await plant.run("record.edit", { kind: "cable", id: "F-1", values: { life: "removed" } });
    expect((await pipe("1")).occupants).toEqual([]);
  });

  it("says how many pipes are empty, and which of these can't be counted on", async () => {
    await lay("F-1", "T-10", { conduit: "DB-1/1" });
    await plant.run("record.edit", { kind: "conduit", id: "DB-1/4", values: { state: "blocked" } });
    expect((await shown()).sentence).toBe(
      "DB-1 has 4 pipes with 1 cable; 3 pipes are empty, 1 of them blocked or unproven.",
    );
  });

  it("is found by one of its pipes", async () => {
    expect((await shown("DB-1/3")).pathway.tag).toBe("DB-1");
  });
});

describe("a way without pipes", () => {
  it("tells what lies in it", async () => {
    await add("pathway", { tag: "TR-1", kind: "cable_tray" });
    expect((await shown("TR-1")).sentence).toBe("Nothing on record lies in TR-1.");
  });
});
