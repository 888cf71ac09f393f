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

  it("a new case whose number has a stroke that names no place keeps it", async () => {
    const plant = await line();
    const plan = await planOf(plant, at("H-1"));
    await plant.run("job.plan_mend", { ...CUT, ...NUMBERS, plan, cases: ["26/CL-7"] });
    const { planned } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    expect(planned.map(({ tag }) => tag)).toContain("H-1/26%2FCL-7");
  });
});
