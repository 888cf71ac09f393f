import { say } from "../../../core/words/say.ts";
import { asking, type View } from "../view.ts";
import { Limits } from "./limits.tsx";
import { KNOWN_CHOICES, SUBJECT_CHOICES } from "./subjects.ts";

export const limits: View = {
  path: "limits",
  tab: "check",
  help: say`Every limit and policy in use, with its source and how it is known. The plant's own stand before the published ones.`,
  question: asking(say`Which limits on {about} are in use, {known}, with {named}?`, [
    { fill: "choice", name: "about", hint: say`a subject`, choices: SUBJECT_CHOICES },
    { fill: "choice", name: "known", hint: say`how they are known`, choices: KNOWN_CHOICES },
    { fill: "text", name: "named", hint: say`a word, such as OS2 or 10GBASE`, empty: say`any words` },
  ]),
  component: Limits,
};
