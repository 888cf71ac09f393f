import { say } from "../../../core/words/say.ts";
import type { View } from "../view.ts";
import { Keys } from "./keys.tsx";

export const keys: View = {
  path: "keys",
  tab: "find",
  help: say`Every key, and what the marks and drawings mean.`,
  question: [say`What do the keys and drawings mean?`],
  unlisted: true,
  component: Keys,
};
