/**
 * What a lasting piece is laid beside and sealed into, on the line of `line.ts` with cables 12 mm thick in pipes 100 mm wide:
 * one cable fills (12 / 100)² = 1.44 %, two 2.88 %, three 4.32 %. How much may be filled, 53 % by one, 31 % by two and 40 %
 * by three: NEC chapter 9 table 1.
 */
import { describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { MendAnswer } from "../../core/repair/answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { line } from "./line.ts";
import { CUT, carryOut } from "./mending.ts";

async function lasting(after: string, before: (plant: CheckedPlant) => Promise<unknown> = async () => {}) {
  const plant = await line();
  await plant.edit("cable_type", "LT-24", { outer_diameter_mm: 12 });
  for (const leg of [1, 2, 3, 4]) await plant.edit("conduit", `DB-${leg}/1`, { inner_diameter_mm: 100 });
  const cut = { ...CUT, after };
  const { plans } = await plant.run<MendAnswer>("mend.plans", cut);
  const plan = plans.findIndex(({ kind, new_holes }) => kind === "two_points" && new_holes === 0) + 1;
  await plant.run("job.plan_mend", { ...cut, job: "J-1", piece: "F-051", plan, replace_by: "2026-06-01" });
  await carryOut(plant, await plant.run<JobAnswer>("job.show", { job: "J-1" }));
  await before(plant);
  const rehearsed = await plant.rehearse<{ readonly notices?: readonly string[] }>("job.plan_lasting", {
    follows: "J-1",
    job: "J-2",
    piece: "F-052",
  });
  await plant.run("job.plan_lasting", { follows: "J-1", job: "J-2", piece: "F-052" });
  return { plant, notices: rehearsed.notices ?? [], job: await plant.run<JobAnswer>("job.show", { job: "J-2" }) };
}
const beside = ({ steps }: JobAnswer) => steps.find(({ words }) => words.startsWith("Before F-052 is pulled into"));

describe("a lasting mend", () => {
  it("tells before its piece is pulled how full the pipe becomes, with and without what lies dead in it", async () => {
    const { job } = await lasting("H-1");
    const step = beside(job);
    expect(step?.words).toContain("DB-2/1, H-1 to H-2: 4 % full, of 40 % at most with F-050-D1, F-050-D2 still in it");
    expect(step?.words).toContain("no other cable lies in it");
    const laid = job.steps.findIndex(({ words }) => words.startsWith("Lay F-052"));
    expect(job.steps.indexOf(step as JobAnswer["steps"][number])).toBeLessThan(laid);
  });

  it("names the neighbours there, and says where the pipe is too full", async () => {
    const { job, notices } = await lasting("H-1", async (plant) => {
      const way = { way: { conduit: "DB-2/1", held: "loose", slides: "yes" } };
      await plant.run("cable.enter", {
        tag: "F-060",
        type: "LT-24",
        stops: [{ space: "H-1", ...way }, { space: "H-2" }],
      });
      await plant.edit("conduit", "DB-2/1", { inner_diameter_mm: 22 });
    });
    expect(beside(job)?.words).toContain("too full even without F-050-D1, F-050-D2");
    expect(beside(job)?.words).toContain("beside F-060");
    expect(notices.join("\n")).toContain("DB-2/1, H-1 to H-2: too full even without F-050-D1, F-050-D2");
  });

  it("seals what its piece was pulled through into a room where no seal is on record, and opens one that is", async () => {
    const { job } = await lasting("LIB/101");
    const seals = job.steps.filter(({ words }) => words.startsWith("Seal what"));
    expect(seals.map(({ words, place }) => [words, place?.tag])).toEqual([
      [
        "Seal what F-052 was pulled through at LIB/101 by its listed system, and record it, for no seal is on record there",
        "LIB/101",
      ],
    ]);
    const far = await lasting("H-3");
    const opened = far.job.steps.filter(({ words }) => /^(Open seal|Seal what)/.test(words));
    expect(opened.map(({ words }) => words.slice(0, 21))).toEqual(["Open seal DB-4/FS-1 f"]);
  });
});
