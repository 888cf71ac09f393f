/** Keys that the store holds unique, looked up before writing, so that a refusal names who has them. */
import type { AnyRow, KindName, Value } from "../model/dictionary.ts";
import { KINDS } from "../model/dictionary.ts";
import type { Field } from "../model/field.ts";
import type { Draft, KindDraft } from "./draft.ts";
import type { Reader } from "./handle.ts";
import { named, UNIQUE_KEY } from "./relations.ts";

/** Updates whose key another update of the draft takes: they step aside first. */
export type Parked = ReadonlyMap<KindName, ReadonlySet<number>>;

export interface KeyClash {
  readonly kind: KindName;
  readonly id: number;
  readonly row: number | undefined;
  /** The last field of the key: the record's own name among its neighbours. */
  readonly field: string;
  readonly value: Value;
  /** The record that has the key, or another new one that wants it. */
  readonly holder: number;
}

/** A key's part as the unique index has it: an empty reference counts as 0. */
const partOf = (kind: KindName, name: string, alias: string): string => {
  const fields: Readonly<Record<string, Field>> = KINDS[kind].fields;
  const column = `${alias}${named(name)}`;
  return fields[name]?.required ? column : `coalesce(${column}, 0)`;
};

const lookups = new Map<KindName, string>();
export function keyLookup(kind: KindName, key: readonly string[]): string {
  let sql = lookups.get(kind);
  if (sql === undefined) {
    const match = key.map((name, i) => `${partOf(kind, name, "t.")} = json_extract(j.value, '$[${i}]')`).join(" AND ");
    sql = `SELECT t.id AS id, j.key AS wanted FROM json_each(?) j CROSS JOIN ${named(kind)} t ON ${match}`;
    lookups.set(kind, sql);
  }
  return sql;
}

const keyOf = (key: readonly string[], values: Readonly<Record<string, Value>>): Value[] =>
  key.map((name) => values[name] ?? 0);

/** `goes` tells of records that give up their keys beside the draft. */
export async function keyClashes(
  reader: Reader,
  draft: Draft,
  goes: (kind: KindName, id: number) => boolean = () => false,
): Promise<{ clashes: KeyClash[]; parked: Parked }> {
  const clashes: KeyClash[] = [];
  const parked = new Map<KindName, Set<number>>();
  for (const part of draft.values()) {
    const key = UNIQUE_KEY[part.kind];
    if (key) await clashesOf(reader, part, key, goes, clashes, parked);
  }
  return { clashes, parked };
}

async function clashesOf(
  reader: Reader,
  part: KindDraft,
  key: readonly string[],
  goes: (kind: KindName, id: number) => boolean,
  clashes: KeyClash[],
  parked: Map<KindName, Set<number>>,
): Promise<void> {
  const { kind } = part;
  const field = key[key.length - 1] as string;
  const moves = (id: number) => key.some((name) => name in (part.updates.get(id)?.values ?? {}));
  const wanted: { id: number; row: number | undefined; key: Value[] }[] = [];
  const fields: Readonly<Record<string, Field>> = KINDS[kind].fields;
  const required = key.filter((name) => fields[name]?.required);
  // A key that lacks a part is no key: the missing part is told by itself.
  const whole = (values: Readonly<Record<string, Value>>) => required.every((name) => (values[name] ?? null) !== null);
  for (const { id, row, values } of part.inserts.values())
    if (whole(values)) wanted.push({ id, row, key: keyOf(key, values) });
  for (const { id, row, values, current } of part.updates.values())
    if (moves(id)) wanted.push({ id, row, key: keyOf(key, { ...(current as AnyRow), ...values }) });
  if (wanted.length === 0) return;

  const clash = (one: (typeof wanted)[number], holder: number) =>
    clashes.push({ kind, id: one.id, row: one.row, field, value: one.key[one.key.length - 1] ?? null, holder });
  const first = new Map<string, number>();
  for (const one of wanted) {
    const text = JSON.stringify(one.key);
    const other = first.get(text);
    if (other === undefined) first.set(text, one.id);
    else clash(one, other);
  }
  const held = await reader.rows<{ id: number; wanted: number }>(keyLookup(kind, key), [
    JSON.stringify(wanted.map((one) => one.key)),
  ]);
  for (const { id: holder, wanted: at } of held) {
    const one = wanted[at];
    if (!one || holder === one.id || part.deletes.has(holder) || goes(kind, holder)) continue;
    if (!moves(holder)) clash(one, holder);
    else {
      const aside = parked.get(kind) ?? new Set();
      parked.set(kind, aside.add(holder));
    }
  }
}
