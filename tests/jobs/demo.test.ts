/** Mends of the demo campus carried out as planned: nothing contradicts the record afterwards that did not before. */
import { describe, expect, it } from "vitest";
import type { CheckAnswer } from "../../core/check/finding.ts";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { MendAnswer } from "../../core/repair/answer.ts";
import type { LostCaseAnswer } from "../../core/repair/lost-case-told.ts";
import { storyClock } from "../../samples/campus/crew.ts";
import { newSample } from "../support/made.ts";
import type { TestPlant } from "../support/plant.ts";
import { doStep } from "./mending.ts";

const campus = () => newSample({ clock: storyClock() });

/** Contradictions by rule, with how many: orders of stops and sections differ after a mend, and so do words. */
async function contradictions({ run }: TestPlant): Promise<Map<string, number>> {
  const { findings } = await run<CheckAnswer>("check.run", { families: ["truth"], severities: ["error", "hazard"] });
  const counts = new Map<string, number>();
  for (const { rule, count } of findings) counts.set(rule, (counts.get(rule) ?? 0) + count);
  return counts;
}

describe("dead sheath of F-034 on the demo campus, where a piece runs from LMP/ER to MH-04", () => {
  it("lies up to MH-03 alone: what lay beyond comes back to MH-04, and is cut off there", async () => {
    const plant = await campus();
    await plant.run("job.plan_mends", { of: ["EN-02"], metres: 38.2, job: "J-1" });
    const { steps } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    const own = steps.map(({ words }) => words.replaceAll("\u202f", " ")).filter((words) => words.includes("F-034"));
    // 35.55 m to MH-02, 4.88 m of marks in it (30157 to 30141 ft), 114 m from there to MH-03 (30141 to 29767 ft).
    const dead = "154.4 m of dead sheath of F-034";
    expect(own.filter((words) => words.startsWith(`Take the ${dead}`))).toEqual([
      expect.stringMatching(
        /^Take the 154\.4 m of dead sheath of F-034 out of EN-02\/1 and DB-02\/3 between MH-03 and the break before/,
      ),
    ]);
    const became = own.find((words) => words.startsWith(`Say what became of the ${dead}`));
    expect(became).toContain("in EN-02/1 and DB-02/3:");
    // Through DB-03 comes what lay from MH-03 on; of it and of the 16 ft in MH-04, which end at mark 29339 ft, 22.9 m
    // (75.1 ft) are worked with or kept. So it is cut at 29339 + 75.1 ft, and 29767 less that is 107.6 m.
    const bring = own.find((words) => words.startsWith("Bring the ends of F-034"));
    expect(bring).toContain("MH-04 (6.4 m to work with, cut at mark 29 414.1 ft)");
    expect(bring).toContain("262 m of the end that comes from WAV/ER (107.6 m of that once it has come back to MH-04)");
    expect(bring).toContain("16.5 m more than that at MH-04 stay coiled");
  });
});

describe("on the demo campus", () => {
  it.each([
    ["the cable with most circuits", { cable: "F-016", after: "F-016@1" }, "new_cable"],
    ["with a hole dug at the cut", { cable: "F-034", after: "F-034@3", metres: 54.5 }, "one_point"],
    ["the same at two points", { cable: "F-034", after: "F-034@3", metres: 54.5 }, "two_points"],
    ["somewhere between two places", { cable: "F-034", after: "F-034@3" }, "two_points"],
    ["over a way in which a long coil lies", { cable: "F-030", after: "F-030@2", metres: 45 }, "one_point"],
    ["with an opening farther on", { cable: "F-006", after: "MH-02" }, "two_points"],
    ["of a cable on poles", { cable: "F-025", after: "F-025@2" }, null],
  ] as const)("%s", async (_, where, kind) => {
    const plant = await campus();
    const question = { ...where, lost_left_m: 1, lost_right_m: 1 };
    const { plans, circuits } = await plant.run<MendAnswer>("mend.plans", question);
    const index = plans.findIndex((plan) => kind === null || plan.kind === kind);
    const plan = plans[index];
    if (!plan) throw new Error(plans.map(({ sentence }) => sentence).join("\n"));
    const before = await contradictions(plant);
    const cases = plan.points.map((_, point) => `CL-9${point}`);
    await plant.run("job.plan_mend", {
      ...question,
      plan: index + 1,
      job: "J-900",
      hole: "HH-900",
      beyond: "DB-900",
      piece: "F-900",
      cases,
    });
    const { steps } = await plant.run<JobAnswer>("job.show", { job: "J-900" });
    for (const step of steps) await doStep(plant, step, "J-900");
    const after = await contradictions(plant);
    for (const [rule, count] of after) expect([rule, count <= (before.get(rule) ?? 0)]).toEqual([rule, true]);
    expect(circuits.length).toBeGreaterThan(0);
  });
});

describe("a wrecked case of the demo campus", () => {
  it.each([
    ["HH-12/CL-1", ["F-031 LMP/ER beside_panel", "F-032 RSS/ER beside_panel"]],
    [
      "HH-16/CL-1",
      ["F-010 RSN/ER beside_panel", "F-022 CB-31 landed", "F-028 REF/ER beside_panel", "F-028 RSN/ER beside_panel"],
    ],
    ["MH-06/CL-1", ["F-024 MH-07 beside_case"]],
  ])("%s is renewed with new cable for every sheath that doesn't reach", async (closure, wants) => {
    const plant = await campus();
    const { arms, circuits } = await plant.run<LostCaseAnswer>("mend.case", { closure });
    expect(arms.flatMap(({ cable, piece }) => (piece ? [`${cable.tag} ${piece.name} ${piece.joined}`] : []))).toEqual(
      wants,
    );
    expect(circuits.length).toBeGreaterThan(0);
    const before = await contradictions(plant);
    await plant.run("job.plan_case", { closure, job: "J-900" });
    const { steps } = await plant.run<JobAnswer>("job.show", { job: "J-900" });
    for (const step of steps) await doStep(plant, step, "J-900");
    const after = await contradictions(plant);
    for (const [rule, count] of after) expect([rule, count <= (before.get(rule) ?? 0)]).toEqual([rule, true]);
  });

  it.each([
    [
      "MH-04/CL-1",
      "F-024 is spliced in MH-04/CL-1 and stops at MH-07 on record, which is another place: say first which is right",
    ],
    [
      "MH-07/CL-1",
      "F-006:13 is spliced in MH-07/CL-1 to L-201:1 and F-024:13 with one end of it on record: say first which of them is so",
    ],
  ])("%s is not while the record contradicts itself", async (closure, reason) => {
    const { refused } = await (await campus()).run<LostCaseAnswer>("mend.case", { closure });
    expect(refused).toEqual([reason]);
  });
});
