/** Sealed penetrations that sheath is pulled through: on the legs between the coils that lend and the opening, and on the lateral's way. */
import { refsOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";

export interface Seals {
  readonly pulled: readonly RecordRef[];
  readonly lateral: readonly RecordRef[];
}

/** @param stops the stops from one of which each leg that sheath slides through leads on */
export async function sealsOn(reader: Reader, stops: readonly number[], pathways: readonly number[]): Promise<Seals> {
  const pulled = await reader.rows<{ id: number }>(
    `select distinct f.id from leg l join firestop f on f.pathway_id = l.pathway_id
     where l.from_stop_id in (select value from json_each(?)) and f.life = 'in_place'
       and l.life in ('in_place', 'out_of_use') order by f.id`,
    [JSON.stringify(stops)],
  );
  const passed = await reader.rows<{ id: number }>(
    `select id from firestop where pathway_id in (select value from json_each(?)) and life = 'in_place' order by id`,
    [JSON.stringify(pathways)],
  );
  const told = async (rows: readonly { id: number }[]): Promise<RecordRef[]> => {
    const refs = await refsOf(
      reader,
      "firestop",
      rows.map(({ id }) => id),
    );
    return rows.flatMap(({ id }) => refs.get(id) ?? []);
  };
  return { pulled: await told(pulled), lateral: await told(passed) };
}
