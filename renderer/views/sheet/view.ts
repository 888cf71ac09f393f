import { say } from "../../../core/words/say.ts";
import type { View } from "../view.ts";
import { Sheet } from "./sheet.tsx";

export const sheet: View = {
  path: "sheet",
  tab: "enter",
  help: say`Reads a CSV file or workbook of a crew or contractor: which column means what, then row by row what would change, then exactly that.`,
  question: [say`If an as-built sheet were taken over, what would change?`],
  component: Sheet,
};
