import { say } from "../../../core/words/say.ts";
import { asking, type View } from "../view.ts";
import { History } from "./history.tsx";
import { PersonPicker } from "./person-picker.tsx";

export const history: View = {
  path: "history",
  tab: "enter",
  help: say`Who changed what, when and why. One old change can be taken back when nothing later rests on it.`,
  question: asking(say`What did {by} change in {of} since {since} until {until}?`, [
    { fill: "own", name: "by", hint: say`anyone`, picker: PersonPicker, words: (name) => name },
    { fill: "text", name: "of", hint: say`a record, a range or a kind`, empty: say`the whole plant` },
    { fill: "text", name: "since", hint: say`a day`, empty: say`the beginning` },
    { fill: "text", name: "until", hint: say`a day`, empty: say`now` },
  ]),
  component: History,
};
