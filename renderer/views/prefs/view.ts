import type { View } from "../view.ts";
import { Prefs } from "./prefs.tsx";

export const prefs: View = {
  path: "prefs",
  tab: "print",
  question: ["How does this machine show and print things?"],
  component: Prefs,
};
