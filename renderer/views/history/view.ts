import type { View } from "../view.ts";
import { History } from "./history.tsx";

export const history: View = {
  path: "history",
  tab: "enter",
  question: [
    "What did ",
    { fill: "text", name: "by", hint: "a person", empty: "anyone" },
    " change since ",
    { fill: "text", name: "since", hint: "a day", empty: "the beginning" },
    "?",
  ],
  component: History,
};
