import type { KindName } from "../../../core/model/dictionary.ts";
import type { View } from "../view.ts";
import { Free } from "./free.tsx";

const PLACES: readonly KindName[] = ["building", "space", "panel", "port"];

export const free: View = {
  path: "free",
  tab: "find",
  help: "Finds free strands between two places, with the splices and cords still to be made, and ranks them. A choice can become planned work.",
  question: [
    "Which ",
    { fill: "text", name: "strands", hint: "how many, 1 to 144", empty: "2" },
    " strands are free from ",
    { fill: "record", name: "from", hint: "a building, room, panel or port", kinds: PLACES },
    " to ",
    { fill: "record", name: "to", hint: "another place", kinds: PLACES },
    ", away from ",
    { fill: "record", name: "avoid", hint: "no circuit", kinds: ["circuit"], optional: true },
    ", for ",
    { fill: "text", name: "for", hint: "an application, such as 10GBASE-LR", empty: "any use" },
    ", ",
    {
      fill: "choice",
      name: "routes",
      hint: "one way, or two that share nothing",
      choices: [
        { value: "", words: "by one way" },
        { value: "separate", words: "and by two that share nothing" },
      ],
    },
    "?",
  ],
  fits: { kinds: PLACES, blank: "from", about: "Which strands are free from it?" },
  component: Free,
};
