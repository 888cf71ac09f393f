import { say } from "../../../core/words/say.ts";
import { asking, type View } from "../view.ts";
import { Ways } from "./ways.tsx";

export const ways: View = {
  path: "ways",
  tab: "find",
  help: say`Says by how many ways that share nothing a building is reached, and what stands between.`,
  question: asking(say`How many separate ways lead into {of}?`, [
    { fill: "record", name: "of", hint: say`each building`, kinds: ["building"], optional: true },
  ]),
  fits: { kinds: ["building"], blank: "of", about: say`What cuts it off?` },
  component: Ways,
};
