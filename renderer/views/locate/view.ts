import type { View } from "../view.ts";
import { Locate } from "./locate.tsx";

export const locate: View = {
  path: "locate",
  tab: "repair",
  help: "Spends an instrument's reading along the line and says where the break is: between which places, at which sheath mark, and how far that may be off.",
  question: [
    "Where is the glass broken, if ",
    { fill: "record", name: "of", hint: "a port or strand", kinds: ["port", "position", "strand"] },
    " reads ",
    { fill: "text", name: "metres", hint: "what the instrument shows, such as 812 or 8.2 µs" },
    " m, at index ",
    { fill: "text", name: "index", hint: "the group index it was set to, such as 1.4682", empty: "nobody noted" },
    ", over ",
    { fill: "text", name: "launch", hint: "metres of launch cord it counts, such as 150", empty: "0" },
    " m of launch cord, beside readings ",
    {
      fill: "text",
      name: "also",
      hint: "of other strands or from the other end, such as SCI/B01/P:01=430",
      empty: "of no other",
    },
    " and known events ",
    {
      fill: "text",
      name: "known",
      hint: "a splice, port or the end, such as MH-03/CL-1=331.3; end=812",
      empty: "none",
    },
    "?",
  ],
  fits: { kinds: ["port", "position", "strand"], blank: "of", about: "Where is it broken?" },
  component: Locate,
};
