import { say } from "../../../core/words/say.ts";
import { asking, type View } from "../view.ts";
import { Coils } from "./coils.tsx";

export const coils: View = {
  path: "coils",
  tab: "repair",
  help: say`Cuts every cable at every place and says where it couldn't be mended for want of a coil, and which few coils would cure most.`,
  question: asking(say`Where are coils missing in {of}, when a cut destroys {lost}?`, [
    { fill: "record", name: "of", hint: say`every cable`, kinds: ["cable", "building"], optional: true },
    { fill: "text", name: "lost", hint: say`metres on each side`, empty: say`the usual metres` },
  ]),
  fits: { kinds: ["cable", "building"], blank: "of", about: say`Where are coils missing?` },
  component: Coils,
};
