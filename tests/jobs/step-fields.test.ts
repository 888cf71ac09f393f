/** A step of a job answered by what its act doesn't know. */
import { describe, expect, it } from "vitest";
import { line } from "./line.ts";
import { at, choose, doStep, planOf } from "./mending.ts";

describe("a step of a mend", () => {
  it("names the fields there are where a step is answered by one that its act hasn't", async () => {
    const plant = await line();
    const job = await choose(plant, await planOf(plant, at("H-1")));
    const splice = job.steps.find(({ act }) => act === "splice.close");
    for (const step of job.steps.slice(0, (splice?.ordinal ?? 1) - 1)) await doStep(plant, step);
    const reply = await plant.call("job.do", { job: "J-1", step: splice?.ordinal, otherwise: { loss_db: 0.1 } });
    expect(reply).toMatchObject({
      ok: false,
      error: {
        code: "bad_input",
        message: expect.stringMatching(
          /^loss_db is no field of splice\.close: its fields are strands, stop, .*loss_ab_db, loss_ba_db/,
        ),
        problems: [{ field: "loss_db" }],
      },
    });
  });
});
