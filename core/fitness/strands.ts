/** How many strands a cable has, where a rule of thumb holds for small cables alone. */
import type { Reader } from "../store/handle.ts";

/** Strands of some kinds of cable by their data sheets; those of which none lists its units are left out. */
export async function strandsOfTypes(reader: Reader, types: readonly number[]): Promise<ReadonlyMap<number, number>> {
  if (types.length === 0) return new Map();
  const rows = await reader.rows<{ id: number; strands: number }>(
    `with recursive within(type_id, id, n, strands, depth) as (
       select cable_type_id, id, repeats, strands, 1 from unit_type
       where parent_id is null and cable_type_id in (select value from json_each(?))
       union all
       select w.type_id, u.id, w.n * u.repeats, u.strands, w.depth + 1
       from within w join unit_type u on u.parent_id = w.id where w.depth < 8)
     select type_id as id, sum(n * strands) as strands from within group by type_id`,
    [JSON.stringify([...new Set(types)])],
  );
  return new Map(rows.flatMap(({ id, strands }) => (strands > 0 ? [[id, strands] as const] : [])));
}

/** Strands of some cables: those on record, else those of its kind; a cable of which nothing says it is left out. */
export async function strandsOfCables(
  reader: Reader,
  cables: readonly { readonly id: number; readonly type_id: number | null }[],
): Promise<ReadonlyMap<number, number>> {
  if (cables.length === 0) return new Map();
  const rows = await reader.rows<{ id: number; strands: number }>(
    `select cable_id as id, count(*) as strands from strand where cable_id in (select value from json_each(?))
     group by cable_id`,
    [JSON.stringify(cables.map(({ id }) => id))],
  );
  const own = new Map(rows.map(({ id, strands }) => [id, strands]));
  const others = cables.filter(({ id }) => !own.has(id));
  const types = await strandsOfTypes(
    reader,
    others.flatMap(({ type_id }) => type_id ?? []),
  );
  for (const { id, type_id } of others) {
    const strands = types.get(type_id ?? 0);
    if (strands !== undefined) own.set(id, strands);
  }
  return own;
}
