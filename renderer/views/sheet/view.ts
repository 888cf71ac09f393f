import type { View } from "../view.ts";
import { Sheet } from "./sheet.tsx";

export const sheet: View = {
  path: "sheet",
  tab: "enter",
  question: ["If an as-built sheet were taken over, what would change?"],
  component: Sheet,
};
