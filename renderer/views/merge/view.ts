import { say } from "../../../core/words/say.ts";
import { asking, type View } from "../view.ts";
import { Merge } from "./merge.tsx";

export const merge: View = {
  path: "merge",
  tab: "enter",
  help: say`Brings in what another file of the same plant knows, such as a copy that went to the field. Where both changed the same field you choose; all of it is one change.`,
  question: asking(say`What does {file} know that isn't here?`, [
    { fill: "text", name: "file", hint: say`another file of this plant` },
  ]),
  component: Merge,
};
