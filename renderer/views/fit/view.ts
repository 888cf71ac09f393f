import { manyWords } from "../../controls/many.ts";
import type { View } from "../view.ts";
import { Fit } from "./fit.tsx";
import { WaysPicker } from "./ways-picker.tsx";

export const fit: View = {
  path: "fit",
  tab: "check",
  help: "Says whether cable of a type could be pulled through ways that are named one after the other.",
  question: [
    "Would cable of type ",
    { fill: "record", name: "type", hint: "a data sheet", kinds: ["cable_type"] },
    " fit ",
    { fill: "own", name: "ways", hint: "ways, one after the other", picker: WaysPicker, words: manyWords, mono: true },
    "?",
  ],
  fits: { kinds: ["cable_type"], blank: "type", about: "Would it fit?" },
  component: Fit,
};
