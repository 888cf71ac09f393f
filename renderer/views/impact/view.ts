import { say } from "../../../core/words/say.ts";
import { manyWords } from "../../controls/many.ts";
import { asking, type View } from "../view.ts";
import { LOSABLE } from "./asked.ts";
import { AskedPicker } from "./asked-picker.tsx";
import { Impact } from "./impact.tsx";

export const impact: View = {
  path: "impact",
  tab: "find",
  help: say`Says which strands, circuits and buildings are lost with places, ways or cables, and what still works.`,
  question: asking(say`What breaks with {of}?`, [
    { fill: "own", name: "of", hint: say`places, ways or cables`, picker: AskedPicker, words: manyWords, mono: true },
  ]),
  fits: { kinds: LOSABLE, blank: "of", about: say`What breaks with it?` },
  component: Impact,
};
