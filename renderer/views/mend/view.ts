import { say } from "../../../core/words/say.ts";
import type { View } from "../view.ts";
import { Mend } from "./mend.tsx";

export const mend: View = {
  path: "mend",
  tab: "repair",
  help: say`Ranks every way to mend a cut cable: where to splice, which coils to pull, what is left of them, and what each circuit loses. Nobody works in a hole, on a pole or beside a dig without the usual care; local codes come first.`,
  question: [
    say`Repair a cut: how is `,
    {
      fill: "record",
      name: "of",
      hint: say`a cut cable, or a cut pathway or pipe`,
      kinds: ["cable", "pathway", "conduit"],
    },
    say` mended, cut at mark `,
    { fill: "text", name: "mark", hint: say`the sheath mark at the cut, as printed`, empty: say`not read` },
    say`, after `,
    { fill: "record", name: "after", hint: say`the place before the cut`, kinds: ["space"], optional: true },
    say` and before `,
    {
      fill: "record",
      name: "until",
      hint: say`the place beyond it`,
      kinds: ["space"],
      optional: true,
    },
    say`, so many metres on: `,
    {
      fill: "text",
      name: "metres",
      hint: say`metres from that place's mouth, or from the way's from end`,
      empty: say`not known`,
    },
    say`, with `,
    {
      fill: "text",
      name: "lost",
      hint: say`metres destroyed on each side, such as 2 or 1.5; 4`,
      empty: say`the usual`,
    },
    say` metres lost; dark: `,
    {
      fill: "text",
      name: "dark",
      hint: say`the dark strands where others still shine, such as BL,OR`,
      empty: say`all strands`,
    },
    "?",
  ],
  fits: { kinds: ["cable", "pathway", "conduit"], blank: "of", about: say`How is it mended where it is cut?` },
  component: Mend,
};
