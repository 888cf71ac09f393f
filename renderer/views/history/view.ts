import type { View } from "../view.ts";
import { History } from "./history.tsx";
import { PersonPicker } from "./person-picker.tsx";

export const history: View = {
  path: "history",
  tab: "enter",
  help: "Who changed what, when and why. One old change can be taken back when nothing later rests on it.",
  question: [
    "What did ",
    { fill: "own", name: "by", hint: "anyone", picker: PersonPicker, words: (name) => name },
    " change in ",
    { fill: "text", name: "of", hint: "a record, a range or a kind", empty: "the whole plant" },
    " since ",
    { fill: "text", name: "since", hint: "a day", empty: "the beginning" },
    " until ",
    { fill: "text", name: "until", hint: "a day", empty: "now" },
    "?",
  ],
  component: History,
};
