/** Several cables cut at once: what the one job for all takes of each, beside what each would be mended by alone. */
import { describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { MendSeveralAnswer } from "../../core/repair/several-answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { line } from "./line.ts";

const CUT = { of: ["W-2"], metres: 75 };
const several = (plant: CheckedPlant) => plant.run<MendSeveralAnswer>("mend.several", CUT);

/** F-100 without coils, so that both cables want H-1 and H-2, in which only one has room; no hole is dug where it hangs. */
async function narrow(): Promise<CheckedPlant> {
  const plant = await line();
  await plant.edit("stop", "F-100@2", { mark_out: 1102 });
  await plant.edit("stop", "F-100@3", { mark_in: 1252, mark_out: 1254 });
  await plant.edit("stop", "F-100@4", { mark_in: 1354, mark_open_to: 1354 });
  await plant.edit("stop", "F-100@1", { mark_open_from: 1000 });
  for (const hole of ["H-1", "H-2"]) await plant.edit("space", hole, { inner_length_m: 1.5, inner_width_m: 1.2 });
  await plant.edit("pathway", "W-2", { kind: "aerial" });
  return plant;
}

describe("one job for all cables that are cut", () => {
  it("is each cable's own best way, where no hole is too full", async () => {
    const { together, cuts, one_job, sentence } = await several(await line());
    for (const [index, { differs, way, plan, why }] of together.entries()) {
      expect([differs, plan, why]).toEqual([false, 1, null]);
      expect(way.sentence).toBe(cuts[index]?.plans[0]?.sentence);
      expect(way.hours).toEqual(cuts[index]?.plans[0]?.hours);
    }
    expect(one_job.new_cable_m).toBeCloseTo(
      together.reduce((sum, { way }) => sum + way.new_cable_m, 0),
      3,
    );
    expect(sentence).not.toContain("otherwise than alone");
  });

  it("mends each otherwise where both don't fit and that needs least, says so, and no hole of the job is too full", async () => {
    const { together, cuts, shared, one_job, sentence } = await several(await narrow());
    expect(shared.map(({ fits }) => fits)).toContain(false);
    expect(cuts.map(({ plans }) => plans[0]?.points.map(({ words }) => words))).toEqual([
      ["H-1", "H-2"],
      ["H-1", "H-2"],
    ]);
    // One keeps H-1 and the other H-2: were one to keep both, the other would go from end to end.
    const points = together.map(({ way }) => way.points.map(({ place }) => place?.tag));
    expect(
      points
        .flat()
        .filter((tag) => tag === "H-1" || tag === "H-2")
        .sort(),
    ).toEqual(["H-1", "H-2"]);
    expect(together.map(({ way }) => way.kind)).not.toContain("new_cable");
    expect(together.map(({ differs }) => differs)).toEqual([true, true]);
    for (const { why } of together)
      expect(why).toMatch(/is 1\.5.*long inside, and the cases and coils of F-10\d, F-10\d need/);
    expect(one_job.shared.filter(({ fits }) => fits === false)).toEqual([]);
    expect(sentence).toMatch(/In one job F-100, F-101 are mended otherwise than alone, for H-1.* no room for all\./);
  });

  it("brings units back in the order of the job's own splices", async () => {
    const plant = await line();
    await plant.run("circuit.enter", { tag: "K-5", strands: 2, state: "in_service", priority: 2 });
    await plant.run("circuit.assign", { circuit: "K-5", what: ["F-101:13-14"] });
    const { one_job } = await several(plant);
    await plant.run("job.plan_mends", { ...CUT, job: "J-1" });
    const { steps } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    const back = steps.flatMap(({ act, words }) =>
      act?.startsWith("splice.") ? (words.match(/brings back (.*)$/)?.[1] ?? []) : [],
    );
    expect(back).toEqual(["K-2", "K-5", "K-1"]);
    const turns = one_job.turns.filter(({ circuits }) => circuits.length > 0);
    expect(turns.map(({ circuits }) => circuits.map(({ circuit }) => circuit.tag).join())).toEqual(back);
    expect(one_job.turns.map(({ cable, strands }) => `${cable.tag}:${strands}`)).toEqual([
      ...["F-100:13-24", "F-101:13-24", "F-100:1-12", "F-101:1-12"],
    ]);
  });

  it("digs a hole that several share once", async () => {
    const plant = await line();
    for (const [stop, marks] of [
      [1, { mark_open_from: 380, mark_out: 400 }],
      [2, { mark_in: 500, mark_out: 530 }],
      [3, { mark_in: 680, mark_out: 720 }],
      [4, { mark_in: 820, mark_open_to: 840 }],
    ] as const)
      await plant.edit("stop", `F-101@${stop}`, marks);
    const { together, one_job } = await several(plant);
    expect(together.map(({ way }) => way.new_holes)).toEqual([1, 1]);
    expect(one_job).toMatchObject({ new_holes: 1, cases: 2 });
    expect(one_job.shared.map(({ place, cables }) => [place, cables.length])).toEqual([[null, 2]]);
    // By the usual rates it is set up in 1 h and dug in 8 h: counted with both cables, done once.
    const hours = together.map(({ way }) => way.hours.hours ?? Number.NaN);
    expect(one_job.hours).toBeCloseTo((hours[0] ?? 0) + (hours[1] ?? 0) - 1 - 8, 6);
  });

  it("sets up a place that several share once, by the rate the plant has for it", async () => {
    const plant = await narrow();
    for (const hole of ["H-1", "H-2"]) await plant.edit("space", hole, { inner_length_m: 3, inner_width_m: 2 });
    const { together, one_job } = await several(plant);
    const points = together.map(({ way }) => way.points.map(({ words }) => words));
    expect(points).toEqual([
      ["H-1", "H-2"],
      ["H-1", "H-2"],
    ]);
    const [a, b] = together.map(({ way }) => way.hours.hours ?? Number.NaN);
    expect(one_job.hours).toBeCloseTo((a ?? 0) + (b ?? 0) - 2, 6);
    await plant.add("limit_value", { tag: "repair.hours.set_up", value: 3, unit: "h", reason: "a busy street" });
    const busy = await several(plant);
    const [c, d] = busy.together.map(({ way }) => way.hours.hours ?? Number.NaN);
    expect(busy.one_job.hours).toBeCloseTo((c ?? 0) + (d ?? 0) - 6, 6);
  });
});
