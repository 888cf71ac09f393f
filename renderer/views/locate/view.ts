import type { View } from "../view.ts";
import { Locate } from "./locate.tsx";

export const locate: View = {
  path: "locate",
  tab: "find",
  question: [
    "Where is the glass broken, if ",
    { fill: "record", name: "of", hint: "a port or strand", kinds: ["port", "position", "strand"] },
    " reads ",
    { fill: "text", name: "metres", hint: "metres the instrument shows, such as 812" },
    " m, at index ",
    { fill: "text", name: "index", hint: "the group index it was set to, such as 1.4682", empty: "nobody noted" },
    ", over ",
    { fill: "text", name: "launch", hint: "metres of launch cord it counts, such as 150", empty: "0" },
    " m of launch cord?",
  ],
  fits: { kinds: ["port", "position", "strand"], blank: "of", about: "Where is it broken?" },
  component: Locate,
};
