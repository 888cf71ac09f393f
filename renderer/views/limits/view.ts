import type { View } from "../view.ts";
import { Limits } from "./limits.tsx";
import { KNOWN_CHOICES, SUBJECT_CHOICES } from "./subjects.ts";

export const limits: View = {
  path: "limits",
  tab: "check",
  help: "Every limit and policy in use, with its source and how it is known. The plant's own stand before the published ones.",
  question: [
    "Which limits on ",
    { fill: "choice", name: "about", hint: "a subject", choices: SUBJECT_CHOICES },
    " are in use, ",
    { fill: "choice", name: "known", hint: "how they are known", choices: KNOWN_CHOICES },
    ", with ",
    { fill: "text", name: "named", hint: "a word, such as OS2 or 10GBASE", empty: "any words" },
    "?",
  ],
  component: Limits,
};
