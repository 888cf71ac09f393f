/** Jobs that are not ended, one job with its steps, and its packet on paper. */
import type { Command } from "./command.ts";
import { question } from "./commands-ask.ts";
import { UsageError } from "./exit.ts";
import { jobsText, jobText } from "./jobs-told.ts";
import { PAPER_OPTIONS, printed, toPaper } from "./paper.ts";

export const jobCommand: Command = {
  name: "job",
  words: ["FILE"],
  more: ["JOB"],
  help: "The jobs that are not ended; or one job: its steps with who did which when, what it plans, which other jobs want the same, and whether its plan still holds. With --out the packet that a crew takes along, as a PDF.",
  options: PAPER_OPTIONS,
  run: async (given) => {
    const job = given.words[1];
    const paper = toPaper(given);
    if (paper !== null) {
      if (job === undefined) throw new UsageError("--out prints one job: name it.");
      return printed(given, "job.print", { job }, paper);
    }
    return job === undefined
      ? question(given, "job.list", {}, jobsText)
      : question(given, "job.show", { job }, jobText);
  },
};
