import type { View } from "../view.ts";
import { Run } from "./run.tsx";

export const run: View = {
  path: "run",
  tab: "enter",
  help: "Enters a new cable from end to end on one page. What is typed is kept in the plant file with each letter and is no record until it is entered.",
  question: ["How does a new cable run?"],
  component: Run,
};
