/** Papers, on the plant of `examples.ts`. */
import { expect } from "vitest";
import type { Example } from "./example.ts";

/** A document with that title, and with blocks. */
const paper = (what: string) => (value: unknown) =>
  expect(value).toMatchObject({ paper: "document", title: { what, plant: "Test Campus" } });
const nowhere = (field: string) => ({ input: { [field]: "NOWHERE" }, code: "not_found" });

export const PAPER_EXAMPLES: readonly Example[] = [
  {
    name: "paper.splice_sheet",
    input: { case: "MH-03/CL-1" },
    refused: nowhere("case"),
    check: paper("Splice sheet MH-03/CL-1"),
  },
  {
    name: "paper.splice_table",
    input: { case: "MH-03" },
    refused: nowhere("case"),
    check: (value) => expect(value).toMatchObject({ file: "splice-sheet-MH-03-CL-1.csv" }),
  },
  {
    name: "paper.hole_card",
    input: { place: "MH-03" },
    refused: nowhere("place"),
    check: paper("Hole card MH-03"),
  },
  {
    name: "paper.panel_face",
    input: { panel: "LIB/101/A" },
    refused: nowhere("panel"),
    check: paper("Panel face LIB/101/A"),
  },
  {
    name: "paper.trace_sheet",
    input: { what: "F-014:1" },
    refused: nowhere("what"),
    check: paper("Trace of F-014:1"),
  },
  { name: "paper.feed_sheet", input: { place: "LIB" }, refused: nowhere("place"), check: paper("What feeds LIB") },
  { name: "paper.cable_sheet", input: { cable: "F-014" }, refused: nowhere("cable"), check: paper("Cable F-014") },
  {
    name: "paper.report",
    input: { families: ["truth"] },
    refused: { input: { building: "NOWHERE" }, code: "not_found" },
    check: paper("Consistency report"),
  },
  {
    name: "paper.table",
    input: { kind: "strand", columns: ["number", "colour"], text: "F-014", sort: [{ field: "number" }] },
    refused: { input: { kind: "strand", columns: ["nonsense"] }, code: "bad_input" },
    check: paper("Strands"),
  },
];
