import { say } from "../../../core/words/say.ts";
import { asking, type View } from "../view.ts";
import { Mend } from "./mend.tsx";

export const mend: View = {
  path: "mend",
  tab: "repair",
  help: say`Ranks every way to mend a cut cable: where to splice, which coils to pull, what is left of them, and what each circuit loses. Nobody works in a hole, on a pole or beside a dig without the usual care; local codes come first.`,
  question: asking(
    say`Repair a cut: how is {of} mended, cut at mark {mark}, after {after} and before {until}, so many metres on: {metres}, with {lost} metres lost; dark: {dark}?`,
    [
      {
        fill: "record",
        name: "of",
        hint: say`a cut cable, pathway or pipe, or a wrecked splice case`,
        kinds: ["cable", "pathway", "conduit", "closure"],
      },
      { fill: "text", name: "mark", hint: say`the sheath mark at the cut, as printed`, empty: say`not read` },
      { fill: "record", name: "after", hint: say`no place named`, kinds: ["space"], optional: true },
      {
        fill: "record",
        name: "until",
        hint: say`none named`,
        kinds: ["space"],
        optional: true,
      },
      {
        fill: "text",
        name: "metres",
        hint: say`metres from that place's mouth, or from the way's from end`,
        empty: say`not known`,
      },
      {
        fill: "text",
        name: "lost",
        hint: say`metres destroyed on each side, such as 2 or 1.5; 4`,
        empty: say`the usual`,
      },
      {
        fill: "text",
        name: "dark",
        hint: say`the dark strands where others still shine, such as BL,OR`,
        empty: say`all strands`,
      },
    ],
  ),
  fits: {
    kinds: ["cable", "pathway", "conduit", "closure"],
    blank: "of",
    about: say`How is it mended where it is cut?`,
  },
  component: Mend,
};
