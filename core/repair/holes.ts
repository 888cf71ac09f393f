/** What hangs in the holes that some cables pass: splice cases, and the coils of every cable there. */
import { type LengthUnit, metresIn } from "../model/units.ts";
import type { Reader } from "../store/handle.ts";
import { crossingOf } from "../trace/sheath.ts";
import type { Taken } from "./course.ts";
import { bundleOf } from "./room.ts";

interface CoilRow {
  readonly space_id: number;
  readonly cable_id: number;
  readonly mark_unit: LengthUnit | null;
  readonly mark_in: number | null;
  readonly mark_open_from: number | null;
  readonly mark_open_to: number | null;
  readonly mark_out: number | null;
  readonly slack_m: number | null;
  readonly storage: string | null;
  readonly coil_diameter_mm: number | null;
  readonly bend_radius_mm: number | null;
  readonly outer_diameter_mm: number | null;
  readonly crossing_m: number | null;
  readonly inner_length_m: number | null;
  readonly inner_width_m: number | null;
}

interface Hanging {
  readonly cable: number;
  /** Thickness of its coil; null where its length or make is not known. */
  readonly thick_m: number | null;
}

export interface Holes {
  readonly cases: ReadonlyMap<number, number>;
  readonly coils: ReadonlyMap<number, readonly Hanging[]>;
}

/** Only of places outdoors whose size is on record: of others nobody can say whether something fits. */
const OF = `space s where s.building_id is null and s.inner_length_m is not null and s.inner_width_m is not null
  and exists (select 1 from stop own where own.space_id = s.id and own.cable_id in (select value from json_each(?)))`;

export async function readHoles(reader: Reader, cables: string): Promise<Holes> {
  const cases = await reader.rows<{ space_id: number; cases: number }>(
    `select c.space_id, count(*) as cases from closure c
     where c.life in ('in_place', 'out_of_use') and c.panel_id is null and c.kind is not 'drawer'
       and c.space_id in (select s.id from ${OF}) group by c.space_id`,
    [cables],
  );
  const coils = await reader.rows<CoilRow>(
    `select st.space_id, st.cable_id, c.mark_unit, st.mark_in, st.mark_open_from, st.mark_open_to, st.mark_out, st.slack_m,
       st.storage, st.coil_diameter_mm,
       coalesce(json_extract(c.differs, '$.bend_radius_mm'), t.bend_radius_mm) as bend_radius_mm,
       coalesce(json_extract(c.differs, '$.outer_diameter_mm'), t.outer_diameter_mm) as outer_diameter_mm,
       s.crossing_m, s.inner_length_m, s.inner_width_m
     from (select s.* from ${OF}) s join stop st on st.space_id = s.id join cable c on c.id = st.cable_id
       left join cable_type t on t.id = c.type_id
     where c.life in ('in_place', 'out_of_use') order by st.id`,
    [cables],
  );
  return {
    cases: new Map(cases.map((row) => [row.space_id, row.cases])),
    coils: Map.groupBy(
      coils.map((row) => ({ space: row.space_id, cable: row.cable_id, thick_m: thicknessOf(row) })),
      ({ space }) => space,
    ),
  };
}

export function takenIn({ cases, coils }: Holes, space: number, cable: number): Taken {
  const others = (coils.get(space) ?? []).filter((one) => one.cable !== cable);
  return {
    cases: cases.get(space) ?? 0,
    coils_m: others.reduce((sum, { thick_m }) => sum + (thick_m ?? 0), 0),
    unknown: new Set(others.flatMap((one) => (one.thick_m === null ? [one.cable] : []))).size,
    each: others.flatMap(({ cable: id, thick_m }) => (thick_m === null ? [] : [{ cable: id, thick_m }])),
  };
}

function thicknessOf(row: CoilRow): number | null {
  const length_m = coiledOf(row);
  if (length_m === 0) return 0;
  const across_mm = row.coil_diameter_mm ?? (row.bend_radius_mm === null ? null : 2 * row.bend_radius_mm);
  if (length_m === null || across_mm === null || row.outer_diameter_mm === null) return null;
  return bundleOf(length_m, across_mm / 2000, row.outer_diameter_mm / 1000);
}

/** What is coiled there: between its marks less the crossing, or as it was measured. */
function coiledOf(row: CoilRow): number | null {
  const { mark_in, mark_open_from, mark_open_to, mark_out, mark_unit, slack_m, storage } = row;
  if (storage === "none") return 0;
  const apart = (a: number | null, b: number | null): number | null =>
    a === null || b === null || mark_unit === null ? null : metresIn(Math.abs(a - b), mark_unit);
  const sides = [apart(mark_in, mark_open_from), apart(mark_open_to, mark_out)].flatMap((side) => side ?? []);
  const there_m = sides.length > 0 ? sides.reduce((sum, side) => sum + side, 0) : apart(mark_in, mark_out);
  if (there_m === null) return slack_m;
  return Math.max(0, there_m - (crossingOf(row, null) ?? 0));
}
