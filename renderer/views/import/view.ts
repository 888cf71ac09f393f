import type { View } from "../view.ts";
import { Export } from "./export.tsx";
import { Import } from "./import.tsx";

export const importFolder: View = {
  path: "import",
  tab: "enter",
  help: "Reads a folder of tables that was written from here or filled in elsewhere, and shows each row's fate before anything is written.",
  question: ["If ", { fill: "text", name: "folder", hint: "a folder" }, " were read, what would change?"],
  component: Import,
};

export const exportFolder: View = {
  path: "export",
  tab: "enter",
  help: "Writes the whole plant to a folder of CSV files, which can be read back.",
  question: ["Write the whole plant to ", { fill: "text", name: "folder", hint: "a folder" }],
  component: Export,
};
