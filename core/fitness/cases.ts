/** Which case a cable enters where its stop doesn't say: the one in whose trays its joints lie there. */
import type { Reader } from "../store/handle.ts";

/**
 * The case of each of some stops, by its joints; stops without one are left out. A panel's drawer is no case, and a case
 * in another place contradicts the record and is no answer.
 */
export async function casesByJoints(reader: Reader, stops: readonly number[]): Promise<ReadonlyMap<number, number>> {
  if (stops.length === 0) return new Map();
  const rows = await reader.rows<{ stop_id: number; closure_id: number }>(
    `with ends(stop_id, section_id, side) as materialized (
       select a_stop_id, id, 'A' from section where a_stop_id in (select value from json_each(?1))
       union all select b_stop_id, id, 'B' from section where b_stop_id in (select value from json_each(?1))),
     joints(stop_id, tray_id) as (
       select e.stop_id, s.tray_id from ends e join splice s on s.a_section_id = e.section_id and s.a_side = e.side
       where s.life in ('in_place', 'out_of_use')
       union select e.stop_id, s.tray_id from ends e join splice s on s.b_section_id = e.section_id and s.b_side = e.side
       where s.life in ('in_place', 'out_of_use'))
     select j.stop_id, min(c.id) as closure_id
     from joints j join tray t on t.id = j.tray_id join closure c on c.id = t.closure_id join stop p on p.id = j.stop_id
     where c.panel_id is null and c.space_id = p.space_id group by j.stop_id`,
    [JSON.stringify(stops)],
  );
  return new Map(rows.map(({ stop_id, closure_id }) => [stop_id, closure_id]));
}
