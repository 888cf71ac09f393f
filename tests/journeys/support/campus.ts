/**
 * A small plant of our own invention for the journeys, entered through the operations a clerk would use.
 *
 * LIB/2A - F-014 - MH-03 (spliced) - F-021 - HH-11 (spliced) - F-033 - KLN/0E - patched - F-040 - OBS/1A.
 * F-033 runs on from HH-11 with coils and marks in feet. F-070 feeds KLN by another entrance. A splitter stands in OBS.
 * Dirty on purpose: F-021:11 is spliced twice, F-033:71 is assigned twice, F-033:36 is broken, F-040:37 and 39 make a ring,
 * and a cord of K-150 is not on record.
 */
import { enteredOnce } from "../../support/made.ts";
import type { TestPlant } from "../../support/plant.ts";

/** A new plant with that campus on record. */
export const newCampus = enteredOnce(({ run }) => enterCampus(run));

/** The same, but nothing is found of its cables: what a row looks like with findings is told elsewhere. */
export async function newSoundCampus(): Promise<TestPlant> {
  const plant = await newCampus();
  const values = { armour: "none", metal: "no", fire_marking: "OFNP" };
  await plant.run("record.edit", { kind: "cable_type", id: "LT-OS2", values });
  return plant;
}

/** Carries out an operation; a refusal is thrown. */
type Run = (name: string, input: unknown) => Promise<unknown>;

const TUBES = (tubes: number, each = 12) => [{ kind: "tube", repeats: tubes, strands: each, coating_um: "250" }];
const LC = (numbers: string) => ({ numbers, connector: "lc_duplex", positions: 2, polish: "upc" });

export async function enterCampus(run: Run): Promise<void> {
  const add = (kind: string, values: Record<string, unknown>) => run("record.add", { kind, values });

  const rooms: [string, string, string, string][] = [
    ["LIB", "Library", "2A", "telecom_room"],
    ["KLN", "Kiln Hall", "0E", "entrance_room"],
    ["OBS", "Observatory", "1A", "telecom_room"],
    ["FDY", "Foundry", "0E", "entrance_room"],
  ];
  for (const [tag, name, room, kind] of rooms) {
    await add("building", { tag, name });
    await add("space", {
      tag: room,
      building_id: tag,
      kind,
      name: `${name} ${kind === "telecom_room" ? "network room" : "east entrance"}`,
    });
  }
  await add("space", { tag: "0N", building_id: "KLN", kind: "entrance_room", name: "Kiln Hall north entrance" });
  for (const [tag, kind] of [
    ["MH-03", "maintenance_hole"],
    ["HH-11", "hand_hole"],
    ["HH-12", "hand_hole"],
    ["MH-08", "maintenance_hole"],
  ]) {
    await add("space", { tag, kind });
  }
  const ways: [string, string, string, number][] = [
    ["DB-2", "LIB/2A", "MH-03", 412],
    ["DB-3", "MH-03", "HH-11", 1120],
    ["DB-5", "HH-11", "HH-12", 206],
    ["DB-6", "HH-12", "KLN/0E", 440],
    ["DB-9", "KLN/0E", "MH-08", 300],
    ["DB-10", "MH-08", "OBS/1A", 634],
    ["DB-4", "FDY/0E", "HH-11", 560],
    ["DB-7", "MH-08", "KLN/0N", 310],
  ];
  for (const [tag, from, to, length] of ways) {
    await add("pathway", { tag, from_space_id: from, to_space_id: to, length_m: length, kind: "duct_bank" });
    await add("conduit", { tag: "1", pathway_id: tag, inner_diameter_mm: 100, state: "in_use" });
  }
  await add("cable_type", {
    tag: "LT-OS2",
    construction: "loose_tube",
    colour_sequence: "tia_598",
    fibre_class: "os2",
    armour: "metallic",
    environment: "outdoor",
    outer_diameter_mm: 14.2,
    excess_ratio: 0.02,
    bend_radius_mm: 142,
    bend_radius_loaded_mm: 284,
    water_blocking: "gel",
  });
  await add("cable_type", {
    tag: "LT-DIN",
    construction: "loose_tube",
    colour_sequence: "iec_60304",
    fibre_class: "os2",
    outer_diameter_mm: 12.5,
  });

  await run("closure.enter", {
    tag: "CL-3",
    space: "MH-03",
    kind: "dome",
    trays: [{ numbers: "T1..T4", capacity: 24 }],
  });
  await run("closure.enter", {
    tag: "CL-11",
    space: "HH-11",
    kind: "dome",
    trays: [{ numbers: "T1..T6", capacity: 24 }],
  });

  await run("cable.enter", {
    tag: "F-014",
    type: "LT-OS2",
    units: TUBES(4),
    mark_unit: "m",
    installed_on: "2016-05-11",
    basis: "seen",
    stops: [
      { space: "LIB/2A", mark_out: 1000, way: { conduit: "DB-2/1" } },
      { space: "MH-03", mark_in: 1418.2, closure: "MH-03/CL-3" },
    ],
  });
  await run("cable.enter", {
    tag: "F-021",
    type: "LT-OS2",
    units: TUBES(2),
    mark_unit: "ft",
    stops: [
      { space: "MH-03", mark_out: 3104, closure: "MH-03/CL-3", way: { conduit: "DB-3/1" } },
      { space: "HH-11", mark_in: 6800, closure: "HH-11/CL-11" },
    ],
  });
  await run("cable.enter", {
    tag: "F-033",
    name: "Foundry to Kiln Hall",
    type: "LT-OS2",
    units: TUBES(8),
    mark_unit: "ft",
    installed_on: "2016-05-11",
    reel: "118",
    stops: [
      { space: "FDY/0E", mark_open_to: 2084, mark_out: 2133, way: { conduit: "DB-4/1" } },
      { space: "HH-11", mark_in: 3912, mark_out: 3978, coil_diameter_mm: 600, way: { conduit: "DB-5/1" } },
      { space: "HH-12", mark_in: 4655, mark_out: 4655, way: { conduit: "DB-6/1" } },
      { space: "KLN/0E", mark_in: 6054, mark_open_from: 6087 },
    ],
  });
  await run("cable.enter", {
    tag: "F-040",
    type: "LT-DIN",
    units: TUBES(2, 24),
    stops: [
      { space: "KLN/0E", way: { conduit: "DB-9/1" } },
      { space: "MH-08", slack_m: 15, way: { conduit: "DB-10/1" } },
      { space: "OBS/1A" },
    ],
  });
  await run("cable.enter", {
    tag: "F-070",
    type: "LT-OS2",
    units: TUBES(1),
    stops: [{ space: "MH-08", way: { conduit: "DB-7/1" } }, { space: "KLN/0N" }],
  });
  await run("cable.open", { cable: "F-033", stop: "HH-11", cut: "73-96", closure: "HH-11/CL-11" });

  for (const [tag, space] of [
    ["P1", "LIB/2A"],
    ["P1", "KLN/0E"],
    ["P2", "KLN/0E"],
    ["P1", "OBS/1A"],
    ["P1", "FDY/0E"],
  ]) {
    await run("panel.enter", { tag, space, ports: [LC("01..24")], rows: 1 });
  }
  await run("strand.land", { strands: "F-014:1-48", ports: "LIB/2A/P1:01-24", method: "pigtail" });
  await run("strand.land", { strands: "F-033:49-96", ports: "KLN/0E/P1:01-24", method: "pigtail" });
  await run("strand.land", { strands: "F-033:1-48", ports: "FDY/0E/P1:01-24", method: "pigtail", end: "A" });
  await run("strand.land", { strands: "F-040:1-48", ports: "KLN/0E/P2:01-24", method: "pigtail", end: "A" });
  await run("strand.land", { strands: "F-040:1-40", ports: "OBS/1A/P1:01-20", method: "pigtail", end: "B" });

  await run("splice.range", { from: "F-014:25-48", to: "F-021:1-24", tray: "MH-03/CL-3/T1", method: "fusion" });
  // The half of F-033 towards Kiln Hall; the other half of 73 to 96 is left bare.
  await run("splice.range", { from: "F-021:1-24", to: "F-033:73-96", tray: "HH-11/CL-11/T2", to_end: "A" });
  // One end in two splices: a fork on record.
  await run("splice.range", {
    from: "F-021:11",
    to: "F-033:84",
    tray: "HH-11/CL-11/T3",
    to_end: "B",
    even_if_taken: true,
  });

  await run("cord.patch", { from: "KLN/0E/P1:13", to: "KLN/0E/P2:01", tag: "C-1310", length_m: 2, colour: "yellow" });
  await run("cord.patch", { from: "KLN/0E/P1:14", to: "KLN/0E/P2:02", tag: "C-1311", length_m: 2, colour: "yellow" });
  await run("device.enter", {
    tag: "SW1",
    space: "LIB/2A",
    ports: [
      {
        numbers: "1..24",
        connector: "lc_duplex",
        positions: 2,
        application: "10GBASE-LR",
        wavelength_nm: 1310,
        transmit_position: 1,
        receive_position: 2,
      },
    ],
  });
  await run("device.enter", {
    tag: "SW2",
    space: "OBS/1A",
    ports: [{ numbers: "1..8", connector: "lc_duplex", positions: 2 }],
  });
  await run("cord.patch", {
    from: "LIB/2A/SW1:1",
    to: "LIB/2A/P1:13",
    tag: "C-2207",
    length_m: 3,
    map: "crossed",
    colour: "yellow",
  });
  await run("cord.patch", { from: "OBS/1A/SW2:1", to: "OBS/1A/P1:01", tag: "C-2300", length_m: 3, colour: "yellow" });

  await run("circuit.enter", {
    tag: "K-118",
    name: "observatory data",
    application: "10GBASE-LR",
    strands: 2,
    state: "in_service",
  });
  await run("circuit.assign", { circuit: "K-118", what: ["LIB/2A/P1:13"] });
  await run("circuit.enter", {
    tag: "K-131",
    name: "foundry data",
    strands: 2,
    state: "reserved",
    reserved_until: "2126-09-30",
  });
  await run("circuit.assign", { circuit: "K-131", what: ["KLN/0E/P1:02"] });
  await run("circuit.enter", { tag: "K-088", name: "door access", strands: 1, state: "in_service" });
  await run("circuit.assign", { circuit: "K-088", what: ["F-033:71"] });
  await run("circuit.enter", { tag: "K-140", name: "cameras", strands: 1, state: "in_service" });
  await run("circuit.assign", { circuit: "K-140", what: ["F-033:71"], even_if_taken: true });
  // Both ports of K-150 in KLN/0E, and no cord on record between them.
  await run("circuit.enter", { tag: "K-150", name: "alarms", strands: 1, state: "in_service" });
  await run("circuit.assign", { circuit: "K-150", what: ["LIB/2A/P1:17#1", "F-040:9"] });
  // Two cords too many: a strand of F-040 comes back to itself by another.
  await run("cord.patch", { from: "KLN/0E/P2:19", to: "KLN/0E/P2:20", tag: "C-1401", length_m: 1 });
  await run("cord.patch", { from: "OBS/1A/P1:19", to: "OBS/1A/P1:20", tag: "C-1402", length_m: 1 });
  // A splitter with four outputs behind F-040:15.
  const plug = (numbers: string) => ({ numbers, connector: "lc", positions: 1 });
  await run("module.enter", {
    kind: "splitter",
    tag: "S1",
    in: "OBS/1A",
    inputs: [plug("in")],
    outputs: [plug("1..4")],
  });
  await run("cord.patch", { from: "OBS/1A/P1:08", to: "OBS/1A/S1:in", tag: "C-1403", length_m: 2, fibres: 1 });
  await run("record.edit", {
    kind: "strand",
    id: "F-033:36",
    values: { condition: "broken", condition_why: "reads dark from both ends" },
  });
}
