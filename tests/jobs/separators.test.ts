/**
 * Cables, places, ways and jobs whose numbers hold the signs that part an address. What a job plans names them by address,
 * and what it makes is named from their numbers: every step can be carried out, and nothing gets a number with an escape in it.
 */
import { describe, expect, it } from "vitest";
import type { BreakoutAnswer } from "../../core/breakout/answer.ts";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { MendAnswer } from "../../core/repair/answer.ts";
import { way } from "../breakout/way.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { line } from "./line.ts";
import { at, carryOut, planOf, reaches, rowsOf } from "./mending.ts";
import { opened } from "./opened-line.ts";

const CUT = { cable: "F%2F050", after: "H%401", metres: 40, lost_left_m: 1, lost_right_m: 1 };
const [ASKED, JOB] = ["J/1", "J%2F1"];

const shown = (plant: CheckedPlant, job: string) => plant.run<JobAnswer>("job.show", { job });

/** H-1 becomes H@1, DB-2 with the cut DB:2 and its pipe 1/a, F-050 F/050. */
async function renamed(plant: CheckedPlant): Promise<CheckedPlant> {
  for (const [kind, id, tag] of [
    ["space", "H-1", "H@1"],
    ["space", "H-2", "H#2 50%"],
    ["conduit", "DB-2/1", "1/a"],
    ["pathway", "DB-2", "DB:2"],
    ["cable", "F-050", "F/050"],
  ] as const)
    await plant.edit(kind, id, { tag });
  return plant;
}

/** Numbers that hold an escape, which no crew ever wrote. */
const escaped = (plant: CheckedPlant) =>
  rowsOf(
    plant,
    ["cable", "space", "pathway", "closure"]
      .map((kind) => `select tag from ${kind} where tag glob '*%[0-9]*'`)
      .join(" union "),
  );

const KINDS: readonly (readonly [string, (plan: MendAnswer["plans"][number]) => boolean])[] = [
  ["one splice in a new hole at the cut", at("a new hole at the cut")],
  ["one splice in the hole before it", at("H%401")],
  ["two splices with a piece between", ({ kind }) => kind === "two_points"],
  ["a new cable", ({ kind }) => kind === "new_cable"],
];

describe("numbers that hold a stroke, a colon, a cross or an at sign", () => {
  it.each(KINDS)("are mended as any other: %s", async (_, wanted) => {
    const plant = await renamed(await line());
    await plant.run("job.plan_mend", { ...CUT, job: ASKED, plan: await planOf(plant, wanted, CUT) });
    await carryOut(plant, await shown(plant, JOB), undefined, JOB);
    expect(await shown(plant, JOB)).toMatchObject({ state: "done", open: 0 });
    expect(await reaches(plant)).toBe(true);
    expect(await escaped(plant)).toEqual([]);
    expect((await plant.check({ families: ["truth"] })).findings).toEqual([]);
  });

  it("are mended for the time being, and then for good", async () => {
    const plant = await renamed(await line());
    const plan = await planOf(plant, ({ kind }) => kind === "two_points", CUT);
    const temporary = { ...CUT, plan, replace_by: "2026-06-01", circuits_only: true };
    await plant.run("job.plan_mend", { ...temporary, job: ASKED, piece: "F/051" });
    await carryOut(plant, await shown(plant, JOB), undefined, JOB);
    await plant.run("job.plan_lasting", { follows: JOB, job: "J/2", piece: "F/052" });
    await carryOut(plant, await shown(plant, "J%2F2"), undefined, "J%2F2");
    expect(await shown(plant, "J%2F2")).toMatchObject({ state: "done", open: 0 });
    expect(await reaches(plant)).toBe(true);
    expect(await escaped(plant)).toEqual([]);
  });

  it("are planned anew where a job was given up with both ends bare", async () => {
    const plant = await renamed(await line());
    await plant.run("job.plan_mend", {
      ...CUT,
      job: ASKED,
      plan: await planOf(plant, ({ kind }) => kind === "two_points", CUT),
    });
    await carryOut(plant, await shown(plant, JOB), (words) => words.startsWith("Splice "), JOB);
    await plant.run("job.abandon", { job: JOB, why: "the wrong reel" });
    expect(await plant.call("mend.plans", { cable: "F%2F050" })).toMatchObject({
      error: { message: expect.stringContaining("J/1 brought its ends there") },
    });
  });

  it("have a wrecked case of theirs renewed", async () => {
    const plant = await renamed(await opened());
    await plant.edit("stop", "L-9@1", { slack_m: 12 });
    await plant.edit("closure", "H%232 50%25/CL-9", { tag: "C/L:9" });
    const closure = "H%232 50%25/C%2FL:9".replace(":", "%3A");
    await plant.run("job.plan_case", { closure, lost_m: 1, job: ASKED, case: "C/L:10" });
    await carryOut(plant, await shown(plant, JOB), undefined, JOB);
    expect(await shown(plant, JOB)).toMatchObject({ state: "done", open: 0 });
    expect(await reaches(plant)).toBe(true);
  });

  it("have strands taken out, and the lateral is numbered after the cable", async () => {
    const plant = await way();
    for (const [kind, id, tag] of [
      ["cable", "F-1", "F/1"],
      ["space", "H-2", "H/2"],
    ] as const)
      await plant.edit(kind, id, { tag });
    const question = { cable: "F%2F1", at: "H%2F2", strands: 4, side: "a", to: "NEW", type: "DR-12" };
    const { lateral } = await plant.run<BreakoutAnswer>("breakout.plans", question);
    expect(lateral.tag).toBe("F/1-L1");
    await plant.run("job.plan_breakout", { ...question, job: ASKED });
    await carryOut(plant, await shown(plant, JOB), undefined, JOB);
    expect(await shown(plant, JOB)).toMatchObject({ state: "done", open: 0 });
  });
});
