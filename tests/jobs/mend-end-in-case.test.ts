/** A mend of a cable that ends in a case, in which it is spliced on, and at no panel: L-9 of `opened-line.ts`, in H-2. */
import { beforeAll, describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { MendWhole } from "../../core/repair/answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { opened } from "./opened-line.ts";

const CUT = { cable: "L-9", after: "H-2", metres: 40, lost_left_m: 1, lost_right_m: 1 };

describe("a cable that ends in a case", () => {
  let plant: CheckedPlant;
  let told: MendWhole;
  beforeAll(async () => {
    plant = await opened();
    told = await plant.run<MendWhole>("mend.plans", CUT);
  });

  it("is spliced beside that case, and said so: there is no panel", () => {
    const words = told.plans.map(({ sentence }) => sentence).join(" ");
    expect(words).toContain("H-2 beside the case there");
    expect(words).not.toContain("H-2 beside the panel there");
    expect(words).toContain("beside the panel there");
  });

  it("gets a stop of its own beside it as a step that says so", async () => {
    const plan = told.plans.findIndex(({ points }) => points[0]?.held && points[0].words === "H-2") + 1;
    await plant.run("job.plan_mend", { ...CUT, job: "J-1", plan });
    const { steps } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    expect(steps.map(({ words }) => words)).toContain(
      "Record that L-9 will end beside the case at H-2, in a case of its own; what stands in the case stays as it is",
    );
  });

  it("has new cable up to it spliced in the case, in the place of the old", () => {
    const up = told.plans.find(({ landed }) => landed?.words === "H-2");
    expect(up?.sentence).toContain("to H-2, spliced in the case there in the place of the old");
  });
});
