import type { View } from "../view.ts";
import { Run } from "./run.tsx";

export const run: View = {
  path: "run",
  tab: "enter",
  question: ["How does a new cable run?"],
  component: Run,
};
