import { KINDS, type KindName } from "../../../core/model/dictionary.ts";
import { say } from "../../../core/words/say.ts";
import { KIND_GROUPS } from "../../grid/columns.ts";
import { asking, type View } from "../view.ts";
import { Enter } from "./enter.tsx";
import { OrderPicker, orderWords } from "./order-picker.tsx";
import { FIRST_KIND, PLACES } from "./question.ts";

const choiceOf = (kind: KindName) => ({ value: kind, words: KINDS[kind].many, also: KINDS[kind].help });

export const enter: View = {
  path: "enter",
  tab: "enter",
  help: say`Every kind of record as a table, read and written as in a spreadsheet. What is typed is written at once; what is refused stays as typed, with its reason under the row.`,
  question: asking(say`Show {kind} in {in}, by {by}`, [
    {
      fill: "choice",
      name: "kind",
      hint: say`a kind of record`,
      choices: [
        choiceOf(FIRST_KIND),
        ...KIND_GROUPS.flatMap(({ kinds }) => kinds.filter((kind) => kind !== FIRST_KIND).map(choiceOf)),
      ],
    },
    { fill: "record", name: "in", hint: say`the whole plant`, kinds: PLACES, optional: true },
    { fill: "own", name: "by", hint: say`tag and place`, picker: OrderPicker, words: orderWords },
  ]),
  component: Enter,
};
