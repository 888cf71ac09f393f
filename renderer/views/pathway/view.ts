import { say } from "../../../core/words/say.ts";
import { asking, type View } from "../view.ts";
import { Pathway } from "./pathway.tsx";

export const pathway: View = {
  path: "pathway",
  tab: "find",
  help: say`Shows the pipes of a way as they stand in the bank, the cables in each and how full each is. Before a pipe is used, look into it.`,
  question: asking(say`What lies in {of}, seen from {from}?`, [
    { fill: "record", name: "of", hint: say`a pathway or pipe`, kinds: ["pathway", "conduit"] },
    {
      fill: "choice",
      name: "from",
      hint: say`an end`,
      choices: [
        { value: "", words: say`its from end` },
        { value: "to", words: say`its to end` },
      ],
    },
  ]),
  fits: { kinds: ["pathway", "conduit"], blank: "of", about: say`What lies in it?` },
  component: Pathway,
};
