/** Jobs that are not ended, one job with its steps, and its packet on paper. */

import { say } from "../../core/words/say.ts";
import { asking } from "./asking.ts";
import type { Command, Given } from "./command.ts";
import { question } from "./commands-ask.ts";
import { FINE, UsageError } from "./exit.ts";
import { jobsText, jobText } from "./jobs-told.ts";
import { PAPER_OPTIONS, printed, toPaper } from "./paper.ts";
import { refuseWithoutStep, STEP_OPTIONS, stepDone } from "./step-done.ts";

/** As JSON the job with all that its packet says. */
const whole = (given: Given, job: string): Promise<number> =>
  asking(given.terminal, given, { file: given.words[0] ?? "", write: false }, async ({ ask }) => {
    const [shown, packet] = [await ask("job.show", { job }), await ask("job.packet", { job })];
    await given.terminal.out(`${JSON.stringify({ ...shown, packet }, null, 2)}\n`);
    return FINE;
  });

export const jobCommand: Command = {
  name: "job",
  words: ["FILE"],
  more: ["JOB"],
  help: say`The jobs that are not ended; or one job: its steps with who did which when, what it plans, which other jobs want the same, and whether its plan still holds. With --out the packet that a crew takes along, as a PDF; with --json also all that the packet says. With --step one step is done, or left out.`,
  options: { ...PAPER_OPTIONS, ...STEP_OPTIONS },
  run: async (given) => {
    const job = given.words[1];
    const paper = toPaper(given);
    refuseWithoutStep(given);
    if (given.option("step") !== undefined) {
      if (job === undefined) throw new UsageError(say`--step is a step of one job: name it.`);
      if (paper !== null) throw new UsageError(say`--step and --out don't go together.`);
      return stepDone(given, job);
    }
    if (paper !== null) {
      if (job === undefined) throw new UsageError(say`--out prints one job: name it.`);
      return printed(given, "job.print", { job }, paper);
    }
    if (job === undefined) return question(given, "job.list", {}, jobsText);
    return given.json ? whole(given, job) : question(given, "job.show", { job }, jobText);
  },
};
