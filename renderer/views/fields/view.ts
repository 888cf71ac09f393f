import { KIND_NAMES, KINDS } from "../../../core/model/dictionary.ts";
import type { View } from "../view.ts";
import { Fields } from "./fields.tsx";

export const fields: View = {
  path: "fields",
  tab: "enter",
  help: "What the fields of a kind mean, in which unit they are, and what may stand in them.",
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
