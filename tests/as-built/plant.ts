/** A small plant for sheets and notes: two buildings, a hole with a case, two cables, panels on both sides. */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import type { SheetRehearsal } from "../../core/as-built/rehearse.ts";
import { newPlant, type TestPlant } from "../support/plant.ts";

const tubes = (repeats: number) => [{ kind: "tube", repeats, strands: 12, coating_um: "250" }];
const add = (kind: string, values: Readonly<Record<string, unknown>>) => ["record.add", { kind, values }] as const;

const SETUP: readonly (readonly [name: string, input: Readonly<Record<string, unknown>>])[] = [
  add("building", { tag: "LIB", name: "Library" }),
  add("building", { tag: "SCI", name: "Science hall" }),
  add("space", { tag: "101", building_id: "LIB", kind: "telecom_room" }),
  add("space", { tag: "B01", building_id: "SCI", kind: "entrance_room" }),
  add("space", { tag: "MH-03", kind: "hand_hole" }),
  add("space", { tag: "MH-07", kind: "hand_hole" }),
  [
    "cable.enter",
    {
      tag: "F-014",
      mark_unit: "m",
      colour_sequence: "tia_598",
      units: tubes(4),
      stops: [{ space: "LIB/101" }, { space: "MH-03" }],
    },
  ],
  [
    "cable.enter",
    {
      tag: "F-021",
      mark_unit: "m",
      colour_sequence: "tia_598",
      units: tubes(4),
      stops: [{ space: "MH-03" }, { space: "SCI/B01" }],
    },
  ],
  ["panel.enter", { tag: "A", space: "LIB/101", ports: [{ numbers: "01..24", connector: "lc_duplex" }] }],
  ["panel.enter", { tag: "B", space: "SCI/B01", ports: [{ numbers: "01..24", connector: "lc_duplex" }] }],
  ["device.enter", { tag: "SW-1", space: "LIB/101", ports: [{ numbers: "1..4", connector: "lc_duplex" }] }],
  ["closure.enter", { tag: "CL-1", space: "MH-03", trays: [{ numbers: "T1..T4", capacity: 24 }] }],
  ["circuit.enter", { tag: "C-100", strands: 2 }],
];

export async function sheetPlant(): Promise<TestPlant> {
  const plant = await newPlant();
  for (const [name, input] of SETUP) await plant.run(name, input);
  return plant;
}

/** A sheet's file beside the plant, with these bytes. */
export function sheetFile(plant: TestPlant, name: string, content: string | Uint8Array): string {
  const path = join(plant.folder, name);
  writeFileSync(path, content);
  return path;
}

export const lines = (...rows: readonly string[]): string => rows.join("\r\n");

export const rehearsed = (plant: TestPlant, input: object): Promise<SheetRehearsal> =>
  plant.run<SheetRehearsal>("sheet.rehearse", input);

export const fates = ({ rows }: SheetRehearsal): string[] => rows.map(({ fate }) => fate);

/** How many records of a kind there are. */
export async function count(plant: TestPlant, kind: string): Promise<number> {
  const { total } = await plant.run<{ total: number }>("record.window", { kind, limit: 0 });
  return total;
}
