import type { View } from "../view.ts";
import { Ask } from "./ask.tsx";

export const ask: View = {
  path: "ask",
  tab: "find",
  help: "Every question the record can answer, by tab, with what was asked lately. Type a tag into the search box to ask about it at once.",
  question: ["What do you want to know?"],
  unlisted: true,
  component: Ask,
};
