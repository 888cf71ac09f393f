import type { View } from "../view.ts";
import { Pathway } from "./pathway.tsx";

export const pathway: View = {
  path: "pathway",
  tab: "find",
  question: [
    "What lies in ",
    { fill: "record", name: "of", hint: "a pathway or pipe", kinds: ["pathway", "conduit"] },
    ", seen from ",
    {
      fill: "choice",
      name: "from",
      hint: "an end",
      choices: [
        { value: "", words: "its from end" },
        { value: "to", words: "its to end" },
      ],
    },
    "?",
  ],
  fits: { kinds: ["pathway", "conduit"], blank: "of", about: "What lies in it?" },
  component: Pathway,
};
