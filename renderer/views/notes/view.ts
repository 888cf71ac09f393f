import { say } from "../../../core/words/say.ts";
import type { View } from "../view.ts";
import { Notes } from "./notes.tsx";

export const notes: View = {
  path: "notes",
  tab: "enter",
  help: say`Reads the lines a crew writes and shows beside each the act it understood. What can be read two ways is asked, what is unsure is kept as told.`,
  question: [say`What do a crew's notes say?`],
  component: Notes,
};
