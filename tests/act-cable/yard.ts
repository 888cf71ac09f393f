/**
 * A small plant of our own invention for cables: two buildings and three holes between them, pathways with pipes, a case
 * with a tray, cable types of several constructions. No cable yet: the tests enter them.
 *
 *   LIB/101 --BE-1-- MH-01 --DB-1/1,2-- MH-02 --DB-2/1-- MH-03 --BE-2-- SCI/B01
 */
import { type AnyRow, KIND_NAMES, type KindName, type Value } from "../../core/model/dictionary.ts";
import type { Failure } from "../../core/result.ts";
import { Gateway } from "../../core/store/gateway.ts";
import type { Change, Occasion } from "../../core/store/plan.ts";
import { machineClock } from "../../host/clock.ts";
import { newPlant, TESTER, type TestPlant } from "../support/plant.ts";

export type Values = Readonly<Record<string, Value>>;

export interface Yard extends TestPlant {
  /** Adds records as they are and answers their ids. */
  put(kind: KindName, ...rows: readonly Values[]): Promise<number[]>;
  /** Rows of a kind that have all of these values, in order of id. */
  find(kind: KindName, values?: Values): Promise<AnyRow[]>;
  /** Everything on record but who wrote it when: two plants of equal content answer alike. */
  content(): Promise<Record<string, AnyRow[]>>;
  /** Carries an act out; answers its answer, notices and summary. */
  act<A = Record<string, unknown>>(
    name: string,
    input: unknown,
    occasion?: Occasion,
  ): Promise<{ summary: string; notices: readonly string[]; change_set: number | null; answer: A }>;
  /** What an operation refuses; a test that expects a refusal and gets none stops here. */
  refused(name: string, input: unknown): Promise<Failure>;
}

export async function emptyYard(): Promise<Yard> {
  const plant = await newPlant();
  const gateway = new Gateway(plant.store, machineClock);
  const yard: Yard = {
    ...plant,
    put: async (kind, ...rows) => {
      const ids: number[] = [];
      await gateway.carryOut("fixture", TESTER, async (reader) => {
        const first = await gateway.newIds(reader, kind, rows.length);
        const changes = rows.map((values, index): Change => ({ op: "insert", kind, id: first + index, values }));
        ids.push(...changes.map(({ id }) => id));
        return { summary: "Fixture", changes, answer: null };
      });
      return ids;
    },
    find: (kind, values = {}) =>
      plant.store.read(async (reader) => {
        const rows = await reader.rows<AnyRow>(`select * from "${kind}" order by id`);
        return rows.filter((row) => Object.entries(values).every(([field, value]) => row[field] === value));
      }),
    content: async () => {
      const all: Record<string, AnyRow[]> = {};
      for (const kind of KIND_NAMES) {
        const rows = await yard.find(kind);
        if (rows.length > 0) all[kind] = rows.map((row) => ({ ...row, rev: 0 }));
      }
      return all;
    },
    act: (name, input, occasion = TESTER) => plant.run(name, input, occasion),
    refused: async (name, input) => {
      const reply = await plant.call(name, input);
      if (reply.ok) throw new Error(`${name} was not refused: ${JSON.stringify(reply.value).slice(0, 300)}`);
      return reply.error;
    },
  };
  return yard;
}

/** Collects records for one change set: a fixture is written to disk once, however many records it has. */
async function fixture(
  yard: Yard,
  fill: (put: (kind: KindName, ...rows: readonly Values[]) => Promise<number[]>) => Promise<void>,
): Promise<void> {
  const gateway = new Gateway(yard.store, machineClock);
  await gateway.carryOut("fixture", TESTER, async (reader) => {
    const changes: Change[] = [];
    await fill(async (kind, ...rows) => {
      const first = await gateway.newIds(reader, kind, rows.length);
      changes.push(...rows.map((values, index): Change => ({ op: "insert", kind, id: first + index, values })));
      return rows.map((_, index) => first + index);
    });
    return { summary: "Fixture", changes, answer: null };
  });
}

export async function newYard(): Promise<Yard> {
  const yard = await emptyYard();
  await fixture(yard, async (put) => {
    const one = async (kind: KindName, values: Values): Promise<number> => (await put(kind, values))[0] as number;
    const lib = await one("building", { tag: "LIB", name: "Library" });
    const sci = await one("building", { tag: "SCI", name: "Science" });
    const lib101 = await one("space", { tag: "101", building_id: lib, name: "Network room", kind: "telecom_room" });
    const scib01 = await one("space", { tag: "B01", building_id: sci, kind: "entrance_room" });
    const hole = (tag: string) => one("space", { tag, kind: "maintenance_hole" });
    const [mh1, mh2, mh3] = [await hole("MH-01"), await hole("MH-02"), await hole("MH-03")];
    const way = (tag: string, from_space_id: number, to_space_id: number) =>
      one("pathway", { tag, from_space_id, to_space_id, kind: "duct_bank", length_m: 100 });
    await way("BE-1", lib101, mh1);
    const db1 = await way("DB-1", mh1, mh2);
    const db2 = await way("DB-2", mh2, mh3);
    await way("BE-2", mh3, scib01);
    await put("conduit", { tag: "1", pathway_id: db1 }, { tag: "2", pathway_id: db1 }, { tag: "1", pathway_id: db2 });
    const case1 = await one("closure", { tag: "CL-1", space_id: mh2 });
    await put("tray", { tag: "T1", closure_id: case1 }, { tag: "T2", closure_id: case1 });

    const type = (tag: string, values: Values = {}) =>
      one("cable_type", { tag, colour_sequence: "tia_598", ...values });
    const holds = (cable_type_id: number, values: Values) =>
      one("unit_type", { cable_type_id, ordinal: 1, kind: "tube", repeats: 1, strands: 0, ...values });
    const loose = await type("LOOSE-48", { fibre_class: "os2", construction: "loose_tube", outer_diameter_mm: 11 });
    await holds(loose, { repeats: 4, strands: 12, coating_um: "250" });
    const ribbon = await type("RIBBON-864", { construction: "ribbon" });
    const tubes = await holds(ribbon, { repeats: 6 });
    await holds(ribbon, { parent_id: tubes, kind: "ribbon", repeats: 12, strands: 12 });
    const mixed = await type("MIXED-20");
    await holds(mixed, { strands: 12, fibre_class: "os2" });
    await holds(mixed, { ordinal: 2, kind: "sheath", strands: 2, coating_um: "900" });
    await holds(mixed, { ordinal: 3, strands: 6, fibre_class: "om3" });
    const tight = await type("TIGHT-12", { construction: "tight_buffered", colour_sequence: "swiss" });
    await holds(tight, { kind: "sheath", strands: 12, coating_um: "900" });
    await type("FOREIGN");
  });
  return yard;
}

/** The stops of a cable through every hole, ends in both buildings; marks rise by 100 a leg and 12 through each hole. */
export const ROUTE = [
  { space: "LIB/101", mark_out: 1000, way: { pathway: "BE-1" } },
  { space: "MH-01", mark_in: 1100, mark_out: 1112, way: { conduit: "DB-1/1", held: "loose", slides: "yes" } },
  { space: "MH-02", mark_in: 1212, mark_out: 1224, way: { conduit: "DB-2/1" } },
  { space: "MH-03", mark_in: 1324, mark_out: 1336, way: { pathway: "BE-2" } },
  { space: "SCI/B01", mark_in: 1436 },
];

/** F-012 of 48 strands along the whole route. */
export const enterF012 = (yard: Yard, more: Readonly<Record<string, unknown>> = {}) =>
  yard.act<{ id: number; strands: number; units: number; differs: string[]; sheath_m: number | null; legs: number }>(
    "cable.enter",
    { tag: "F-012", type: "LOOSE-48", mark_unit: "m", stops: ROUTE, ...more },
  );
