import type { View } from "../view.ts";
import { Feeds } from "./feeds.tsx";

export const feeds: View = {
  path: "feeds",
  tab: "find",
  question: [
    "What feeds ",
    { fill: "record", name: "of", hint: "a building or place", kinds: ["building", "space"] },
    "?",
  ],
  fits: { kinds: ["building", "space"], blank: "of" },
  component: Feeds,
};
