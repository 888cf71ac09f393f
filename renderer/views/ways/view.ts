import type { View } from "../view.ts";
import { Ways } from "./ways.tsx";

export const ways: View = {
  path: "ways",
  tab: "find",
  question: [
    "How many separate ways lead into ",
    { fill: "record", name: "of", hint: "each building", kinds: ["building"], optional: true },
    "?",
  ],
  fits: { kinds: ["building"], blank: "of", about: "What cuts it off?" },
  component: Ways,
};
