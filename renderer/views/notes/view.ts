import type { View } from "../view.ts";
import { Notes } from "./notes.tsx";

export const notes: View = {
  path: "notes",
  tab: "enter",
  help: "Reads the lines a crew writes and shows beside each the act it understood. What can be read two ways is asked, what is unsure is kept as told.",
  question: ["What do a crew's notes say?"],
  component: Notes,
};
