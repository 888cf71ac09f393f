/** Jobs that are not ended, and one job with its steps. */
import type { Command } from "./command.ts";
import { question } from "./commands-ask.ts";
import { jobsText, jobText } from "./jobs-told.ts";

export const jobCommand: Command = {
  name: "job",
  words: ["FILE"],
  more: ["JOB"],
  help: "The jobs that are not ended; or one job: its steps with who did which when, what it plans, which other jobs want the same, and whether its plan still holds.",
  options: {},
  run: (given) => {
    const job = given.words[1];
    return job === undefined
      ? question(given, "job.list", {}, jobsText)
      : question(given, "job.show", { job }, jobText);
  },
};
