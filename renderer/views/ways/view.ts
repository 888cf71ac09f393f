import type { View } from "../view.ts";
import { Ways } from "./ways.tsx";

export const ways: View = {
  path: "ways",
  tab: "find",
  help: "Says by how many ways that share nothing a building is reached, and what stands between.",
  question: [
    "How many separate ways lead into ",
    { fill: "record", name: "of", hint: "each building", kinds: ["building"], optional: true },
    "?",
  ],
  fits: { kinds: ["building"], blank: "of", about: "What cuts it off?" },
  component: Ways,
};
