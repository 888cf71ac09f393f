import type { View } from "../view.ts";
import { Notes } from "./notes.tsx";

export const notes: View = {
  path: "notes",
  tab: "enter",
  question: ["What do a crew's notes say?"],
  component: Notes,
};
