import { say } from "../../../core/words/say.ts";
import { asking, type View } from "../view.ts";
import { Find } from "./find.tsx";

/** Any end, port, interface, strand or circuit has a line. */
export const find: View = {
  path: "find",
  tab: "find",
  help: say`Follows one strand from any port, strand or circuit in both directions to where the glass stops or the record does. Each joint and each cable on the way is a row; the leaf says what the record of it rests on.`,
  question: asking(say`Where does {of} go?`, [
    {
      fill: "record",
      name: "of",
      hint: say`a port, strand or circuit`,
      kinds: ["port", "position", "strand", "section", "circuit", "interface"],
    },
  ]),
  fits: {
    kinds: ["port", "position", "strand", "section", "circuit", "interface"],
    blank: "of",
    about: say`Where does it go?`,
  },
  component: Find,
};
