import type { View } from "../view.ts";
import { Coils } from "./coils.tsx";

export const coils: View = {
  path: "coils",
  tab: "repair",
  help: "Cuts every cable at every place and says where it couldn't be mended for want of a coil, and which few coils would cure most.",
  question: [
    "Where are coils missing in ",
    { fill: "record", name: "of", hint: "every cable", kinds: ["cable", "building"], optional: true },
    ", when a cut destroys ",
    { fill: "text", name: "lost", hint: "metres on each side", empty: "the usual metres" },
    "?",
  ],
  fits: { kinds: ["cable", "building"], blank: "of", about: "Where are coils missing?" },
  component: Coils,
};
