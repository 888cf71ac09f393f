/**
 * A straight line of our own invention in which a cut can be mended in every way.
 *
 *   LIB/101 --W-1 100 m-- H-1 --W-2 150 m-- H-2 --W-3 100 m-- SCI/B01
 *
 * F-100, 24 strands in two tubes, lies in pipe 1 of each way: 28 m are coiled in H-1, 38 m in H-2, 20 m at each end, where
 * it is landed on LIB/101/A:01-12 and SCI/B01/P:01-12. Every leg slides by the record and by estimate. K-1 (priority 4)
 * runs on F-100:1-2, K-2 (priority 1) on F-100:13-14. F-101, alike and dark, lies in pipe 2 without a coil; pipe 3 is empty.
 */
import { type CheckedPlant, checkedPlant, circuit } from "../check/campus.ts";

const duplex = (numbers: string) => [{ numbers, connector: "lc_duplex" }];

/** Along the equator: a metre is a metre, and the way has no bend. */
const straight = (from_m: number, to_m: number) => [
  [from_m / 111_320, 0],
  [to_m / 111_320, 0],
];

export async function line(): Promise<CheckedPlant> {
  const plant = await checkedPlant();
  const { run, add } = plant;
  await add("building", { tag: "LIB" });
  await add("building", { tag: "SCI" });
  await add("space", { tag: "101", building_id: "LIB", kind: "telecom_room", reach_m: 5 });
  await add("space", { tag: "B01", building_id: "SCI", kind: "entrance_room", reach_m: 5 });
  const hole = { kind: "maintenance_hole", crossing_m: 2, reach_m: 5, inner_length_m: 3, inner_width_m: 2 };
  await add("space", { tag: "H-1", ...hole });
  await add("space", { tag: "H-2", ...hole });
  const ways = [
    ["W-1", "LIB/101", "H-1", 0, 100],
    ["W-2", "H-1", "H-2", 102, 252],
    ["W-3", "H-2", "SCI/B01", 254, 354],
  ] as const;
  for (const [tag, from_space_id, to_space_id, from_m, to_m] of ways) {
    await add("pathway", {
      tag,
      from_space_id,
      to_space_id,
      kind: "duct_bank",
      length_m: to_m - from_m,
      geometry: straight(from_m, to_m),
    });
    for (const pipe of ["1", "2", "3"]) await add("conduit", { tag: pipe, pathway_id: tag, inner_diameter_mm: 100 });
  }
  await add("cable_type", {
    tag: "LT-24",
    construction: "loose_tube",
    fibre_class: "os2",
    excess_ratio: 0.02,
    armour: "none",
    metal: "no",
    environment: "outdoor",
    outer_diameter_mm: 12,
    bend_radius_mm: 240,
    max_tension_n: 2700,
  });
  const tubes = { ordinal: 1, kind: "tube", strands: 12, coating_um: "250" };
  await add("unit_type", { cable_type_id: "LT-24", repeats: 2, ...tubes });
  const way = (conduit: string) => ({ conduit, held: "loose", slides: "yes" });
  await run("cable.enter", {
    tag: "F-100",
    type: "LT-24",
    mark_unit: "m",
    stops: [
      { space: "LIB/101", mark_open_from: 980, mark_out: 1000, way: way("W-1/1") },
      { space: "H-1", mark_in: 1100, mark_out: 1130, way: way("W-2/1") },
      { space: "H-2", mark_in: 1280, mark_out: 1320, way: way("W-3/1") },
      { space: "SCI/B01", mark_in: 1420, mark_open_to: 1440 },
    ],
  });
  await run("cable.enter", {
    tag: "F-101",
    type: "LT-24",
    mark_unit: "m",
    stops: [
      { space: "LIB/101", mark_open_from: 400, mark_out: 400, way: way("W-1/2") },
      { space: "H-1", mark_in: 500, mark_out: 502, way: way("W-2/2") },
      { space: "H-2", mark_in: 652, mark_out: 654, way: way("W-3/2") },
      { space: "SCI/B01", mark_in: 754, mark_open_to: 754 },
    ],
  });
  for (const [panel, space] of [
    ["A", "LIB/101"],
    ["P", "SCI/B01"],
  ] as const) {
    await run("panel.enter", { tag: panel, space, ports: duplex("01..12") });
    await run("strand.land", { strands: "F-100:1-24", ports: `${space}/${panel}:01-12`, method: "pigtail" });
  }
  const ports = (port: string) => ({ strands: 2, a_port: `LIB/101/A:${port}`, z_port: `SCI/B01/P:${port}` });
  await circuit(plant, "K-1", { priority: 4, application: "1000BASE-LX", ...ports("01") });
  await circuit(plant, "K-2", { priority: 1, application: "1000BASE-LX", ...ports("07") });
  await run("circuit.assign", { circuit: "K-1", what: ["F-100:1-2"] });
  await run("circuit.assign", { circuit: "K-2", what: ["F-100:13-14"] });
  return plant;
}
