import { say } from "../../../core/words/say.ts";
import { asking, type View } from "../view.ts";
import { PAPER_KINDS } from "./papers.ts";
import { Papers } from "./papers-page.tsx";

export const papers: View = {
  path: "papers",
  tab: "print",
  help: say`Every paper that can be printed of a record, or of the plant.`,
  question: asking(say`Which papers are there of {of}?`, [
    { fill: "record", name: "of", hint: say`a record, or the whole plant`, kinds: PAPER_KINDS, optional: true },
  ]),
  fits: { kinds: PAPER_KINDS, blank: "of", about: say`Which papers are there of it?` },
  component: Papers,
};
