import type { View } from "../view.ts";
import { Pathway } from "./pathway.tsx";

export const pathway: View = {
  path: "pathway",
  tab: "find",
  help: "Shows the pipes of a way as they stand in the bank, the cables in each and how full each is. Before a pipe is used, look into it.",
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
