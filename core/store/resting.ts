/** What rests on records: what refers to them, and what would have to go with them. */
import { type KindName, kindOf } from "../model/dictionary.ts";
import type { Reader } from "./handle.ts";
import type { Change } from "./plan.ts";
import { IDS, named, REFERRERS, type Reference, SUBJECTS } from "./relations.ts";

export interface Resting {
  readonly kind: KindName;
  /** The field that refers. */
  readonly field: string;
  readonly ids: readonly number[];
  /** Whether such a record can't be without what it rests on; otherwise it would only lose the mention. */
  readonly goes: boolean;
}

/** A record goes along with what owns it, what it is named after, and what it must refer to. */
export function goesAlong({ kind, field }: Pick<Reference, "kind" | "field">): boolean {
  const { fields, ownedBy, address } = kindOf(kind);
  return Boolean(fields[field]?.required || ownedBy?.includes(field) || address?.parents.includes(field));
}

/** All that refers to the given records, by field, but for what `settled` says is taken care of. */
export async function resting(
  reader: Reader,
  records: ReadonlyMap<KindName, readonly number[]>,
  settled: (kind: KindName, id: number, field: string) => boolean,
): Promise<Resting[]> {
  const found: Resting[] = [];
  for (const [to, ids] of records) {
    const list = JSON.stringify(ids);
    for (const { kind, field } of REFERRERS[to]) {
      const rows = await reader.rows<{ id: number }>(
        `SELECT id FROM ${named(kind)} WHERE ${named(field)} IN ${IDS} ORDER BY id`,
        [list],
      );
      const left = rows.map((row) => row.id).filter((id) => !settled(kind, id, field));
      if (left.length > 0) found.push({ kind, field, ids: left, goes: goesAlong({ kind, field }) });
    }
    for (const { kind, field, kindField } of SUBJECTS) {
      const rows = await reader.rows<{ id: number }>(
        `SELECT id FROM ${named(kind)} WHERE ${named(kindField)} = ? AND ${named(field)} IN ${IDS} ORDER BY id`,
        [to, list],
      );
      const left = rows.map((row) => row.id).filter((id) => !settled(kind, id, field));
      if (left.length > 0) found.push({ kind, field, ids: left, goes: true });
    }
  }
  return found;
}

export interface Closure {
  /** All that goes, the asked-for records included. */
  readonly goes: ReadonlyMap<KindName, ReadonlySet<number>>;
  /** Mentions to be emptied in records that stay. */
  readonly emptied: readonly { readonly kind: KindName; readonly id: number; readonly field: string }[];
}

/** What must go, and what must be emptied, for the records to go. */
export async function closureOf(reader: Reader, records: ReadonlyMap<KindName, readonly number[]>): Promise<Closure> {
  const goes = new Map<KindName, Set<number>>();
  const mentions: { kind: KindName; id: number; field: string }[] = [];
  let round = new Map(records);
  while (round.size > 0) {
    for (const [kind, ids] of round) {
      const all = goes.get(kind) ?? new Set();
      for (const id of ids) all.add(id);
      goes.set(kind, all);
    }
    const next = new Map<KindName, Set<number>>();
    for (const one of await resting(reader, round, (kind, id) => goes.get(kind)?.has(id) ?? false)) {
      if (one.goes) {
        const ids = next.get(one.kind) ?? new Set();
        for (const id of one.ids) ids.add(id);
        next.set(one.kind, ids);
      } else for (const id of one.ids) mentions.push({ kind: one.kind, id, field: one.field });
    }
    round = new Map([...next].map(([kind, ids]) => [kind, [...ids]]));
  }
  return { goes, emptied: mentions.filter(({ kind, id }) => !goes.get(kind)?.has(id)) };
}

/** The closure as changes, to be carried out as one plan. */
export function removal(closure: Closure): Change[] {
  const changes: Change[] = closure.emptied.map(({ kind, id, field }) => ({
    op: "update",
    kind,
    id,
    values: { [field]: null },
  }));
  for (const [kind, ids] of closure.goes) for (const id of ids) changes.push({ op: "delete", kind, id });
  return changes;
}
