/** Labels to be made, and how they are worded. */
import { expect } from "vitest";
import type { Example } from "./example.ts";

export const LABEL_EXAMPLES: readonly Example[] = [
  {
    name: "label.list",
    input: { of: ["F-014"], only: ["outdoor"] },
    refused: { input: { of: ["F-014"], template: "nobody's" }, code: "not_found" },
    check: (value) =>
      expect(value).toMatchObject({
        count: 1,
        labels: [{ record: "F-014", place: "MH-03", says: "sbok:cable:F-014" }],
      }),
  },
  {
    name: "label.wordings",
    input: {},
    refused: { input: { nonsense: 1 }, code: "bad_input" },
    check: (value) => expect(value).toMatchObject({ wordings: { 0: { name: "usual outdoor", from: "usual" } } }),
  },
  {
    name: "label.sheets",
    input: {},
    refused: { input: { nonsense: 1 }, code: "bad_input" },
    check: (value) => expect(value).toMatchObject({ sheets: { 0: { per_page: 20, faults: [] } } }),
  },
  {
    name: "label.lay",
    input: { of: ["F-014"], start: 20 },
    refused: { input: { of: ["F-014"], start: 21 }, code: "bad_input" },
    check: (value) => expect(value).toMatchObject({ pages: 2, fit: 3, labels: { 1: { at: { page: 1, row: 0 } } } }),
  },
  {
    name: "label.print",
    input: { of: ["LIB/101/A:03"] },
    refused: { input: { of: ["F-014"], sheet: "tape 9 mm" }, code: "not_possible" },
    check: (value) => expect(value).toMatchObject({ paper: "labels", labels: 1, title: "Labels for LIB/101/A:03" }),
  },
  {
    name: "label.outline",
    input: { sheet: "tape 12 mm" },
    refused: { input: { sheet: "nobody's" }, code: "not_found" },
    check: (value) => expect(value).toMatchObject({ labels: 0, pages: { length: 1 } }),
  },
];
