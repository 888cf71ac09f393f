import { say } from "../../../core/words/say.ts";
import { manyWords } from "../../controls/many.ts";
import { asking, type View } from "../view.ts";
import { Fit } from "./fit.tsx";
import { WaysPicker } from "./ways-picker.tsx";

export const fit: View = {
  path: "fit",
  tab: "check",
  help: say`Says whether cable of a type could be pulled through ways that are named one after the other.`,
  question: asking(say`Would cable of type {type} fit {ways}?`, [
    { fill: "record", name: "type", hint: say`a data sheet`, kinds: ["cable_type"] },
    {
      fill: "own",
      name: "ways",
      hint: say`ways, one after the other`,
      picker: WaysPicker,
      words: manyWords,
      mono: true,
    },
  ]),
  fits: { kinds: ["cable_type"], blank: "type", about: say`Would it fit?` },
  component: Fit,
};
