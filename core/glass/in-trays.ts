/** What trays hold: a ribbon joined at once is one splice with one protector, whatever number of strands it has. */
import { CARRIES } from "./glass.ts";

/**
 * Splices and pigtails kept in trays, by tray: `tray_id` and `held`. Strands of a ribbon are told by their place in the
 * tray, or, where none is on record, by the unit they lie in. `where` limits the trays, as `tray_id = ?`; it is used twice.
 */
export const heldInTrays = (where = "tray_id is not null"): string => `
  select tray_id, count(*) - count(ribbon) + count(distinct ribbon) as held from (
    select s.tray_id, case when s.form is 'ribbon' then coalesce('place ' || s.place, (
        select 'unit ' || t.unit_id from section e join strand t on t.id = e.strand_id where e.id = s.a_section_id
      ), 'splice ' || s.id) end as ribbon
    from splice s where ${where} and s.life in ${CARRIES}
    union all select tray_id, null from termination where ${where} and life in ${CARRIES}
  ) group by tray_id`;
