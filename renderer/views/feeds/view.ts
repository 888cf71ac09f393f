import { STATE_WORDS, STATES } from "../../drawing/states.tsx";
import type { View } from "../view.ts";
import { Feeds } from "./feeds.tsx";

export const feeds: View = {
  path: "feeds",
  tab: "find",
  help: "Lists each cable that comes into a building or room, and of each strand what it is doing, where it ends and whose circuit it carries.",
  question: [
    "What feeds ",
    { fill: "record", name: "of", hint: "a building or place", kinds: ["building", "space"] },
    ", over ",
    { fill: "record", name: "over", hint: "every cable", kinds: ["cable"], optional: true },
    ", in ",
    {
      fill: "choice",
      name: "state",
      hint: "what the strands are doing",
      choices: [
        { value: "", words: "every state" },
        ...STATES.map((state) => ({ value: state, words: STATE_WORDS[state] })),
      ],
    },
    "?",
  ],
  fits: { kinds: ["building", "space"], blank: "of", about: "What feeds it?" },
  component: Feeds,
};
