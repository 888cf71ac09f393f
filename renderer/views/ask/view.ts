import type { View } from "../view.ts";
import { Ask } from "./ask.tsx";

export const ask: View = {
  path: "ask",
  tab: "find",
  question: ["What do you want to know?"],
  unlisted: true,
  component: Ask,
};
