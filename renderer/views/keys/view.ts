import type { View } from "../view.ts";
import { Keys } from "./keys.tsx";

export const keys: View = {
  path: "keys",
  tab: "find",
  help: "Every key, and what the marks and drawings mean.",
  question: ["What do the keys and drawings mean?"],
  unlisted: true,
  component: Keys,
};
