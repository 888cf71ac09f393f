/** A wrecked case whose loss is on record already: by itself, or by a job that was given up on the way. */
import { describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { LostCaseAnswer } from "../../core/repair/lost-case-told.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { carryOut, doStep, reaches, rowsOf } from "./mending.ts";
import { opened } from "./opened-line.ts";

const CASE = "H-2/CL-9";
const asked = (plant: CheckedPlant, lost_m = 1) => plant.run<LostCaseAnswer>("mend.case", { closure: CASE, lost_m });
const show = (plant: CheckedPlant, job: string) => plant.run<JobAnswer>("job.show", { job });

async function wrecked(coil_m = 12): Promise<CheckedPlant> {
  const plant = await opened();
  await plant.edit("stop", "L-9@1", { slack_m: coil_m });
  return plant;
}

/** Both ends of every splice in place, strand by strand. */
const joined = async (plant: CheckedPlant): Promise<string[]> =>
  (
    await rowsOf(
      plant,
      `select ca.tag || ':' || ta.number || ' ' || cb.tag || ':' || tb.number as pair from splice p
       join section a on a.id = p.a_section_id join strand ta on ta.id = a.strand_id join cable ca on ca.id = ta.cable_id
       join section b on b.id = p.b_section_id join strand tb on tb.id = b.strand_id join cable cb on cb.id = tb.cable_id
       where p.life = 'in_place' order by 1`,
    )
  ).map(({ pair }) => String(pair));

const renewed = async (plant: CheckedPlant, job: string): Promise<void> => {
  await plant.run("job.plan_case", { closure: CASE, lost_m: 1, job });
  const { steps } = await show(plant, job);
  expect(steps.filter(({ act }) => act === "closure.lost")).toEqual([]);
  await carryOut(plant, await show(plant, job), () => false, job);
};

/** All 24 strands of F-050 spliced to themselves but the two that go on in L-9. */
const WHOLE = [
  "F-050:1 L-9:1",
  "F-050:2 L-9:2",
  ...Array.from({ length: 22 }, (_, index) => `F-050:${index + 3} F-050:${index + 3}`),
].sort();

describe("a wrecked case whose loss was recorded by itself", () => {
  it("is told as what was joined in it and what was cut with it, and renewed strand by strand", async () => {
    const plant = await wrecked();
    await plant.run("closure.lost", { closure: CASE });
    const answer = await asked(plant);
    expect(answer).toMatchObject({ splices: 24, express: 0, possible: true, place: { tag: "H-2" }, losses: [] });
    expect(answer.circuits.map(({ circuit }) => circuit.tag)).toEqual(["K-7"]);
    expect(answer.arms.map(({ cable, has_m }) => [cable.tag, has_m])).toEqual([
      ["F-050", 22.5],
      ["F-050", 22.5],
      ["L-9", 11],
    ]);
    await renewed(plant, "J-2");
    expect([await reaches(plant), await joined(plant)]).toEqual([true, WHOLE]);
    expect((await plant.check({ families: ["truth"] })).findings).toEqual([]);
  });

  it("leaves a strand that ended bare in it before as it was", async () => {
    const plant = await wrecked();
    await plant.run("cable.open", { cable: "F-050", stop: "H-2", cut: "20", stub_a: "yes", stub_b: "yes" });
    await plant.run("closure.lost", { closure: CASE });
    await renewed(plant, "J-2");
    expect(await joined(plant)).toEqual(WHOLE.filter((pair) => pair !== "F-050:20 F-050:20"));
  });

  it("is told so where a sheath of which nothing but uncut strands ran through it was brought elsewhere since", async () => {
    const plant = await wrecked();
    await plant.run("splice.reopen", { strands: "F-050:13-14", stop: "H-2" });
    await plant.run("closure.lost", { closure: CASE });
    for (const side of ["left", "right"]) {
      const to = side === "left" ? { left_to: "H-1" } : { right_to: "H-3" };
      await plant.run("cable.move_cut", { cable: "F-050", stop: "H-2", ...to });
      expect((await asked(plant)).possible).toBe(false);
      await plant.run("history.undo", {});
    }
  });

  it("is told as renewed once all is joined again, and makes no job", async () => {
    const plant = await wrecked();
    await plant.run("closure.lost", { closure: CASE });
    await renewed(plant, "J-2");
    const failure = await plant.call("mend.case", { closure: CASE });
    expect(failure).toMatchObject({
      ok: false,
      error: { code: "not_possible", message: `All that was joined in ${CASE} is joined again.` },
    });
  });

  it("is refused as gone where it was only taken away", async () => {
    const plant = await wrecked();
    await plant.run("closure.enter", { tag: "CL-3", space: "H-1", trays: [{ numbers: "T1", capacity: 24 }] });
    await plant.edit("closure", "H-1/CL-3", { life: "removed" });
    const failure = await plant.call("mend.case", { closure: "H-1/CL-3" });
    expect(failure).toMatchObject({ ok: false, error: { code: "not_possible" } });
  });
});

describe("a job of a wrecked case that is given up on the way", () => {
  it("leaves another to be planned from every step on, by which all is joined as it was", async () => {
    const plant = await wrecked();
    await plant.run("job.plan_case", { closure: CASE, lost_m: 1, job: "J-1" });
    const { steps } = await show(plant, "J-1");
    const lost = steps.findIndex(({ act }) => act === "closure.lost");
    const last = steps.findLastIndex(({ act }) => act?.startsWith("splice."));
    for (const [index, step] of steps.entries()) {
      await doStep(plant, step);
      if (index < lost || index >= last) continue;
      const { notices } = await plant.run<{ notices: string[] }>("job.abandon", { job: "J-1" });
      expect(notices).toContain(
        `The loss of ${CASE} is on record: ask how it is mended, and another job is planned from there.`,
      );
      expect([index, (await asked(plant)).refused]).toEqual([index, []]);
      await renewed(plant, "J-2");
      expect([index, await joined(plant)]).toEqual([index, WHOLE]);
      expect((await plant.check({ families: ["truth"] })).findings.map(({ sentence }) => sentence)).toEqual([]);
      const done = (await show(plant, "J-2")).steps.length;
      for (let undone = 0; undone < done + 2; undone++) await plant.run("history.undo", {});
    }
  });

  it.each([
    ["of a whole cable", async (_: CheckedPlant) => {}, 1],
    [
      "between two places",
      async (plant: CheckedPlant) => void (await plant.edit("cable_type", "LT-24", { outer_diameter_mm: 12 })),
      60,
    ],
  ])("is to be carried on where new cable has taken the place %s, and that works", async (_, make, lost_m) => {
    const plant = await wrecked(5);
    await make(plant);
    await plant.run("job.plan_case", { closure: CASE, lost_m, job: "J-1" });
    await carryOut(plant, await show(plant, "J-1"), (words) => words.startsWith("Splice "));
    const { notices } = await plant.run<{ notices: string[] }>("job.abandon", { job: "J-1" });
    expect(notices).toContain(
      `New cable has begun to take the place of sheaths that came into ${CASE}, and no other job is planned from there: undo this, and carry J-1 on.`,
    );
    const { refused } = await asked(plant);
    const begun = /^J-1 began to renew it and was given up: take that back, by undoing change (\d+), and carry it on$/;
    const [, change] = begun.exec(refused.at(-1) ?? "") ?? [];
    await plant.run("history.undo", { change_set: Number(change) });
    const { steps } = await show(plant, "J-1");
    await carryOut(plant, { ...(await show(plant, "J-1")), steps: steps.filter(({ state }) => state === "open") });
    expect(await reaches(plant)).toBe(true);
  });
});
