import { KIND_NAMES, KINDS } from "../../../core/model/dictionary.ts";
import type { View } from "../view.ts";
import { Fields } from "./fields.tsx";

export const fields: View = {
  path: "fields",
  tab: "enter",
  question: [
    "What is recorded of ",
    {
      fill: "choice",
      name: "kind",
      hint: "a kind of record",
      choices: KIND_NAMES.map((kind) => ({ value: kind, words: KINDS[kind].many })),
    },
    "?",
  ],
  component: Fields,
};
