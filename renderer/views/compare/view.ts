import type { View } from "../view.ts";
import { Compare } from "./compare.tsx";

export const compare: View = {
  path: "compare",
  tab: "enter",
  help: "Holds two moments of this plant against each other, record by record.",
  question: [
    "What differs between ",
    { fill: "text", name: "from", hint: "a day, a change or a sign-off" },
    " and ",
    { fill: "text", name: "to", hint: "a day or a change", empty: "now" },
    "?",
  ],
  component: Compare,
};
