/**
 * A small plant of our own invention for break-outs.
 *
 *   ALD/1 --W-1-- H-1 --W-2-- H-2 --W-3-- H-3 --W-4-- ZED/1     F-1, 4 tubes of 12
 *                              |
 *                              +--W-5-- NEW/1                   nobody's yet
 *
 * F-1 is landed at both ends and marked in metres: 20 m lie in H-1 and H-3, 12 m in H-2, of which 4 m are the crossing.
 * K-1 is in service on its strands 1 and 2, K-2 on 37. Strand 25 is broken.
 */
import { type CheckedPlant, checkedPlant } from "../check/campus.ts";

export interface WayOptions {
  readonly type?: Readonly<Record<string, unknown>>;
  readonly slides?: "yes" | "no" | "unproven";
  readonly marks?: boolean;
  readonly units?: readonly Readonly<Record<string, unknown>>[];
}

/** A way without a bend. */
const STRAIGHT = [
  [10, 50],
  [10.01, 50],
];
const TUBES = [{ kind: "tube", repeats: 4, strands: 12, coating_um: "250" }];

export async function way(options: WayOptions = {}): Promise<CheckedPlant> {
  const plant = await checkedPlant();
  const { run, add } = plant;
  const { slides = "yes", marks = true } = options;
  for (const tag of ["ALD", "ZED", "NEW"]) {
    await add("building", { tag, name: tag });
    await add("space", { tag: "1", building_id: tag, kind: "entrance_room" });
  }
  for (const tag of ["H-1", "H-2", "H-3"])
    await add("space", { tag, kind: "maintenance_hole", reach_m: 5, crossing_m: 4 });
  const ways: [string, string, string, number | null][] = [
    ["W-1", "ALD/1", "H-1", 100],
    ["W-2", "H-1", "H-2", 200],
    ["W-3", "H-2", "H-3", 300],
    ["W-4", "H-3", "ZED/1", 400],
    ["W-5", "H-2", "NEW/1", 60],
  ];
  for (const [tag, from_space_id, to_space_id, length_m] of ways)
    await add("pathway", { tag, from_space_id, to_space_id, length_m, kind: "duct_bank", geometry: STRAIGHT });
  await add("cable_type", {
    ...{ tag: "LT-48", construction: "loose_tube", lay: "reversing", fibre_class: "os2", excess_ratio: 0.02 },
    ...{ outer_diameter_mm: 12, max_tension_n: 2700 },
    ...{ colour_sequence: "tia_598", armour: "none", metal: "no", ...options.type },
  });
  await add("cable_type", {
    ...{ tag: "DR-12", construction: "central_tube", fibre_class: "g657a2", excess_ratio: 0.004 },
    ...{ colour_sequence: "tia_598", armour: "none" },
  });
  await add("unit_type", {
    cable_type_id: "DR-12",
    ordinal: 1,
    kind: "tube",
    repeats: 1,
    strands: 12,
    coating_um: "250",
  });
  const on = (pathway: string) => ({ way: { pathway, slides } });
  const at = (own: Readonly<Record<string, unknown>>) => (marks ? own : {});
  await run("cable.enter", {
    tag: "F-1",
    type: "LT-48",
    units: options.units ?? TUBES,
    ...(marks ? { mark_unit: "m" } : {}),
    stops: [
      { space: "ALD/1", ...at({ mark_open_from: 995, mark_out: 1000 }), ...on("W-1") },
      { space: "H-1", ...at({ mark_in: 1100, mark_out: 1120 }), ...on("W-2") },
      { space: "H-2", ...at({ mark_in: 1320, mark_out: 1332 }), ...on("W-3") },
      { space: "H-3", ...at({ mark_in: 1632, mark_out: 1652 }), ...on("W-4") },
      { space: "ZED/1", ...at({ mark_in: 2052, mark_open_to: 2057 }) },
    ],
  });
  if (options.units) return plant;
  for (const tag of ["ALD", "ZED"]) {
    await run("panel.enter", { tag: "P", space: `${tag}/1`, ports: [{ numbers: "01..24", connector: "lc_duplex" }] });
    await run("strand.land", { strands: "F-1:1-48", ports: `${tag}/1/P:01-24`, method: "pigtail" });
  }
  await run("circuit.enter", { tag: "K-1", strands: 2, state: "in_service", priority: 1 });
  await run("circuit.assign", { circuit: "K-1", what: ["F-1:1-2"] });
  await run("circuit.enter", { tag: "K-2", strands: 1, state: "in_service" });
  await run("circuit.assign", { circuit: "K-2", what: ["F-1:37"] });
  await run("record.edit", { kind: "strand", id: "F-1:25", values: { condition: "broken", condition_why: "dark" } });
  return plant;
}
