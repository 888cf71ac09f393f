import { say } from "../../../core/words/say.ts";
import { asking, type View } from "../view.ts";
import { Diverse } from "./diverse.tsx";

export const diverse: View = {
  path: "diverse",
  tab: "find",
  help: say`Says what a circuit shares with those it was declared diverse from, from the building down to the pipe.`,
  question: asking(say`What does {of} share with the one it was declared diverse from?`, [
    { fill: "record", name: "of", hint: say`each circuit`, kinds: ["circuit"], optional: true },
  ]),
  fits: { kinds: ["circuit"], blank: "of", about: say`What does it share?` },
  component: Diverse,
};
