import { say } from "../../../core/words/say.ts";
import { asking, type View } from "../view.ts";
import { RecordView } from "./record.tsx";

export const record: View = {
  path: "record",
  tab: "enter",
  help: say`Everything on record about one thing: its fields, what it is part of, what refers to it, its labels, files and history.`,
  question: asking(say`What is {tag}?`, [{ fill: "record", name: "tag", hint: say`any tag` }]),
  fits: { kinds: "every", blank: "tag", about: say`Its record` },
  component: RecordView,
};
