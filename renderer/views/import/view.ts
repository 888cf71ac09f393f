import { say } from "../../../core/words/say.ts";
import type { View } from "../view.ts";
import { Export } from "./export.tsx";
import { Import } from "./import.tsx";

export const importFolder: View = {
  path: "import",
  tab: "enter",
  help: say`Reads a folder of tables that was written from here or filled in elsewhere, and shows each row's fate before anything is written.`,
  question: [say`If `, { fill: "text", name: "folder", hint: say`a folder` }, say` were read, what would change?`],
  component: Import,
};

export const exportFolder: View = {
  path: "export",
  tab: "enter",
  help: say`Writes the whole plant to a folder of CSV files, which can be read back.`,
  question: [say`Write the whole plant to `, { fill: "text", name: "folder", hint: say`a folder` }],
  component: Export,
};
