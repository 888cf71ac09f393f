import { say } from "../../../core/words/say.ts";
import { asking, type View } from "../view.ts";
import { JobPage } from "./job.tsx";

export const job: View = {
  path: "job",
  tab: "repair",
  help: say`Planned work, step by step. A step that was done is written as the act it is; a job that is given up leaves nothing behind.`,
  question: asking(say`How far is job {of}?`, [{ fill: "record", name: "of", hint: say`a job`, kinds: ["job"] }]),
  fits: { kinds: ["job"], blank: "of", about: say`How far is it?` },
  component: JobPage,
};
