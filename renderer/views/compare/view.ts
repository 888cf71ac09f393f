import { say } from "../../../core/words/say.ts";
import { asking, type View } from "../view.ts";
import { Compare } from "./compare.tsx";

export const compare: View = {
  path: "compare",
  tab: "enter",
  help: say`Holds two moments of this plant against each other, record by record.`,
  question: asking(say`What differs between {from} and {to}?`, [
    { fill: "text", name: "from", hint: say`a day, a change or a sign-off` },
    { fill: "text", name: "to", hint: say`a day or a change`, empty: say`now` },
  ]),
  component: Compare,
};
