import { say } from "../../../core/words/say.ts";
import type { View } from "../view.ts";
import { Prefs } from "./prefs.tsx";

export const prefs: View = {
  path: "prefs",
  tab: "print",
  help: say`What this machine prefers, for every plant file: units, theme, printer. It lies in your own folder, never in a plant file.`,
  question: [say`How does this machine show and print things?`],
  component: Prefs,
};
