/** Whose the broken way is, who lies in it, and whose circuits are at stake: each with how to reach them by day and night. */
import { refsOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";

export interface PacketOwner {
  readonly party: RecordRef;
  readonly name: string | null;
  /** What they are to the plant, as stored: `self`, `owner`, `authority`. */
  readonly role: string | null;
  readonly day: string | null;
  readonly night: string | null;
  /** What is theirs: records by their addresses. */
  readonly of: readonly RecordRef[];
}

interface OwnedRow {
  readonly kind: "pathway" | "conduit" | "cable";
  readonly id: number;
  readonly owner_id: number;
}

/**
 * Owners of pathways, their pipes and the cables in them, and of circuits, in the order of their names.
 * @param others further parties wanted, such as whoever holds a key
 */
export async function ownersOf(
  reader: Reader,
  pathways: readonly number[],
  circuits: readonly { readonly circuit: RecordRef; readonly owner: RecordRef | null }[],
  others: readonly number[] = [],
): Promise<PacketOwner[]> {
  const owned = await reader.rows<OwnedRow>(
    `select 'pathway' as kind, id, owner_id from pathway where id in (select value from json_each(?1)) and owner_id is not null
     union all select 'conduit', id, owner_id from conduit where pathway_id in (select value from json_each(?1)) and owner_id is not null
     union all select distinct 'cable', c.id, c.owner_id from leg l join stop s on s.id = l.from_stop_id
       join cable c on c.id = s.cable_id
       where l.pathway_id in (select value from json_each(?1)) and l.life in ('in_place', 'out_of_use') and c.owner_id is not null
     order by 1, 2`,
    [JSON.stringify([...new Set(pathways)])],
  );
  const of = new Map<number, RecordRef[]>();
  const add = (owner: number, record: RecordRef | undefined) => {
    if (record) of.set(owner, [...(of.get(owner) ?? []), record]);
  };
  for (const kind of ["pathway", "conduit", "cable"] as const) {
    const own = owned.filter((row) => row.kind === kind);
    const refs = await refsOf(
      reader,
      kind,
      own.map(({ id }) => id),
    );
    for (const { id, owner_id } of own) add(owner_id, refs.get(id));
  }
  for (const { circuit, owner } of circuits) if (owner) add(owner.id, circuit);
  // Whoever keeps the plant itself, and whom the law makes one ask, are wanted on every job.
  const always =
    others.length > 0
      ? []
      : await reader.rows<{ id: number }>("select id from party where role in ('self', 'authority') order by id");
  const ids = [...new Set([...of.keys(), ...others, ...always.map(({ id }) => id)])];
  const rows = await reader.rows<{
    id: number;
    name: string | null;
    role: string | null;
    contact_day: string | null;
    contact_night: string | null;
  }>(
    "select id, name, role, contact_day, contact_night from party where id in (select value from json_each(?)) order by tag_key, id",
    [JSON.stringify(ids)],
  );
  const parties = await refsOf(reader, "party", ids);
  return rows.flatMap(({ id, name, role, contact_day, contact_night }) => {
    const party = parties.get(id);
    return party ? [{ party, name, role, day: contact_day, night: contact_night, of: of.get(id) ?? [] }] : [];
  });
}
