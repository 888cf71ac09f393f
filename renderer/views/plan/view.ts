import { say } from "../../../core/words/say.ts";
import { asking, type View } from "../view.ts";
import { Plan } from "./plan.tsx";

export const plan: View = {
  path: "plan",
  tab: "find",
  help: say`Draws the campus from above to scale, with what is asked about brought out. What has no coordinates is not drawn, and is told.`,
  question: asking(say`Where does {of} lie on the campus, beside {beside}?`, [
    { fill: "record", name: "of", hint: say`everything`, optional: true },
    { fill: "record", name: "beside", hint: say`nothing else`, optional: true },
  ]),
  fits: {
    kinds: ["cable", "circuit", "pathway", "conduit", "space", "building", "port", "strand"],
    blank: "of",
    about: say`Where does it lie on the campus?`,
  },
  component: Plan,
};
