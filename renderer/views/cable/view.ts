import { say } from "../../../core/words/say.ts";
import { asking, type View } from "../view.ts";
import { Cable } from "./cable.tsx";

export const cable: View = {
  path: "cable",
  tab: "find",
  help: say`Draws one cable along its way: stops, sheath marks, coils and openings, and in section what is in it.`,
  question: asking(say`What is {of}, seen from {from}?`, [
    { fill: "record", name: "of", hint: say`a cable`, kinds: ["cable"] },
    {
      fill: "choice",
      name: "from",
      hint: say`one of its ends`,
      choices: [
        { value: "", words: say`its A end` },
        { value: "b", words: say`its B end` },
      ],
    },
  ]),
  fits: { kinds: ["cable"], blank: "of", about: say`Where does it run, and what is in it?` },
  component: Cable,
};
