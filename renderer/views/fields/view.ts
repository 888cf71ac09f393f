import { KIND_NAMES, KINDS } from "../../../core/model/dictionary.ts";
import { say } from "../../../core/words/say.ts";
import { asking, type View } from "../view.ts";
import { Fields } from "./fields.tsx";

export const fields: View = {
  path: "fields",
  tab: "enter",
  help: say`What the fields of a kind mean, in which unit they are, and what may stand in them.`,
  question: asking(say`What is recorded of {kind}?`, [
    {
      fill: "choice",
      name: "kind",
      hint: say`a kind of record`,
      choices: KIND_NAMES.map((kind) => ({ value: kind, words: KINDS[kind].many, also: KINDS[kind].help })),
    },
  ]),
  component: Fields,
};
