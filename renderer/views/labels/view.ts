import { LABELS_OF } from "../../../core/model/labelled.ts";
import type { View } from "../view.ts";
import { wordsOfWhat } from "./asked.ts";
import { Labels } from "./labels.tsx";
import { SheetPicker, WhatPicker } from "./pickers.tsx";

export const labels: View = {
  path: "labels",
  tab: "print",
  help: "What belongs on the labels of cables, ports, closures and places, laid out on the sheet or tape that is used, and which were printed.",
  question: [
    "Labels for ",
    { fill: "own", name: "of", hint: "whatever needs one", picker: WhatPicker, words: wordsOfWhat, mono: true },
    " at ",
    { fill: "record", name: "at", hint: "every place", kinds: ["space"], optional: true },
    ", on ",
    { fill: "own", name: "sheet", hint: "the usual sheet", picker: SheetPicker, words: (value) => value },
    ", from label ",
    { fill: "text", name: "start", hint: "the first that is still free", empty: "1" },
  ],
  fits: { kinds: LABELS_OF, blank: "of", about: "Which labels does it need?" },
  component: Labels,
};
