/** Cables that lie in a cut way and that nobody mends, for they are dead. */
import type { Reader } from "../store/handle.ts";

/** Of some cables those that are out of use and carry no circuit: what is dead can't be cut once more. */
export async function deadOf(reader: Reader, cables: Iterable<number>): Promise<Set<number>> {
  const rows = await reader.rows<{ id: number }>(
    `select c.id from json_each(?) i cross join cable c on c.id = i.value and c.life = 'out_of_use'
     where not exists (select 1 from strand t cross join section s on s.strand_id = t.id
       cross join assignment a on a.section_id = s.id where t.cable_id = c.id)`,
    [JSON.stringify([...cables])],
  );
  return new Set(rows.map(({ id }) => id));
}
