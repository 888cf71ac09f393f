/** What finding a fault needs beyond a trace, read in sets: data sheets and marks of cables, lines of pathways, closures. */
import type { Row } from "../model/dictionary.ts";
import type { MarkBreak } from "../model/marks.ts";
import type { LengthUnit } from "../model/units.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { addressUnder, idsOf } from "../trace/facts.ts";

export interface CableRow {
  readonly id: number;
  readonly tag: string;
  readonly ref: RecordRef;
  readonly unit: LengthUnit | null;
  readonly breaks: readonly MarkBreak[];
  readonly construction: Row<"cable_type">["construction"];
  /** Glass over sheath, less one. */
  readonly excess_ratio: number | null;
  /** Group index by wavelength, as far as the data sheet has it. */
  readonly index: Readonly<Record<number, number | null>>;
}

interface CableColumns extends Pick<Row<"cable_type">, "construction"> {
  readonly id: number;
  readonly tag: string;
  readonly mark_unit: LengthUnit | null;
  readonly mark_breaks: string | null;
  readonly differs: string | null;
  readonly excess_ratio: number | null;
  readonly index_850: number | null;
  readonly index_1300: number | null;
  readonly index_1310: number | null;
  readonly index_1550: number | null;
}

const SOME = "in (select value from json_each(?))";
const CABLES = `select c.id, c.tag, c.mark_unit, c.mark_breaks, c.differs, t.construction, t.excess_ratio, t.index_850,
    t.index_1300, t.index_1310, t.index_1550
  from cable c left join cable_type t on t.id = c.type_id where c.id ${SOME}`;

/** Marks and data sheets of some cables, with what a cable has otherwise than its sheet. */
export async function cableRows(reader: Reader, ids: Iterable<number>): Promise<Map<number, CableRow>> {
  const rows = await reader.rows<CableColumns>(CABLES, [idsOf(new Set(ids))]);
  return new Map(
    rows.map((row) => {
      const own = row.differs === null ? {} : (JSON.parse(row.differs) as Partial<CableColumns>);
      const all = { ...row, ...own };
      const tag = addressUnder("cable", null, row.tag);
      return [
        row.id,
        {
          id: row.id,
          tag,
          ref: { kind: "cable", id: row.id, tag },
          unit: row.mark_unit,
          breaks: row.mark_breaks === null ? [] : (JSON.parse(row.mark_breaks) as MarkBreak[]),
          construction: all.construction,
          excess_ratio: all.excess_ratio,
          index: { 850: all.index_850, 1300: all.index_1300, 1310: all.index_1310, 1550: all.index_1550 },
        },
      ] as const;
    }),
  );
}

/** Which end of which section some splices and terminations take; `joint` is the kind and id of each. */
export async function sidesAt(
  reader: Reader,
  splices: Iterable<number>,
  terminations: Iterable<number>,
): Promise<{ readonly joint: string; readonly section_id: number; readonly side: "A" | "B" }[]> {
  const [some, others] = [idsOf(splices), idsOf(terminations)];
  return reader.rows(
    `select 'splice ' || id as joint, a_section_id as section_id, a_side as side from splice where id ${SOME}
     union all select 'splice ' || id, b_section_id, b_side from splice where id ${SOME}
     union all select 'termination ' || id, section_id, side from termination where id ${SOME}`,
    [some, some, others],
  );
}

export interface WayLine {
  readonly id: number;
  readonly from_space_id: number | null;
  readonly to_space_id: number | null;
  /** Longitude and latitude pairs. */
  readonly line: readonly (readonly [number, number])[] | null;
  readonly accuracy_m: number | null;
}

export async function wayLine(reader: Reader, pathway_id: number): Promise<WayLine | null> {
  const [row] = await reader.rows<Omit<WayLine, "line"> & { geometry: string | null }>(
    "select id, from_space_id, to_space_id, geometry, accuracy_m from pathway where id = ?",
    [pathway_id],
  );
  if (!row) return null;
  const line = row.geometry === null ? null : (JSON.parse(row.geometry) as [number, number][]);
  return { ...row, line };
}

export interface SpaceSpot {
  readonly longitude: number | null;
  readonly latitude: number | null;
  readonly accuracy_m: number | null;
}

export async function spaceSpot(reader: Reader, space_id: number): Promise<SpaceSpot | null> {
  const rows = await reader.rows<SpaceSpot>("select longitude, latitude, accuracy_m from space where id = ?", [
    space_id,
  ]);
  return rows[0] ?? null;
}

/** Closures that cables enter at some stops, by stop. */
export async function closuresAt(reader: Reader, stops: Iterable<number>): Promise<Map<number, RecordRef>> {
  const rows = await reader.rows<{
    stop_id: number;
    id: number;
    tag: string;
    space: string | null;
    building: string | null;
  }>(
    `select st.id as stop_id, c.id, c.tag, s.tag as space, b.tag as building
     from stop st join closure c on c.id = st.closure_id left join space s on s.id = c.space_id
       left join building b on b.id = s.building_id
     where st.id ${SOME}`,
    [idsOf(stops)],
  );
  return new Map(
    rows.map(({ stop_id, id, tag, space, building }) => {
      const under =
        space === null
          ? null
          : addressUnder("space", building === null ? null : addressUnder("building", null, building), space);
      return [stop_id, { kind: "closure", id, tag: addressUnder("closure", under, tag) }] as const;
    }),
  );
}

/** The unit people read lengths in. */
export async function plantUnit(reader: Reader): Promise<LengthUnit> {
  const rows = await reader.rows<{ length_unit: LengthUnit }>("select length_unit from plant limit 1");
  return rows[0]?.length_unit ?? "m";
}
