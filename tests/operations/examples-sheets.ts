/** Examples of sheets and notes taken over. */
import { expect } from "vitest";
import type { Example } from "./example.ts";

const labels = ["label on,text", "LIB,Library", "SCI,Science hall"].join("\n");
export const SHEET_EXAMPLES: readonly Example[] = [
  {
    name: "sheet.read",
    input: { text: labels },
    refused: { input: ({ out }) => ({ file: `${out}/nowhere.csv` }), code: "file" },
    check: (value) => expect(value).toMatchObject({ shape: "labels", rows: 2 }),
  },
  {
    name: "sheet.rehearse",
    input: { text: labels },
    refused: { input: { text: "a,b\n1,2" }, code: "bad_input" },
    check: (value) => expect(value).toMatchObject({ totals: { rows: 2 } }),
  },
  {
    name: "sheet.apply",
    input: { text: labels, valid_rows_only: true },
    refused: { input: { text: labels, digest: "another" }, code: "stale" },
  },
  {
    name: "notes.rehearse",
    input: { text: "F-014:1-2 dead\nthe lid is cracked" },
    refused: { input: { text: "F-014:1-2 dead", answers: { first: 1 } }, code: "bad_input" },
    check: (value) => expect(value).toMatchObject({ lines: [{ fate: "changed" }, { fate: "told" }] }),
  },
  {
    name: "notes.apply",
    input: { text: "F-014:1-2 dead\nthe lid is cracked" },
    refused: { input: { text: "F-014:1-2 dead", digest: "another" }, code: "stale" },
  },
];
