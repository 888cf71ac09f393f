import type { View } from "../view.ts";
import { Plan } from "./plan.tsx";

export const plan: View = {
  path: "plan",
  tab: "find",
  help: "Draws the campus from above to scale, with what is asked about brought out. What has no coordinates is not drawn, and is told.",
  question: [
    "Where does ",
    { fill: "record", name: "of", hint: "everything", optional: true },
    " lie on the campus, beside ",
    { fill: "record", name: "beside", hint: "nothing else", optional: true },
    "?",
  ],
  fits: {
    kinds: ["cable", "circuit", "pathway", "conduit", "space", "building", "port", "strand"],
    blank: "of",
    about: "Where does it lie on the campus?",
  },
  component: Plan,
};
