import type { View } from "../view.ts";
import { Check } from "./check.tsx";
import { RulePicker, ruleWords } from "./rule-picker.tsx";

export const check: View = {
  path: "check",
  tab: "check",
  help: "Holds the record against itself and against limits. A finding names its records and says why; what may hurt somebody stands first. What is accepted needs a reason, a name and a day.",
  question: [
    "Does the record of ",
    { fill: "record", name: "of", hint: "the whole plant", kinds: ["building"] },
    " agree, by ",
    { fill: "own", name: "by", hint: "every rule", picker: RulePicker, words: ruleWords },
    ", ",
    {
      fill: "choice",
      name: "order",
      hint: "an order",
      choices: [
        { value: "", words: "worst first" },
        { value: "new", words: "new first" },
      ],
    },
    "?",
  ],
  fits: { kinds: ["building"], blank: "of", about: "Does its record agree?" },
  component: Check,
};
