import type { View } from "../view.ts";
import { Merge } from "./merge.tsx";

export const merge: View = {
  path: "merge",
  tab: "enter",
  question: [
    "What does ",
    { fill: "text", name: "file", hint: "another file of this plant" },
    " know that isn't here?",
  ],
  component: Merge,
};
