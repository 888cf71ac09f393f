/**
 * A state put together from some changes and not from others may refer to what isn't there. What a correction deleted
 * comes back where something refers to it; what rests on what came later is left out, or only loses the mention.
 */
import type { AnyRow, KindName, Value } from "../model/dictionary.ts";
import { deletedRows, entriesOf } from "../store/entries.ts";
import type { Reader } from "../store/handle.ts";
import { FIELD_NAMES, REFERENCES, SQL, SUBJECT } from "../store/relations.ts";
import { goesAlong, resting } from "../store/resting.ts";

type Values = Record<string, Value>;
type Then = Map<KindName, Map<number, Values | null>>;
interface One {
  readonly kind: KindName;
  readonly id: number;
}

export interface Held {
  /** Records as they will be; null for those that won't be there. Others stay as they are. */
  readonly then: Then;
  /** The same records as they are. */
  readonly now: Map<KindName, Map<number, Values>>;
  readonly dropped: readonly One[];
  readonly emptied: readonly (One & { readonly field: string })[];
  readonly reinstated: readonly One[];
}

/** A place where a record refers to another. */
interface Mention extends One {
  readonly field: string;
  readonly to: One;
  readonly goes: boolean;
}

export async function held(
  reader: Reader,
  then: Then,
  now: Map<KindName, Map<number, Values>>,
  isLater: (changeSet: number) => boolean,
): Promise<Held> {
  const reinstated: One[] = [];
  const dropped: One[] = [];
  const emptied: (One & { field: string })[] = [];
  for (let missing = await missingOf(reader, then); ; missing = await missingOf(reader, then)) {
    let grew = false;
    for (const { to } of missing) {
      if (then.get(to.kind)?.get(to.id)) continue;
      const values = await deletedByCorrection(reader, to, isLater);
      if (!values) continue;
      set(then, to, values);
      reinstated.push(to);
      grew = true;
    }
    if (!grew) break;
  }
  for (;;) {
    const mentions = [...(await missingOf(reader, then)), ...(await onGone(reader, then, now))];
    if (mentions.length === 0) break;
    for (const { kind, id, field, goes } of mentions) {
      const values = then.get(kind)?.get(id) ?? (await loaded(reader, then, now, { kind, id }));
      if (!values) continue;
      if (goes) {
        then.get(kind)?.set(id, null);
        dropped.push({ kind, id });
      } else {
        values[field] = null;
        emptied.push({ kind, id, field });
      }
    }
  }
  return { then, now, dropped, emptied, reinstated };
}

function set(then: Then, { kind, id }: One, values: Values | null): void {
  const own = then.get(kind);
  if (own) own.set(id, values);
  else then.set(kind, new Map([[id, values]]));
}

/** What the records that will be there refer to and that will not. */
async function missingOf(reader: Reader, then: Then): Promise<Mention[]> {
  const asked = new Map<KindName, Map<number, Mention[]>>();
  for (const [kind, own] of then)
    for (const [id, values] of own) {
      if (!values) continue;
      for (const mention of mentionsOf(kind, id, values)) {
        const there = then.get(mention.to.kind)?.get(mention.to.id);
        if (there) continue;
        const targets = asked.get(mention.to.kind) ?? new Map<number, Mention[]>();
        asked.set(mention.to.kind, targets);
        targets.set(mention.to.id, [...(targets.get(mention.to.id) ?? []), mention]);
      }
    }
  const missing: Mention[] = [];
  for (const [kind, targets] of asked) {
    const rows = await reader.rows<{ id: number }>(SQL[kind].present, [JSON.stringify([...targets.keys()])]);
    // What is on record now and isn't among the records looked at stays.
    for (const { id } of rows) if (!then.get(kind)?.has(id)) targets.delete(id);
    for (const mentions of targets.values()) missing.push(...mentions);
  }
  return missing;
}

function mentionsOf(kind: KindName, id: number, values: Values): Mention[] {
  const found: Mention[] = [];
  for (const { field, to } of REFERENCES[kind]) {
    const target = values[field];
    if (typeof target === "number")
      found.push({ kind, id, field, to: { kind: to, id: target }, goes: goesAlong({ kind, field }) });
  }
  const subject = SUBJECT[kind];
  const target = subject ? values[subject.field] : null;
  if (subject && typeof target === "number") {
    const to = { kind: values[subject.kindField] as KindName, id: target };
    found.push({ kind, id, field: subject.field, to, goes: true });
  }
  return found;
}

/** Records on record that refer to what will be gone, but for those whose mention is settled already. */
async function onGone(reader: Reader, then: Then, now: Map<KindName, Map<number, Values>>): Promise<Mention[]> {
  const gone = new Map(
    [...then].flatMap(([kind, own]) => {
      const ids = [...own].flatMap(([id, values]) => (values === null && now.get(kind)?.has(id) ? [id] : []));
      return ids.length > 0 ? [[kind, ids] as const] : [];
    }),
  );
  // A record that was looked at has its mentions told by `missingOf`.
  const found = await resting(reader, gone, (kind, id) => then.get(kind)?.has(id) ?? false);
  return found.flatMap(({ kind, field, ids, goes }) =>
    ids.map((id) => ({ kind, id, field, goes, to: { kind, id: 0 } })),
  );
}

/** Takes a record that stayed out of this so far among those that are looked at. */
async function loaded(
  reader: Reader,
  then: Then,
  now: Map<KindName, Map<number, Values>>,
  { kind, id }: One,
): Promise<Values | null> {
  if (then.get(kind)?.has(id)) return null;
  const [row] = await reader.rows<AnyRow>(SQL[kind].rows, [JSON.stringify([id])]);
  if (!row) return null;
  const values = Object.fromEntries(FIELD_NAMES[kind].map((field) => [field, row[field] ?? null]));
  now.set(kind, (now.get(kind) ?? new Map<number, Values>()).set(id, { ...values }));
  set(then, { kind, id }, values);
  return values;
}

/** The last values of a record that a correction deleted; null for one that later work brought or took away. */
async function deletedByCorrection(
  reader: Reader,
  { kind, id }: One,
  isLater: (changeSet: number) => boolean,
): Promise<Values | null> {
  const entries = await entriesOf(reader, kind, id);
  const [last] = entries;
  const brought = entries.findLast((entry) => entry.op.startsWith("insert"));
  if (!last?.op.startsWith("delete") || isLater(last.change_set_id)) return null;
  if (brought && isLater(brought.change_set_id)) return null;
  return deletedRows(last).find((row) => row.id === id)?.values ?? null;
}
