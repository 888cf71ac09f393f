/**
 * A small plant of our own invention for the acts: two buildings, a hand hole between them, cables of known glass.
 *
 * F-014: 48 strands in four tubes of 250 µm, LIB/101 - MH-03 (opened, 25-36 cut there) - SCI/B01.
 * F-021: 12 strands in one tube, MH-03 - LIB/102.   F-030: 4 tight-buffered strands, both ends in LIB/101.
 */
import type { AnyRow, KindName, Value } from "../../core/model/dictionary.ts";
import { KIND_NAMES } from "../../core/model/dictionary.ts";
import { Gateway } from "../../core/store/gateway.ts";
import type { Store } from "../../core/store/handle.ts";
import type { Change } from "../../core/store/plan.ts";
import { machineClock } from "../../host/clock.ts";
import { newPlant, TESTER, type TestPlant } from "../support/plant.ts";

export interface Campus extends TestPlant {
  /** Rows of a kind that fulfil all of these values, in order of id. */
  find<K extends KindName>(kind: K, values?: Readonly<Record<string, Value>>): Promise<AnyRow[]>;
  /** Adds records as they are, for situations that no act makes. */
  put(rows: readonly { kind: KindName; values: Readonly<Record<string, Value>> }[]): Promise<number[]>;
  /** Changes a record as it is. */
  change(kind: KindName, id: number, values: Readonly<Record<string, Value>>): Promise<void>;
}

export async function campus(): Promise<Campus> {
  const plant = await newPlant();
  const { store } = plant;
  const gateway = new Gateway(store, machineClock);

  const put: Campus["put"] = async (rows) => {
    const ids: number[] = [];
    await gateway.carryOut("fixture", TESTER, async (reader) => {
      const changes: Change[] = [];
      for (const { kind, values } of rows) {
        const id = await gateway.newIds(reader, kind, 1);
        ids.push(id);
        changes.push({ op: "insert", kind, id, values });
      }
      return { summary: "Fixture", changes, answer: null };
    });
    return ids;
  };
  const one = async (kind: KindName, values: Readonly<Record<string, Value>>): Promise<number> => {
    const [id] = await put([{ kind, values }]);
    return id as number;
  };

  const change: Campus["change"] = async (kind, id, values) => {
    await gateway.carryOut("fixture", TESTER, async () => ({
      summary: "Fixture",
      changes: [{ op: "update", kind, id, values }],
      answer: null,
    }));
  };

  const find: Campus["find"] = (kind, values = {}) =>
    store.read(async (reader) => {
      const rows = await reader.rows<AnyRow>(`select * from "${kind}" order by id`);
      return rows.filter((row) => Object.entries(values).every(([field, value]) => row[field] === value));
    });

  const lib = await one("building", { tag: "LIB" });
  const sci = await one("building", { tag: "SCI" });
  const room = (tag: string, building_id: number | null, kind: string) => one("space", { tag, building_id, kind });
  const spaces = {
    lib101: await room("101", lib, "telecom_room"),
    lib102: await room("102", lib, "telecom_room"),
    scib01: await room("B01", sci, "entrance_room"),
    mh03: await room("MH-03", null, "hand_hole"),
  };
  const loose = await one("cable_type", { tag: "LOOSE-48", construction: "loose_tube", fibre_class: "os2" });
  const tight = await one("cable_type", { tag: "TIGHT-4", construction: "tight_buffered", fibre_class: "om4" });

  const cable = async (
    tag: string,
    type_id: number,
    stops: readonly { space_id: number; kind: string }[],
    strands: number,
  ): Promise<{ stops: number[]; strands: number[]; sections: number[] }> => {
    const cable_id = await one("cable", { tag, type_id });
    const stopIds = await put(
      stops.map(({ space_id, kind }, i) => ({ kind: "stop", values: { cable_id, ordinal: i + 1, space_id, kind } })),
    );
    const tubes = await put(
      Array.from({ length: Math.ceil(strands / 12) }, (_, i) => ({
        kind: "unit" as const,
        values: { cable_id, ordinal: i + 1, kind: "tube", coating_um: type_id === loose ? "250" : "900" },
      })),
    );
    const strandIds = await put(
      Array.from({ length: strands }, (_, i) => ({
        kind: "strand" as const,
        values: { cable_id, number: i + 1, unit_id: tubes[Math.floor(i / 12)] ?? null, place: (i % 12) + 1 },
      })),
    );
    const sections = await put(
      strandIds.map((strand_id) => ({
        kind: "section" as const,
        values: { strand_id, ordinal: 1, a_stop_id: stopIds[0] ?? null, b_stop_id: stopIds.at(-1) ?? null },
      })),
    );
    return { stops: stopIds, strands: strandIds, sections };
  };

  const f14 = await cable(
    "F-014",
    loose,
    [
      { space_id: spaces.lib101, kind: "end" },
      { space_id: spaces.mh03, kind: "opened" },
      { space_id: spaces.scib01, kind: "end" },
    ],
    48,
  );
  await cable(
    "F-021",
    loose,
    [
      { space_id: spaces.mh03, kind: "end" },
      { space_id: spaces.lib102, kind: "end" },
    ],
    12,
  );
  await cable(
    "F-030",
    tight,
    [
      { space_id: spaces.lib101, kind: "end" },
      { space_id: spaces.lib101, kind: "end" },
    ],
    4,
  );
  // The cut of 25-36 in MH-03: the section keeps its id for the half on the A side.
  await gateway.carryOut("fixture", TESTER, async (reader) => {
    const changes: Change[] = [];
    for (let number = 25; number <= 36; number++) {
      const id = await gateway.newIds(reader, "section", 1);
      const [strand_id, section] = [f14.strands[number - 1] as number, f14.sections[number - 1] as number];
      changes.push(
        { op: "update", kind: "section", id: section, values: { b_stop_id: f14.stops[1] as number } },
        {
          op: "insert",
          kind: "section",
          id,
          values: { strand_id, ordinal: 2, a_stop_id: f14.stops[1] as number, b_stop_id: f14.stops[2] as number },
        },
      );
    }
    return { summary: "Cut", changes, answer: null };
  });
  return { ...plant, find, put, change };
}

/** Everything on record but which change set wrote it: two plants of equal content answer alike. */
export const contentOf = (store: Store): Promise<Record<string, AnyRow[]>> =>
  store.read(async (reader) => {
    const all: Record<string, AnyRow[]> = {};
    for (const kind of KIND_NAMES) {
      const rows = await reader.rows<AnyRow>(`select * from "${kind}" order by id`);
      if (rows.length > 0) all[kind] = rows.map((row) => ({ ...row, rev: 0 }));
    }
    return all;
  });

/** Code, sentence and problems of what an operation refuses; a test that expects a refusal and gets none stops here. */
export async function refused(plant: TestPlant, name: string, input: unknown) {
  const reply = await plant.call(name, input);
  if (reply.ok) throw new Error(`${name} was not refused: ${JSON.stringify(reply.value).slice(0, 300)}`);
  return reply.error;
}

interface Done<A> {
  readonly change_set: number | null;
  readonly summary: string;
  readonly notices: readonly string[];
  readonly answer: A;
}
/** Carries an act out; answers what a write answers. */
export const act = <A = Record<string, unknown>>(plant: TestPlant, name: string, input: unknown, occasion = TESTER) =>
  plant.run<Done<A>>(name, input, occasion);
