/** What a course takes from the record beyond stops and lengths, read for many cables at once. */
import type { LengthUnit } from "../model/units.ts";
import type { Reader } from "../store/handle.ts";
import type { CourseLeg, CourseStop } from "./course.ts";
import { type Holes, readHoles } from "./holes.ts";
import type { LegWay } from "./ways.ts";

export interface StopRow {
  readonly id: number;
  readonly cable_id: number;
  readonly kind: CourseStop["kind"];
  /** Strands end here, whatever the stop is said to be. */
  readonly cut: number;
  /** Severed here in a place, and the glass that ends here is spliced. */
  readonly spliced_on: number;
  /** It ends here, and its glass is spliced in a case and landed nowhere. */
  readonly ends_in_case: number;
  readonly reachable: string | null;
  readonly storage: string | null;
  readonly in_building: number | null;
  readonly reach_m: number | null;
  readonly inner_length_m: number | null;
  readonly inner_width_m: number | null;
}

export interface LegRow {
  readonly from_stop_id: number;
  readonly to_stop_id: number;
  readonly held: LegWay["held"];
  readonly slides: CourseLeg["slides"] | null;
  /** Of its pathway; and whether it lies in a pipe. */
  readonly kind: LegWay["kind"];
  readonly piped: number;
}

export interface CableRow {
  readonly id: number;
  readonly mark_unit: LengthUnit | null;
  readonly mark_breaks: string | null;
  readonly differs: string | null;
  readonly bend_radius_mm: number | null;
  readonly outer_diameter_mm: number | null;
}

export interface CourseRows {
  readonly stops: ReadonlyMap<number, StopRow>;
  /** By "from to", the stops it joins. */
  readonly legs: ReadonlyMap<string, LegRow>;
  /** By the stop it leads on from. */
  readonly legsFrom: ReadonlyMap<number, LegRow>;
  readonly cables: ReadonlyMap<number, CableRow>;
  readonly holes: Holes;
}

const OF = "cable_id in (select value from json_each(?))";

export async function courseRows(reader: Reader, cables: Iterable<number>): Promise<CourseRows> {
  const ids = JSON.stringify([...cables]);
  const stops = await reader.rows<StopRow>(
    `select st.id, st.cable_id, st.kind,
       exists (select 1 from section g where g.a_stop_id = st.id) or exists (select 1 from section g where g.b_stop_id = st.id)
         as cut, st.kind = 'severed' and st.space_id is not null and (exists (select 1 from section g
           join splice p on p.a_section_id = g.id and p.a_side = 'B' or p.b_section_id = g.id and p.b_side = 'B'
           where g.b_stop_id = st.id and p.life in ('in_place', 'out_of_use'))
         or exists (select 1 from section g
           join splice p on p.a_section_id = g.id and p.a_side = 'A' or p.b_section_id = g.id and p.b_side = 'A'
           where g.a_stop_id = st.id and p.life in ('in_place', 'out_of_use'))) as spliced_on,
       st.kind = 'end' and not exists (select 1 from section g join termination x on x.section_id = g.id
           where (g.a_stop_id = st.id and x.side = 'A' or g.b_stop_id = st.id and x.side = 'B') and x.life in ('in_place', 'out_of_use'))
         and (st.closure_id is not null or exists (select 1 from section g
           join splice p on p.a_section_id = g.id and p.a_side = iif(g.a_stop_id = st.id, 'A', 'B')
             or p.b_section_id = g.id and p.b_side = iif(g.a_stop_id = st.id, 'A', 'B')
           where (g.a_stop_id = st.id or g.b_stop_id = st.id) and p.life in ('in_place', 'out_of_use'))) as ends_in_case,
       st.reachable, st.storage, s.building_id as in_building, s.reach_m,
       s.inner_length_m, s.inner_width_m from stop st left join space s on s.id = st.space_id where st.${OF}`,
    [ids],
  );
  const legs = await reader.rows<LegRow>(
    // What a temporary job laid in no way lies on the ground, also where it was laid before that was recorded of a leg.
    `select l.from_stop_id, l.to_stop_id, ifnull(l.held, iif(p.id is null and j.lasting = 'temporary', 'on_ground', null))
       as held, l.slides, p.kind, l.conduit_id is not null as piped
     from stop st join leg l on l.from_stop_id = st.id left join conduit d on d.id = l.conduit_id
       left join pathway p on p.id = ifnull(l.pathway_id, d.pathway_id) left join job j on j.id = l.life_job_id
     where st.${OF} and l.life in ('in_place', 'out_of_use') order by l.id`,
    [ids],
  );
  const sheets = await reader.rows<CableRow>(
    `select c.id, c.mark_unit, c.mark_breaks, c.differs, t.bend_radius_mm, t.outer_diameter_mm
     from cable c left join cable_type t on t.id = c.type_id where c.id in (select value from json_each(?))`,
    [ids],
  );
  return {
    stops: new Map(stops.map((row) => [row.id, row])),
    legs: new Map(legs.map((row) => [`${row.from_stop_id} ${row.to_stop_id}`, row])),
    legsFrom: new Map(legs.map((row) => [row.from_stop_id, row])),
    cables: new Map(sheets.map((row) => [row.id, row])),
    holes: await readHoles(reader, ids),
  };
}
