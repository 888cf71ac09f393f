import { say } from "../../../core/words/say.ts";
import { ACTS } from "../../forms/acts/index.ts";
import { asking, type View } from "../view.ts";
import { Acts } from "./acts.tsx";

export const acts: View = {
  path: "acts",
  tab: "enter",
  help: say`What a crew did, one act at a time. Each is read, tried and shown before it is written, and one undo takes it back whole.`,
  question: asking(say`What was done: {do}?`, [
    {
      fill: "choice",
      name: "do",
      hint: say`an act`,
      choices: [
        { value: "", words: say`choose an act` },
        ...ACTS.map((act) => ({ value: act.name, words: act.title.toLowerCase() })),
      ],
    },
  ]),
  component: Acts,
};
