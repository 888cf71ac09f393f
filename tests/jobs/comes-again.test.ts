/**
 * A cable that comes by the same holes twice and lies twice in one way, in two pipes of it: H-1, H-2, H-3, and by H-1 to H-2
 * once more. Where it is cut the second time, or on the way back, every way to mend it can be carried out to the last step.
 */
import { describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { MendAnswer } from "../../core/repair/answer.ts";
import { type CheckedPlant, checkedPlant } from "../check/campus.ts";
import { carryOut } from "./mending.ts";

const duplex = [{ numbers: "1..6", connector: "lc_duplex" }];

async function looped(): Promise<CheckedPlant> {
  const plant = await checkedPlant();
  const { add, edit, run } = plant;
  await edit("plant", 1, { label_due: "none", port_labels: "none" });
  await add("building", { tag: "LIB" });
  await add("space", { tag: "101", building_id: "LIB", kind: "telecom_room", reach_m: 6 });
  for (const tag of ["H-1", "H-2", "H-3"])
    await add("space", {
      tag,
      kind: "maintenance_hole",
      reach_m: 5,
      crossing_m: 3,
      inner_length_m: 3,
      inner_width_m: 2,
    });
  for (const [tag, from_space_id, to_space_id, length_m] of [
    ["DB-1", "LIB/101", "H-1", 40],
    ["DB-2", "H-1", "H-2", 120],
    ["DB-3", "H-2", "H-3", 150],
    ["DB-4", "H-3", "H-1", 200],
  ] as const) {
    await add("pathway", { tag, from_space_id, to_space_id, kind: "duct_bank", length_m });
    for (const pipe of ["1", "2"]) await add("conduit", { tag: pipe, pathway_id: tag });
  }
  const way = (conduit: string) => ({ way: { conduit, held: "loose", slides: "yes" } });
  const stops = [
    { space: "LIB/101", mark_out: 1000, ...way("DB-1/1") },
    { space: "H-1", mark_in: 1040, mark_out: 1070, storage: "coil", ...way("DB-2/1") },
    { space: "H-2", mark_in: 1190, mark_out: 1193, ...way("DB-3/1") },
    { space: "H-3", mark_in: 1343, mark_out: 1373, storage: "coil", ...way("DB-4/1") },
    { space: "H-1", mark_in: 1573, mark_out: 1576, ...way("DB-2/2") },
    { space: "H-2", mark_in: 1696, mark_open_to: 1720 },
  ];
  const units = [{ kind: "tube", repeats: 1, strands: 12, coating_um: "250" }];
  await run("cable.enter", { tag: "F-1", mark_unit: "m", units, stops });
  await run("cable.enter", { tag: "F-2", mark_unit: "m", units, stops: [{ space: "H-2" }, { space: "LIB/101" }] });
  await run("closure.enter", { tag: "CL", space: "H-2", trays: [{ numbers: "T1", capacity: 24 }] });
  await run("panel.enter", { tag: "A", space: "LIB/101", ports: duplex });
  await run("panel.enter", { tag: "B", space: "LIB/101", ports: duplex });
  await run("strand.land", { strands: "F-1:1-12", ports: "LIB/101/A:1-6" });
  await run("strand.land", { strands: "F-2:1-12", ports: "LIB/101/B:1-6" });
  await run("splice.range", { from: "F-1:1-12", to: "F-2:1-12", tray: "H-2/CL/T1" });
  return plant;
}

const reaches = async (plant: CheckedPlant): Promise<boolean> =>
  JSON.stringify(await plant.run<object>("trace.walk", { what: "LIB/101/A:2#1" })).includes("LIB/101/B:2");

it("a place that it comes by twice is asked for by its stops, those alone", async () => {
  const plant = await looped();
  expect(await plant.call("mend.plans", { cable: "F-1", after: "H-2", metres: 5 })).toMatchObject({
    error: { code: "ambiguous", message: "H-2 comes more than once along F-1: say F-1@3 or F-1@6." },
  });
});

it("a mark beyond all that is printed is refused with the least and the greatest mark, the ends' too", async () => {
  const plant = await looped();
  expect(await plant.call("mend.plans", { cable: "F-1", mark: 1721 })).toMatchObject({
    error: { message: "Mark 1721 of F-1 is beyond its marks, which run from 1000 to 1720." },
  });
});

describe.each([
  ["where it lies in that way the first time", { after: "F-1@2", metres: 30 }],
  ["on the way back", { after: "F-1@4", metres: 90 }],
  ["where it lies in that way the second time", { after: "F-1@5", metres: 30 }],
])("a cable that comes by twice, cut %s", (_, where) => {
  const cut = { cable: "F-1", ...where };

  it("is mended by each of its ways, step by step, and traces through again", async () => {
    const { plans } = await (await looped()).run<MendAnswer>("mend.plans", cut);
    expect(plans.length).toBeGreaterThan(4);
    for (const [index, { sentence }] of plans.entries()) {
      const plant = await looped();
      await plant.run("job.plan_mend", { ...cut, plan: index + 1, job: "J-1" });
      await carryOut(plant, await plant.run<JobAnswer>("job.show", { job: "J-1" }));
      expect([sentence, await reaches(plant)]).toEqual([sentence, true]);
      await plant.close();
    }
  });
});

it("is mended where it lies in that way the first time after it was mended where it lies there the second time", async () => {
  const plant = await looped();
  const mend = async (after: string, between: readonly string[], job: string): Promise<void> => {
    const cut = { cable: "F-1", after, metres: 30 };
    const { plans } = await plant.run<MendAnswer>("mend.plans", cut);
    const plan = plans.findIndex(({ points }) => points.map(({ words }) => words).join() === between.join()) + 1;
    await plant.run("job.plan_mend", { ...cut, plan, job });
    await carryOut(plant, await plant.run<JobAnswer>("job.show", { job }), undefined, job);
  };
  await mend("F-1@5", ["H-3", "H-2"], "J-1");
  await mend("F-1@2", ["H-1", "H-2"], "J-2");
  expect(await reaches(plant)).toBe(true);
});

it.each([2, 5])(
  "keeps each circuit on the glass it runs on where only some strands are dark, cut beyond its stop %i",
  async (stop) => {
    const cut = { cable: "F-1", after: `F-1@${stop}`, metres: 30, dark: "1-4" };
    const withCircuit = async (): Promise<CheckedPlant> => {
      const plant = await looped();
      await plant.run("circuit.enter", { tag: "K-1", strands: 2, state: "in_service", a_port: "LIB/101/A:1" });
      await plant.run("circuit.assign", { circuit: "K-1", what: ["F-1:1-2"] });
      return plant;
    };
    const { plans } = await (await withCircuit()).run<MendAnswer>("mend.plans", cut);
    const alone = plans.flatMap(({ sentence }, index) =>
      sentence.startsWith("The dark strands alone") ? [index] : [],
    );
    expect(alone.length).toBeGreaterThan(1);
    for (const index of alone) {
      const plant = await withCircuit();
      await plant.run("job.plan_mend", { ...cut, plan: index + 1, job: "J-1" });
      await carryOut(plant, await plant.run<JobAnswer>("job.show", { job: "J-1" }));
      const { findings } = await plant.check({ families: ["truth"] });
      const rules = findings.map(({ rule }) => rule).filter((rule) => /circuit|assigned/.test(rule));
      expect([plans[index]?.sentence, rules]).toEqual([plans[index]?.sentence, []]);
      await plant.close();
    }
  },
);
