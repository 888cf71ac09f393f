/** Examples of the history: changes, moments compared, the plant of the past, and two files brought together. */
import { expect } from "vitest";
import type { Example } from "./example.ts";

export const HISTORY_EXAMPLES: readonly Example[] = [
  {
    name: "history.list",
    input: { record: { kind: "building", id: "OLD" } },
    refused: { input: { since: "yesterday" }, code: "bad_input" },
  },
  {
    name: "history.people",
    input: {},
    refused: { input: { limit: 0 }, code: "bad_input" },
    check: (value) => expect(value).toMatchObject({ people: [{ author: expect.any(String) }] }),
  },
  {
    name: "history.show",
    input: { id: 1 },
    refused: { input: { id: 9_999 }, code: "not_found" },
    check: (value) => expect(value).toMatchObject({ summary: "Add building LIB" }),
  },
  {
    name: "history.compare",
    input: { from: { change_set: 0 }, to: { change_set: 2 } },
    refused: { input: { from: { change_set: 2 }, to: { change_set: 1 } }, code: "bad_input" },
    check: (value) => expect(value).toMatchObject({ change_sets: 2, changes: [{ op: "insert", record: "LIB" }, {}] }),
  },
  {
    name: "history.as_of",
    input: ({ out }) => ({ day: "2020-01-01", path: `${out}/then.strandbook` }),
    refused: { input: { day: "2999-01-01" }, code: "bad_input" },
    differs: ["path", "summary"],
    check: (value) => expect(value).toMatchObject({ knowledge: "known", later: expect.any(Number) }),
  },
  { name: "history.undo", input: {}, refused: { input: { change_set: 9_999 }, code: "not_found" } },
  { name: "history.redo", input: {}, refused: { input: { change_set: 1 }, code: "not_possible" } },
  {
    name: "merge.compare",
    input: ({ other }) => ({ file: other }),
    refused: { input: ({ out }) => ({ file: `${out}/none.strandbook` }), code: "file" },
    check: (value) => expect(value).toMatchObject({ open: 0, would: { counts: [{ kind: "building", added: 1 }] } }),
  },
  {
    name: "merge.apply",
    input: ({ other }) => ({ file: other }),
    refused: { input: ({ other }) => ({ file: other, seen: "another moment" }), code: "stale" },
    // The digest takes in the moment of each change.
    differs: ["seen"],
    check: (value) =>
      expect(value).toMatchObject({ summary: "Merge other.strandbook: what Somebody Else entered there" }),
  },
];
