import type { View } from "../view.ts";
import { RecordView } from "./record.tsx";

export const record: View = {
  path: "record",
  tab: "enter",
  help: "Everything on record about one thing: its fields, what it is part of, what refers to it, its labels, files and history.",
  question: ["What is ", { fill: "record", name: "tag", hint: "any tag" }, "?"],
  fits: { kinds: "every", blank: "tag", about: "Its record" },
  component: RecordView,
};
