/**
 * A small plant for new cable runs: a library and a hall with two holes between them, ways with pipes, a case, a cable to
 * splice to, a panel with some ports taken. DB-2 is 200 m long, DB-3 is 120 m; pipe DB-3/2 is 20 mm wide.
 */
import type { RunRehearsal } from "../../core/run-entry/rehearse.ts";
import { newPlant, type TestPlant } from "../support/plant.ts";

const add = (kind: string, values: Readonly<Record<string, unknown>>) => ["record.add", { kind, values }] as const;
const tubes = (repeats: number) => [{ kind: "tube", repeats, strands: 12, coating_um: "250" }];

const SETUP: readonly (readonly [name: string, input: Readonly<Record<string, unknown>>])[] = [
  add("building", { tag: "LIB", name: "Library" }),
  add("building", { tag: "SCI", name: "Science hall" }),
  add("space", { tag: "101", building_id: "LIB", kind: "telecom_room" }),
  add("space", { tag: "B01", building_id: "SCI", kind: "entrance_room" }),
  add("space", { tag: "MH-03", kind: "hand_hole" }),
  add("space", { tag: "MH-07", kind: "hand_hole" }),
  add("pathway", { tag: "DB-2", from_space_id: "LIB/101", to_space_id: "MH-03", length_m: 200, kind: "duct_bank" }),
  add("pathway", { tag: "DB-3", from_space_id: "MH-03", to_space_id: "MH-07", length_m: 120, kind: "duct_bank" }),
  add("pathway", { tag: "DB-4", from_space_id: "SCI/B01", to_space_id: "MH-07", length_m: 80, kind: "duct_bank" }),
  add("conduit", { tag: "1", pathway_id: "DB-2", inner_diameter_mm: 100, state: "in_use" }),
  add("conduit", { tag: "1", pathway_id: "DB-3", inner_diameter_mm: 100, state: "free" }),
  add("conduit", { tag: "2", pathway_id: "DB-3", inner_diameter_mm: 20, state: "free" }),
  add("cable_type", { tag: "LT-14", construction: "loose_tube", outer_diameter_mm: 14, environment: "outdoor" }),
  ["closure.enter", { tag: "CL-7", space: "MH-07", trays: [{ numbers: "T1..T2", capacity: 24 }] }],
  [
    "cable.enter",
    {
      tag: "F-021",
      units: tubes(2),
      stops: [{ space: "MH-07", closure: "MH-07/CL-7", way: { pathway: "DB-4" } }, { space: "SCI/B01" }],
    },
  ],
  ["panel.enter", { tag: "A", space: "LIB/101", ports: [{ numbers: "01..24", connector: "lc_duplex" }] }],
];

export async function runPlant(): Promise<TestPlant> {
  const plant = await newPlant();
  for (const [name, input] of SETUP) await plant.run(name, input);
  return plant;
}

/** Library to the second hole, 24 strands, with marks in metres. */
export const RUN = {
  tag: "F-030",
  type: "LT-14",
  strands: "24",
  per_tube: "12",
  mark_unit: "m",
  stops: [
    { space: "LIB/101", mark_out: "1000", way: "DB-2/1" },
    { space: "MH-03", mark_in: "1201", mark_out: "1216", way: "DB-3/1" },
    { space: "MH-07", mark_in: "1337", closure: "CL-7" },
  ],
  landings: [{ end: "A", strands: "1-24", panel: "A", ports: "01-12", method: "pigtail" }],
  splices: [{ at: "MH-07", strands: "1-24", to: "F-021:1-24", tray: "CL-7/T1" }],
} as const;

export const rehearsed = (plant: TestPlant, run: object): Promise<RunRehearsal> => plant.run("run.rehearse", run);

/** How many records of a kind there are. */
export async function count(plant: TestPlant, kind: string): Promise<number> {
  const { total } = await plant.run<{ total: number }>("record.window", { kind, limit: 0 });
  return total;
}
