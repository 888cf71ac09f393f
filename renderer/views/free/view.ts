import type { KindName } from "../../../core/model/dictionary.ts";
import { say } from "../../../core/words/say.ts";
import { asking, type View } from "../view.ts";
import { Free } from "./free.tsx";

const PLACES: readonly KindName[] = ["building", "space", "panel", "port"];

export const free: View = {
  path: "free",
  tab: "find",
  help: say`Finds free strands between two places, with the splices and cords still to be made, and ranks them. A choice can become planned work.`,
  question: asking(say`Which {strands} strands are free from {from} to {to}, away from {avoid}, for {for}, {routes}?`, [
    { fill: "text", name: "strands", hint: say`how many, 1 to 144`, empty: "2" },
    { fill: "record", name: "from", hint: say`a building, room, panel or port`, kinds: PLACES },
    { fill: "record", name: "to", hint: say`another place`, kinds: PLACES },
    { fill: "record", name: "avoid", hint: say`no circuit`, kinds: ["circuit"], optional: true },
    { fill: "text", name: "for", hint: say`an application, such as 10GBASE-LR`, empty: say`any use` },
    {
      fill: "choice",
      name: "routes",
      hint: say`one way, or two that share nothing`,
      choices: [
        { value: "", words: say`by one way` },
        { value: "separate", words: say`and by two that share nothing` },
      ],
    },
  ]),
  fits: { kinds: PLACES, blank: "from", about: say`Which strands are free from it?` },
  component: Free,
};
