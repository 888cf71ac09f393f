/** What the other file says that no earlier merge has settled. */
import type { AnyRow, KindName, Value } from "../../model/dictionary.ts";
import type { Reader } from "../../store/handle.ts";
import { REFERENCES, SQL, SUBJECT } from "../../store/relations.ts";
import { lastId } from "../moments.ts";
import { type Net, type Nets, netChanges, valuesAt } from "../net.ts";
import type { Seen } from "./seen.ts";

export type Values = Readonly<Record<string, Value>>;
/** New records by kind and id, with all their fields. */
export type Entered = ReadonlyMap<KindName, ReadonlyMap<number, Values>>;

export interface News {
  /** What became of each record there: since it was seen last, else since both parted. */
  readonly nets: Nets;
  /** Of those, the new records. */
  readonly there: Entered;
  /** Every record entered there since both parted. */
  readonly entered: ReadonlyMap<KindName, { has(id: number): boolean }>;
}

/** Records that were entered by these changes, with all their fields. */
export async function enteredIn(reader: Reader, nets: Nets): Promise<Map<KindName, Map<number, Values>>> {
  const entered = new Map<KindName, Map<number, Values>>();
  const last = await lastId(reader);
  for (const [kind, own] of nets) {
    const ids = insertedIn(own);
    if (ids.length > 0) entered.set(kind, await valuesAt(reader, kind, ids, last));
  }
  return entered;
}

const insertedIn = (own: ReadonlyMap<number, Net>): number[] =>
  [...own].flatMap(([id, net]) => (net.op === "insert" ? [id] : []));

/**
 * A record that was left out by that merge stays left out, until they change it or enter something that refers to it: then
 * it is as new as on the first day.
 */
export async function newsOf(theirs: Reader, ancestor: number, seen: Seen | null): Promise<News> {
  const last = await lastId(theirs);
  const found = await netChanges(theirs, seen?.their_id ?? ancestor, last);
  const there = await enteredIn(theirs, found);
  if (!seen) return { nets: found, there, entered: there };
  const before = new Map(
    [...(await netChanges(theirs, ancestor, seen.their_id))].map(([kind, own]) => [kind, new Set(insertedIn(own))]),
  );
  const isLeftOut = (kind: KindName, id: number): boolean =>
    (before.get(kind)?.has(id) ?? false) && !seen.pairs.get(kind)?.has(id) && !there.get(kind)?.has(id);
  const nets = new Map([...found].map(([kind, own]) => [kind, new Map(own)]));
  let again = new Map<KindName, Set<number>>();
  const ask = (kind: KindName, id: number): void => {
    if (isLeftOut(kind, id)) again.set(kind, (again.get(kind) ?? new Set()).add(id));
  };
  for (const [kind, own] of found)
    for (const [id, net] of own) {
      if (net.op === "delete") continue;
      if (net.op === "update") ask(kind, id);
      const values =
        net.op === "insert"
          ? there.get(kind)?.get(id)
          : { ...net.after, ...(await movedTo(theirs, kind, id, net.after)) };
      mentions(kind, values ?? {}, ask);
    }
  while (again.size > 0) {
    const round = again;
    again = new Map();
    for (const [kind, ids] of round)
      for (const [id, values] of await valuesAt(theirs, kind, [...ids], last)) {
        there.set(kind, (there.get(kind) ?? new Map<number, Values>()).set(id, values));
        nets.set(kind, (nets.get(kind) ?? new Map<number, Net>()).set(id, { op: "insert" }));
        mentions(kind, values, ask);
      }
  }
  const entered = new Map(
    [...new Set([...before.keys(), ...there.keys()])].map((kind) => [
      kind,
      { has: (id: number) => (before.get(kind)?.has(id) || there.get(kind)?.has(id)) ?? false },
    ]),
  );
  return { nets, there, entered };
}

function mentions(kind: KindName, values: Values, tell: (to: KindName, id: number) => void): void {
  for (const { field, to } of REFERENCES[kind]) {
    const target = values[field];
    if (typeof target === "number") tell(to, target);
  }
  const pair = SUBJECT[kind];
  const target = pair ? values[pair.field] : null;
  const to = pair ? values[pair.kindField] : null;
  if (typeof target === "number" && typeof to === "string") tell(to as KindName, target);
}

/** What a record is about is a kind and an id: where they changed one of them, both as they are now; else nothing. */
export async function movedTo(reader: Reader, kind: KindName, id: number, after: Values): Promise<Values> {
  const pair = SUBJECT[kind];
  if (!pair || !(pair.field in after || pair.kindField in after)) return {};
  const [row] = await reader.rows<AnyRow>(SQL[kind].rows, [JSON.stringify([id])]);
  return { [pair.kindField]: row?.[pair.kindField] ?? null, [pair.field]: row?.[pair.field] ?? null };
}
