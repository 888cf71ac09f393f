import { LABELS_OF } from "../../../core/model/labelled.ts";
import { say } from "../../../core/words/say.ts";
import { asking, type View } from "../view.ts";
import { wordsOfWhat } from "./asked.ts";
import { Labels } from "./labels.tsx";
import { SheetPicker, WhatPicker } from "./pickers.tsx";

export const labels: View = {
  path: "labels",
  tab: "print",
  help: say`What belongs on the labels of cables, ports, closures and places, laid out on the sheet or tape that is used, and which were printed.`,
  question: asking(say`Labels for {of} at {at}, on {sheet}, from label {start}`, [
    { fill: "own", name: "of", hint: say`whatever needs one`, picker: WhatPicker, words: wordsOfWhat, mono: true },
    { fill: "record", name: "at", hint: say`every place`, kinds: ["space"], optional: true },
    {
      fill: "own",
      name: "sheet",
      hint: say`the usual sheet`,
      picker: SheetPicker,
      words: (value) => value,
      // Another sheet is a fresh one: which label is the first free one is said of one sheet alone.
      empties: ["start"],
    },
    { fill: "text", name: "start", hint: say`the first that is still free`, empty: "1" },
  ]),
  fits: { kinds: LABELS_OF, blank: "of", about: say`Which labels does it need?` },
  component: Labels,
};
