/** Examples of a new cable run, typed, kept unfinished and entered. */
import { expect } from "vitest";
import type { Example } from "./example.ts";

const run = {
  tag: "F-088",
  strands: "12",
  per_tube: "12",
  mark_unit: "m",
  stops: [
    { space: "MH-03", mark_out: "100", way: "TR-9" },
    { space: "SCI/B01", mark_in: "141" },
  ],
};

/** What lies on the desk before; no change set comes of it. */
export const DESK = [["desk.keep", { form: "run", name: "F-900", content: { tag: "F-900" } }]] as const;

export const RUN_EXAMPLES: readonly Example[] = [
  {
    name: "run.offers",
    input: { place: "MH-03" },
    refused: { input: { place: "MH-99" }, code: "not_found" },
    check: (value) => expect(value).toMatchObject({ ways: [{ way: { tag: "TR-9" }, to: { tag: "SCI/B01" } }] }),
  },
  {
    name: "run.rehearse",
    input: run,
    refused: { input: { ...run, mark_unit: "yards" }, code: "bad_input" },
    check: (value) => expect(value).toMatchObject({ ready: true, problems: [] }),
  },
  {
    name: "run.enter",
    input: run,
    refused: { input: { ...run, tag: "F-021" }, code: "bad_input" },
  },
  {
    name: "desk.list",
    input: { form: "run" },
    refused: { input: { form: "letter" }, code: "bad_input" },
    differs: ["kept_at"],
    check: (value) => expect(value).toMatchObject({ items: [{ name: "F-900", kept: 1, entered: null }] }),
  },
  {
    name: "desk.open",
    input: { form: "run", id: 1 },
    refused: { input: { form: "run", id: 99 }, code: "not_found" },
    differs: ["kept_at"],
    check: (value) => expect(value).toMatchObject({ content: { tag: "F-900" } }),
  },
  {
    name: "desk.keep",
    input: { form: "run", id: 1, name: "F-900", content: { tag: "F-900", strands: "96" }, seen: 1 },
    refused: { input: { form: "run", id: 1, content: {}, seen: 7 }, code: "stale" },
    check: (value) => expect(value).toEqual({ id: 1, kept: 2 }),
  },
  {
    name: "desk.throw_away",
    input: { form: "run", id: 1 },
    refused: { input: { form: "sheet", id: 1 }, code: "not_found" },
  },
];
