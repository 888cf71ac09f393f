import { say } from "../../../core/words/say.ts";
import { asking, type View } from "../view.ts";
import { Export } from "./export.tsx";
import { Import } from "./import.tsx";

export const importFolder: View = {
  path: "import",
  tab: "enter",
  help: say`Reads a folder of tables that was written from here or filled in elsewhere, and shows each row's fate before anything is written.`,
  question: asking(say`If {folder} were read, what would change?`, [
    { fill: "text", name: "folder", hint: say`a folder` },
  ]),
  component: Import,
};

export const exportFolder: View = {
  path: "export",
  tab: "enter",
  help: say`Writes the whole plant to a folder of CSV files, which can be read back.`,
  question: asking(say`Write the whole plant to {folder}`, [{ fill: "text", name: "folder", hint: say`a folder` }]),
  component: Export,
};
