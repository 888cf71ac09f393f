import type { View } from "../view.ts";
import { JobPage } from "./job.tsx";

export const job: View = {
  path: "job",
  tab: "repair",
  help: "Planned work, step by step. A step that was done is written as the act it is; a job that is given up leaves nothing behind.",
  question: ["How far is job ", { fill: "record", name: "of", hint: "a job", kinds: ["job"] }, "?"],
  fits: { kinds: ["job"], blank: "of", about: "How far is it?" },
  component: JobPage,
};
