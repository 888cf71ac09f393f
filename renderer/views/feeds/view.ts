import { say } from "../../../core/words/say.ts";
import { STATE_WORDS, STATES } from "../../drawing/states.tsx";
import { asking, type View } from "../view.ts";
import { Feeds } from "./feeds.tsx";

export const feeds: View = {
  path: "feeds",
  tab: "find",
  help: say`Lists each cable that comes into a building or room, and of each strand what it is doing, where it ends and whose circuit it carries.`,
  question: asking(say`What feeds {of}, over {over}, in {state}?`, [
    { fill: "record", name: "of", hint: say`a building or place`, kinds: ["building", "space"] },
    { fill: "record", name: "over", hint: say`every cable`, kinds: ["cable"], optional: true },
    {
      fill: "choice",
      name: "state",
      hint: say`what the strands are doing`,
      choices: [
        { value: "", words: say`every state` },
        ...STATES.map((state) => ({ value: state, words: STATE_WORDS[state] })),
      ],
    },
  ]),
  fits: { kinds: ["building", "space"], blank: "of", about: say`What feeds it?` },
  component: Feeds,
};
