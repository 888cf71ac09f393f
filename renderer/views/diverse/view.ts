import type { View } from "../view.ts";
import { Diverse } from "./diverse.tsx";

export const diverse: View = {
  path: "diverse",
  tab: "find",
  help: "Says what a circuit shares with those it was declared diverse from, from the building down to the pipe.",
  question: [
    "What does ",
    { fill: "record", name: "of", hint: "each circuit", kinds: ["circuit"], optional: true },
    " share with the one it was declared diverse from?",
  ],
  fits: { kinds: ["circuit"], blank: "of", about: "What does it share?" },
  component: Diverse,
};
