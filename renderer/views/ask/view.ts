import { say } from "../../../core/words/say.ts";
import type { View } from "../view.ts";
import { Ask } from "./ask.tsx";

export const ask: View = {
  path: "ask",
  tab: "find",
  help: say`Every question the record can answer, by tab, with what was asked lately. Type a tag into the search box to ask about it at once.`,
  question: [say`What do you want to know?`],
  unlisted: true,
  component: Ask,
};
