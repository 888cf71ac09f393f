/** Break-outs: what is planned and undone, and the jobs of both. */
import { expect } from "vitest";
import type { Example } from "./example.ts";

export const BREAKOUT_EXAMPLES: readonly Example[] = [
  {
    name: "breakout.plans",
    input: { cable: "F-014", at: "MH-03", strands: 2, side: "a" },
    refused: { input: { cable: "F-014", at: "LIB/101", strands: 2, side: "a" }, code: "not_possible" },
    check: (value) => expect(value).toMatchObject({ loop: { reaches: "opened" }, place: { tag: "MH-03" } }),
  },
  {
    name: "breakout.places",
    input: { cable: "F-014", strands: 2, side: "a" },
    refused: { input: { cable: "F-999", strands: 2, side: "a" }, code: "not_found" },
    check: (value) => expect(value).toMatchObject({ cable: { tag: "F-014" }, places: [{ place: { tag: "MH-03" } }] }),
  },
  {
    name: "breakout.closing",
    input: { cable: "F-014", at: "MH-03", strands: "25-34" },
    refused: { input: { cable: "F-060", at: "MH-03" }, code: "not_possible" },
    check: (value) => expect(value).toMatchObject({ closed: 10, opened: 0, laterals: [] }),
  },
  {
    name: "job.plan_breakout",
    input: { cable: "F-014", at: "MH-03", strands: 2, side: "a", job: "J-8" },
    refused: {
      input: { cable: "F-014", at: "MH-03", strands: 2, side: "a", set: 20, job: "J-8" },
      code: "not_possible",
    },
    check: (value) => expect(value).toMatchObject({ answer: { job: { tag: "J-8" } } }),
  },
  {
    name: "job.plan_closing",
    input: { cable: "F-014", at: "MH-03", strands: "25-34", job: "J-9" },
    refused: { input: { cable: "F-060", at: "MH-03", job: "J-9" }, code: "not_possible" },
    check: (value) => expect(value).toMatchObject({ answer: { job: { tag: "J-9" } } }),
  },
];
