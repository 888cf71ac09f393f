/**
 * A hole with one splice case. F-014 (48 strands, tubes of 12) passes through it from LIB to SCI and is opened there:
 * tube 2 is cut, its LIB halves are spliced to F-021, tube 1 runs on uncut, as do tubes 3 and 4.
 */
import type { Document } from "../../core/paper/document.ts";
import { pdfOf } from "../../host/paper/pdf.ts";
import { type ReadPage, type ReadPdf, type ReadText, readPdf } from "../paper/read-pdf.ts";
import { newPlant, type TestPlant } from "../support/plant.ts";

const tubes = (repeats: number) => [{ kind: "tube", repeats, strands: 12, coating_um: "250" }];
const add = (kind: string, values: Readonly<Record<string, unknown>>) => ["record.add", { kind, values }] as const;

const SETUP: readonly (readonly [name: string, input: unknown])[] = [
  add("building", { tag: "LIB", name: "Library" }),
  add("building", { tag: "SCI", name: "Science hall" }),
  add("space", { tag: "101", building_id: "LIB", kind: "telecom_room" }),
  add("space", { tag: "B01", building_id: "SCI", kind: "entrance_room" }),
  add("space", { tag: "MH-03", kind: "maintenance_hole", hazards: "water confined" }),
  ["closure.enter", { tag: "CL-1", space: "MH-03", trays: [{ numbers: "T1..T3", capacity: 24 }] }],
  [
    "cable.enter",
    {
      tag: "F-014",
      colour_sequence: "tia_598",
      units: tubes(4),
      stops: [{ space: "LIB/101" }, { space: "MH-03", closure: "MH-03/CL-1" }, { space: "SCI/B01" }],
    },
  ],
  [
    "cable.enter",
    {
      tag: "F-021",
      colour_sequence: "tia_598",
      units: tubes(2),
      stops: [{ space: "MH-03", closure: "MH-03/CL-1" }, { space: "SCI/B01" }],
    },
  ],
  ["cable.open", { cable: "F-014", stop: "F-014@2", cut: "13-24" }],
  [
    "splice.range",
    { from: "F-014:13#1,14#1,15#1,16#1", to: "F-021:4,3,2,1", tray: "MH-03/CL-1/T2", first_place: 1, loss_ab_db: 0.02 },
  ],
  [
    "splice.range",
    { from: "F-014:17#1,18#1,19#1,20#1,21#1,22#1", to: "F-021:5-10", tray: "MH-03/CL-1/T1", first_place: 1 },
  ],
  ["circuit.enter", { tag: "C-100", strands: 2, state: "in_service" }],
  ["circuit.assign", { circuit: "C-100", what: ["F-014:1-2"] }],
];

export async function casePlant(): Promise<TestPlant> {
  const plant = await newPlant();
  for (const [name, input] of SETUP) await plant.run(name, input);
  return plant;
}

/** A paper that an operation answers, printed on A4 and read back with another program's reader. */
export async function printedBack(plant: TestPlant, name: string, input: unknown): Promise<ReadPdf> {
  const document = await plant.run<Document>(name, input);
  return readPdf((await pdfOf(document, "a4")).bytes);
}

/** The first piece of text on a page that holds these words. */
export function at(page: ReadPage | undefined, words: string): ReadText {
  const found = page?.pieces.find(({ text }) => text.includes(words));
  if (!found) throw new Error(`${words} is not on the page:\n${page?.text}`);
  return found;
}

export const plain = (text: string): string => text.replace(/\s+/g, " ");
