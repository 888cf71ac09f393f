import { say } from "../../../core/words/say.ts";
import type { View } from "../view.ts";
import { Run } from "./run.tsx";

export const run: View = {
  path: "run",
  tab: "enter",
  help: say`Enters a new cable from end to end on one page. What is typed is kept in the plant file with each letter and becomes a record only when it is entered.`,
  question: [say`How does a new cable run?`],
  component: Run,
};
