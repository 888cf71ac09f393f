import { say } from "../../../core/words/say.ts";
import { asking, type View } from "../view.ts";
import { Fitness } from "./fitness.tsx";

export const fitness: View = {
  path: "fitness",
  tab: "check",
  help: say`Holds a cable against each place and way it lies in: sun, water, fire, bends, fill, pull. Each verdict cites its source and defers to the local code.`,
  question: asking(say`Does {of} belong where it lies, in {where}?`, [
    { fill: "record", name: "of", hint: say`a cable`, kinds: ["cable"] },
    {
      fill: "record",
      name: "where",
      hint: say`every place and way`,
      kinds: ["stop", "pathway", "conduit", "space", "building"],
      optional: true,
    },
  ]),
  fits: { kinds: ["cable"], blank: "of", about: say`Does it belong where it lies?` },
  component: Fitness,
};
