import { say } from "../../../core/words/say.ts";
import { asking, type View } from "../view.ts";
import { Check } from "./check.tsx";
import { RulePicker, ruleWords } from "./rule-picker.tsx";

export const check: View = {
  path: "check",
  tab: "check",
  help: say`Holds the record against itself and against limits. A finding names its records and says why; what may hurt somebody stands first. What is accepted needs a reason, a name and a day.`,
  question: asking(say`Does the record of {of} agree, by {by}, {order}?`, [
    { fill: "record", name: "of", hint: say`the whole plant`, kinds: ["building"] },
    { fill: "own", name: "by", hint: say`every rule`, picker: RulePicker, words: ruleWords },
    {
      fill: "choice",
      name: "order",
      hint: say`an order`,
      choices: [
        { value: "", words: say`worst first` },
        { value: "new", words: say`new first` },
      ],
    },
  ]),
  fits: { kinds: ["building"], blank: "of", about: say`Does its record agree?` },
  component: Check,
};
