import type { View } from "../view.ts";
import { RecordView } from "./record.tsx";

export const record: View = {
  path: "record",
  tab: "enter",
  question: ["What is ", { fill: "record", name: "tag", hint: "any tag" }, "?"],
  fits: { kinds: "every", blank: "tag", about: "Its record" },
  component: RecordView,
};
