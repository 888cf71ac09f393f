import type { View } from "../view.ts";
import { Cable } from "./cable.tsx";

export const cable: View = {
  path: "cable",
  tab: "find",
  question: ["What is ", { fill: "record", name: "of", hint: "a cable", kinds: ["cable"] }, "?"],
  fits: { kinds: ["cable"], blank: "of" },
  component: Cable,
};
