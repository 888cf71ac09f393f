import type { View } from "../view.ts";
import { Mend } from "./mend.tsx";

export const mend: View = {
  path: "mend",
  tab: "repair",
  help: "Ranks every way to mend a cut cable: where to splice, which coils to pull, what is left of them, and what each circuit loses. Nobody works in a hole, on a pole or beside a dig without the usual care; local codes come first.",
  question: [
    "Repair a cut: how is ",
    {
      fill: "record",
      name: "of",
      hint: "a cut cable, or a cut pathway or pipe",
      kinds: ["cable", "pathway", "conduit"],
    },
    " mended, cut at mark ",
    { fill: "text", name: "mark", hint: "the sheath mark at the cut, as printed", empty: "not read" },
    ", after ",
    { fill: "record", name: "after", hint: "the place before the cut", kinds: ["space"], optional: true },
    " and before ",
    {
      fill: "record",
      name: "until",
      hint: "the place beyond it",
      kinds: ["space"],
      optional: true,
    },
    ", so many metres on: ",
    {
      fill: "text",
      name: "metres",
      hint: "metres from that place's mouth, or from the way's from end",
      empty: "not known",
    },
    ", with ",
    { fill: "text", name: "lost", hint: "metres destroyed on each side, such as 2 or 1.5; 4", empty: "the usual" },
    " metres lost; dark: ",
    {
      fill: "text",
      name: "dark",
      hint: "the dark strands where others still shine, such as BL,OR",
      empty: "all strands",
    },
    "?",
  ],
  fits: { kinds: ["cable", "pathway", "conduit"], blank: "of", about: "How is it mended where it is cut?" },
  component: Mend,
};
