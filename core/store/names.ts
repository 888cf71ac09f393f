/** What records are called in refusals, rehearsals and history. */
import { joinAddress } from "../model/address.ts";
import { KINDS, type KindName, kindOf } from "../model/dictionary.ts";
import { addressesOf } from "./describe.ts";
import { type Draft, provisionalName } from "./draft.ts";
import type { Reader } from "./handle.ts";
import type { Plan } from "./plan.ts";

export interface Names {
  nameOf(kind: KindName, id: number): string;
}

/** Names of the given records, new ones of the draft included; of those that are `known` nothing is read. */
export async function loadNames(
  reader: Reader,
  wanted: ReadonlyMap<KindName, ReadonlySet<number>>,
  draft: Draft,
  known: Plan<unknown>["named"] = new Map(),
): Promise<Names> {
  const names = new Map<KindName, Map<number, string>>();
  const all = new Map([...wanted].map(([kind, ids]) => [kind, new Set(ids)]));
  const want = (kind: KindName, id: number) => {
    const ids = all.get(kind);
    if (ids) ids.add(id);
    else all.set(kind, new Set([id]));
  };
  // A new record is named after its parent, which may be new as well.
  for (const [kind, ids] of all)
    for (const id of ids) {
      const parent = parentOf(draft, kind, id);
      if (parent) want(parent.kind, parent.id);
    }
  for (const [kind, ids] of all) {
    const inserts = draft.get(kind)?.inserts;
    const own = known.get(kind);
    const stored = [...ids].filter((id) => !inserts?.has(id) && !own?.has(id));
    names.set(kind, new Map([...(own ?? []), ...(stored.length > 0 ? await addressesOf(reader, kind, stored) : [])]));
  }
  const nameOf = (kind: KindName, id: number): string => {
    const known = names.get(kind)?.get(id);
    if (known !== undefined) return known;
    const insert = draft.get(kind)?.inserts.get(id);
    if (!insert) return `${KINDS[kind].one} ${id}`;
    const addressing = kindOf(kind).address;
    const own = addressing ? insert.values[addressing.name] : null;
    if (!addressing || own === null || own === undefined) return provisionalName(kind, insert.values);
    const parent = parentOf(draft, kind, id);
    const there = parent && (names.get(parent.kind)?.has(parent.id) || draft.get(parent.kind)?.inserts.has(parent.id));
    if (parent && !there) return provisionalName(kind, insert.values);
    return joinAddress(parent ? nameOf(parent.kind, parent.id) : null, addressing.separator, own);
  };
  return { nameOf };
}

function parentOf(draft: Draft, kind: KindName, id: number): { kind: KindName; id: number } | null {
  const insert = draft.get(kind)?.inserts.get(id);
  for (const field of kindOf(kind).address?.parents ?? []) {
    const parent = insert?.values[field];
    const declared = kindOf(kind).fields[field];
    if (typeof parent === "number" && declared?.type === "reference")
      return { kind: declared.to as KindName, id: parent };
  }
  return null;
}
