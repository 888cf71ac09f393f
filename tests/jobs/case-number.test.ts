/** The number of a case that a mend hangs, as people give it. */
import { describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import { line } from "./line.ts";
import { at, CUT, NUMBERS, planOf } from "./mending.ts";

describe("the case of a planned mend", () => {
  it("a new case may be given as the address it will have, and not as one in another place", async () => {
    const plant = await line();
    const plan = await planOf(plant, at("H-1"));
    const asked = { ...CUT, ...NUMBERS, plan };
    expect(await plant.call("job.plan_mend", { ...asked, cases: ["H-2/CL-7"] })).toMatchObject({
      ok: false,
      error: {
        code: "bad_input",
        problems: [{ field: "case", record: "H-2/CL-7", reason: "is in H-2, and this case hangs in H-1" }],
      },
    });
    await plant.run("job.plan_mend", { ...asked, cases: ["H-1/CL-7"] });
    const { planned } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    expect(planned.map(({ tag }) => tag)).toContain("H-1/CL-7");
  });

  it("on record already says what enters it", async () => {
    const plant = await line();
    await plant.add("closure", { tag: "CL-7", space_id: "H-1", capacity: 48 });
    await plant.add("tray", { tag: "T1", closure_id: "H-1/CL-7", capacity: 48 });
    const plan = await planOf(plant, at("H-1"));
    const opened = async (job: string): Promise<string | undefined> => {
      await plant.run("job.plan_mend", { ...CUT, job, plan, cases: ["H-1/CL-7"] });
      const { steps } = await plant.run<JobAnswer>("job.show", { job });
      await plant.run("job.abandon", { job });
      return steps.find(({ words }) => words.startsWith("Open case"))?.words;
    };
    expect(await opened("J-1")).toBe("Open case H-1/CL-7");
    await plant.run("cable.enter", {
      tag: "F-080",
      type: "LT-24",
      stops: [{ space: "H-1", way: { conduit: "DB-2/1" } }, { space: "H-2" }],
    });
    await plant.edit("stop", "F-080@1", { closure_id: "H-1/CL-7" });
    expect(await opened("J-2")).toBe("Open case H-1/CL-7; 1 cable enters it, and its glass may be lit");
  });

  it("a new case whose number has a stroke that names no place keeps it", async () => {
    const plant = await line();
    const plan = await planOf(plant, at("H-1"));
    await plant.run("job.plan_mend", { ...CUT, ...NUMBERS, plan, cases: ["26/CL-7"] });
    const { planned } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    expect(planned.map(({ tag }) => tag)).toContain("H-1/26%2FCL-7");
  });
});
