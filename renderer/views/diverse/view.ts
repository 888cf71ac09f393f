import { say } from "../../../core/words/say.ts";
import type { View } from "../view.ts";
import { Diverse } from "./diverse.tsx";

export const diverse: View = {
  path: "diverse",
  tab: "find",
  help: say`Says what a circuit shares with those it was declared diverse from, from the building down to the pipe.`,
  question: [
    say`What does `,
    { fill: "record", name: "of", hint: say`each circuit`, kinds: ["circuit"], optional: true },
    say` share with the one it was declared diverse from?`,
  ],
  fits: { kinds: ["circuit"], blank: "of", about: say`What does it share?` },
  component: Diverse,
};
