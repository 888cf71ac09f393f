import { say } from "../../../core/words/say.ts";
import type { View } from "../view.ts";
import { Plan } from "./plan.tsx";

export const plan: View = {
  path: "plan",
  tab: "find",
  help: say`Draws the campus from above to scale, with what is asked about brought out. What has no coordinates is not drawn, and is told.`,
  question: [
    say`Where does `,
    { fill: "record", name: "of", hint: say`everything`, optional: true },
    say` lie on the campus, beside `,
    { fill: "record", name: "beside", hint: say`nothing else`, optional: true },
    "?",
  ],
  fits: {
    kinds: ["cable", "circuit", "pathway", "conduit", "space", "building", "port", "strand"],
    blank: "of",
    about: say`Where does it lie on the campus?`,
  },
  component: Plan,
};
