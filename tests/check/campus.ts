/**
 * A small plant of our own invention in which no rule finds anything; each fixture changes one thing of a copy.
 *
 *   LIB/101 --BE-1-- MH-03 --DB-1-- SCI/B01     F-014, 24 strands, opened at MH-03: 13-18 cut there
 *                      |                        13-18 spliced to F-021:1-6 in MH-03/CL-1/T1
 *   LIB/102 --BE-2-----+                        F-021, 12 strands
 *
 * F-014:1-12 lie on LIB/101/A:01-06 and SCI/B01/P:01-06. K-1 runs on F-014:1-2 from SW-1:1 in LIB/101 to SW-2:1 in SCI/B01,
 * with cords on record.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { CheckAnswer, Finding } from "../../core/check/finding.ts";
import type { KindName, Value } from "../../core/model/dictionary.ts";
import { newFolder, newPlant, type TestPlant } from "../support/plant.ts";

export const TODAY = "2026-05-01";

/** A clock that stands on one day; moments still differ. */
export function clockOn(day: string) {
  let second = 0;
  return {
    today: () => day,
    now: () => new Date(Date.parse(`${day}T08:00:00Z`) + 1000 * second++).toISOString(),
  };
}

export interface CheckedPlant extends TestPlant {
  add(kind: KindName, values: Readonly<Record<string, unknown>>): Promise<number>;
  edit(kind: KindName, id: string | number, values: Readonly<Record<string, unknown>>): Promise<void>;
  remove(kind: KindName, ids: readonly (string | number)[]): Promise<void>;
  /** The one id that a query answers. */
  id(sql: string, ...parameters: Value[]): Promise<number>;
  /** The section of a strand, such as `F-014:1` or `F-014:13#2`. */
  section(address: string): Promise<number>;
  position(port: string, ordinal?: number): Promise<number>;
  check(input?: object): Promise<CheckAnswer>;
  found(rule: string): Promise<readonly Finding[]>;
}

const duplex = (numbers: string) => [{ numbers, connector: "lc_duplex" }];

/** A plant for these tests, or the one in a file. */
export async function checkedPlant(path?: string, day = TODAY): Promise<CheckedPlant> {
  const plant = await newPlant({ clock: clockOn(day), ...(path ? { path } : {}) });
  const { run, store } = plant;
  const id: CheckedPlant["id"] = (sql, ...parameters) =>
    store.read(async (reader) => {
      const rows = await reader.rows<{ id: number }>(sql, parameters);
      if (rows.length !== 1) throw new Error(`${rows.length} rows for ${sql}`);
      return (rows[0] as { id: number }).id;
    });
  const resolved = async (text: string, kind: KindName): Promise<number> => {
    const found = await run<{ id: number }[] | { matches: { id: number }[] }>("address.resolve", {
      text,
      kinds: [kind],
    });
    const [one] = Array.isArray(found) ? found : found.matches;
    if (!one) throw new Error(`no ${kind} ${text}`);
    return one.id;
  };
  const check = (input: object = {}) => run<CheckAnswer>("check.run", input);
  return {
    ...plant,
    id,
    check,
    found: async (rule) => (await check({ rules: [rule] })).findings,
    add: async (kind, values) => (await run<{ answer: { id: number } }>("record.add", { kind, values })).answer.id,
    edit: async (kind, one, values) => {
      await run("record.edit", { kind, id: one, values });
    },
    remove: async (kind, ids) => {
      await run("record.remove", { kind, ids });
    },
    section: (address) => resolved(address, "section"),
    position: async (port, ordinal = 1) =>
      id("select id from position where port_id = ? and ordinal = ?", await resolved(port, "port"), ordinal),
  };
}

async function fill({ run, add, edit }: CheckedPlant): Promise<void> {
  await edit("plant", 1, { label_due: "none", port_labels: "none" });
  await add("building", { tag: "LIB", name: "Library" });
  await add("building", { tag: "SCI", name: "Science hall" });
  await add("space", { tag: "101", building_id: "LIB", kind: "telecom_room" });
  await add("space", { tag: "102", building_id: "LIB", kind: "telecom_room" });
  await add("space", { tag: "B01", building_id: "SCI", kind: "entrance_room" });
  await add("space", { tag: "MH-03", kind: "maintenance_hole" });
  await add("pathway", {
    tag: "BE-1",
    from_space_id: "LIB/101",
    to_space_id: "MH-03",
    kind: "duct_bank",
    length_m: 100,
  });
  await add("pathway", {
    tag: "DB-1",
    from_space_id: "MH-03",
    to_space_id: "SCI/B01",
    kind: "duct_bank",
    length_m: 200,
  });
  await add("pathway", {
    tag: "BE-2",
    from_space_id: "MH-03",
    to_space_id: "LIB/102",
    kind: "duct_bank",
    length_m: 90,
  });
  for (const pathway_id of ["BE-1", "DB-1", "BE-2"]) {
    for (const tag of ["1", "2"]) await add("conduit", { tag, pathway_id });
  }
  await add("cable_type", {
    tag: "LT-24",
    construction: "loose_tube",
    fibre_class: "os2",
    excess_ratio: 0.01,
    armour: "none",
    metal: "no",
  });
  await add("unit_type", {
    cable_type_id: "LT-24",
    ordinal: 1,
    kind: "tube",
    repeats: 2,
    strands: 12,
    coating_um: "250",
  });
  await run("cable.enter", {
    tag: "F-014",
    type: "LT-24",
    mark_unit: "m",
    installed_on: "2010-06-01",
    stops: [
      { space: "LIB/101", mark_open_from: 995, mark_out: 1000, way: { conduit: "BE-1/1" } },
      { space: "MH-03", mark_in: 1100, mark_out: 1120, way: { conduit: "DB-1/1" } },
      { space: "SCI/B01", mark_in: 1320, mark_open_to: 1325 },
    ],
  });
  await run("cable.enter", {
    tag: "F-021",
    units: [{ kind: "tube", repeats: 1, strands: 12, coating_um: "250" }],
    installed_on: "2012-06-01",
    stops: [{ space: "MH-03", way: { conduit: "BE-2/1" } }, { space: "LIB/102" }],
  });
  await edit("cable", "F-021", { differs: { armour: "none", metal: "no" } });
  await run("closure.enter", { tag: "CL-1", space: "MH-03", trays: [{ numbers: "T1..T2", capacity: 12 }] });
  await run("cable.open", {
    cable: "F-014",
    stop: "F-014@2",
    closure: "MH-03/CL-1",
    mark_open_from: 1109,
    mark_open_to: 1111,
    cut: "13-18",
  });
  await run("splice.range", { from: "F-014:13-18#1", to: "F-021:1-6", tray: "MH-03/CL-1/T1", first_place: 1 });
  await run("panel.enter", { tag: "A", space: "LIB/101", ports: duplex("01..12") });
  await run("panel.enter", { tag: "B", space: "LIB/102", ports: duplex("01..06") });
  await run("panel.enter", { tag: "P", space: "SCI/B01", ports: duplex("01..12") });
  await run("device.enter", { tag: "SW-1", space: "LIB/101", ports: duplex("1..8") });
  await run("device.enter", { tag: "SW-2", space: "SCI/B01", ports: duplex("1..8") });
  await run("strand.land", { strands: "F-014:1-12", ports: "LIB/101/A:01-06", method: "pigtail" });
  await run("strand.land", { strands: "F-014:1-12", ports: "SCI/B01/P:01-06", method: "pigtail" });
  await run("cord.patch", { from: "LIB/101/SW-1:1", to: "LIB/101/A:01", tag: "C-1", length_m: 3 });
  await run("cord.patch", { from: "SCI/B01/P:01", to: "SCI/B01/SW-2:1", tag: "C-2", map: "crossed", length_m: 3 });
  await run("circuit.enter", {
    tag: "K-1",
    strands: 2,
    state: "in_service",
    a_port: "LIB/101/SW-1:1",
    z_port: "SCI/B01/SW-2:1",
  });
  await run("circuit.assign", { circuit: "K-1", what: ["F-014:1-2"] });
}

let made: Promise<Uint8Array> | null = null;

/** A copy of the campus, open. The campus itself is made once. */
export async function campus(day = TODAY): Promise<CheckedPlant> {
  made ??= (async () => {
    const plant = await checkedPlant();
    await fill(plant);
    await plant.close();
    return readFileSync(plant.path);
  })();
  const path = join(newFolder(), "campus.strandbook");
  writeFileSync(path, await made);
  return checkedPlant(path, day);
}

/** A second circuit, on record only. */
export const circuit = ({ run }: CheckedPlant, tag: string, more: Readonly<Record<string, unknown>> = {}) =>
  run("circuit.enter", { tag, state: "in_service", ...more });

/** Gives a circuit a section as it stands, for what no act would do. */
export const give = async (
  plant: CheckedPlant,
  circuit_id: string,
  section: string,
  more: Readonly<Record<string, unknown>> = {},
) => plant.add("assignment", { circuit_id, section_id: await plant.section(section), role: "both", ...more });
