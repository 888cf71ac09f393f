import type { View } from "../view.ts";
import { JobPage } from "./job.tsx";

export const job: View = {
  path: "job",
  tab: "repair",
  question: ["How far is job ", { fill: "record", name: "of", hint: "a job", kinds: ["job"] }, "?"],
  fits: { kinds: ["job"], blank: "of", about: "How far is it?" },
  component: JobPage,
};
