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
];
