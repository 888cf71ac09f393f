import type { View } from "../view.ts";
import { Cable } from "./cable.tsx";

export const cable: View = {
  path: "cable",
  tab: "find",
  help: "Draws one cable along its way: stops, sheath marks, coils and openings, and in section what is in it.",
  question: [
    "What is ",
    { fill: "record", name: "of", hint: "a cable", kinds: ["cable"] },
    ", seen from ",
    {
      fill: "choice",
      name: "from",
      hint: "one of its ends",
      choices: [
        { value: "", words: "its A end" },
        { value: "b", words: "its B end" },
      ],
    },
    "?",
  ],
  fits: { kinds: ["cable"], blank: "of", about: "Where does it run, and what is in it?" },
  component: Cable,
};
