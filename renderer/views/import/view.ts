import type { View } from "../view.ts";
import { Export } from "./export.tsx";
import { Import } from "./import.tsx";

export const importFolder: View = {
  path: "import",
  tab: "enter",
  question: ["If ", { fill: "text", name: "folder", hint: "a folder" }, " were read, what would change?"],
  component: Import,
};

export const exportFolder: View = {
  path: "export",
  tab: "enter",
  question: ["Write the whole plant to ", { fill: "text", name: "folder", hint: "a folder" }],
  component: Export,
};
