/** What a mend's job says of what it left out, of the day it must be gone by, and of coils that it doesn't touch. */
import { describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import { line } from "./line.ts";
import { CUT, choose, doStep, planOf } from "./mending.ts";

describe("a mend of which a joint was left out", () => {
  it("is done, and names the step and the circuit that has no light for it", async () => {
    const plant = await line();
    const job = await choose(plant, await planOf(plant, ({ kind }) => kind === "two_points"));
    const joint = job.steps.findLast(({ words }) => words.startsWith("Splice tube 2"));
    for (const step of job.steps) {
      if (step === joint) await plant.run("job.do", { job: "J-1", step: step.ordinal, skip: true });
      else await doStep(plant, step);
    }
    const { state, left_out, sentence } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    expect([state, left_out.steps, left_out.down.map(({ tag }) => tag)]).toEqual(["done", [joint?.ordinal], ["K-7"]]);
    expect(sentence).toBe(
      `J-1 is done: no step is open. Step ${joint?.ordinal} was left out, so that K-7 is not brought back: the glass ends at a cut.`,
    );
  });
});

describe("the first step of a mend", () => {
  it("is to look at the nearest coils there are, not at holes beside the break that have none", async () => {
    const plant = await line();
    // Nothing is coiled in H-1 and H-2: the cable only crosses them. What lies at LIB/101 is not on record.
    await plant.edit("stop", "F-050@2", { mark_out: 1103 });
    await plant.edit("stop", "F-050@3", { mark_in: 1203, mark_out: 1206 });
    await plant.edit("stop", "F-050@4", { mark_in: 1306, mark_out: 1349 });
    await plant.edit("stop", "F-050@5", { mark_in: 1449 });
    const job = await choose(plant, await planOf(plant, ({ kind }) => kind === "two_points"));
    expect(job.steps[0]?.words).toMatch(/^At LIB\/101 and H-3 look at the coils of F-050/);
  });
});

describe("a temporary mend", () => {
  it("that would have to be gone before it is made is refused, naming the day", async () => {
    const plant = await line();
    const plan = await planOf(plant, ({ kind, new_holes }) => kind === "two_points" && new_holes === 0);
    const asked = { ...CUT, job: "J-1", plan, replace_by: "2026-04-30" };
    expect(await plant.call("job.plan_mend", asked)).toMatchObject({
      error: { code: "bad_input", problems: [{ field: "replace_by", record: "J-1" }] },
    });
    const later = { ...asked, replace_by: "2026-06-01", starts_on: "2026-07-01" };
    expect(await plant.call("job.plan_mend", later)).toMatchObject({ error: { problems: [{ field: "replace_by" }] } });
  });
});

describe("two mends of one cable that pull nothing", () => {
  it("want the same strands and no coil", async () => {
    const plant = await line();
    const plan = await planOf(plant, ({ kind, pulled_m }) => kind === "two_points" && pulled_m < 0.05);
    for (const job of ["J-1", "J-2"]) await plant.run("job.plan_mend", { ...CUT, job, plan });
    const [clash] = (await plant.run<JobAnswer>("job.show", { job: "J-1" })).clashes;
    expect(clash?.words).toBe("24 strands");
  });
  it("that pull want the coils too", async () => {
    const plant = await line();
    const plan = await planOf(plant, ({ pulled_m }) => pulled_m > 0.05);
    for (const job of ["J-1", "J-2"]) await plant.run("job.plan_mend", { ...CUT, job, plan });
    const [clash] = (await plant.run<JobAnswer>("job.show", { job: "J-1" })).clashes;
    expect(clash?.words).toMatch(/^24 strands and \d+ coils/);
  });
});
