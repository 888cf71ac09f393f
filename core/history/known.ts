/**
 * Takes later work back and keeps every correction: each record that later work touched is led through its history again
 * without that work. A correction of what later work wrote goes with that work.
 */
import { type AnyRow, KINDS, type KindName, type Value } from "../model/dictionary.ts";
import type { Field } from "../model/field.ts";
import { changedFields, deletedRows, type StoredEntry } from "../store/entries.ts";
import type { Reader } from "../store/handle.ts";
import type { Change } from "../store/plan.ts";
import { FIELD_NAMES, SQL, SUBJECT } from "../store/relations.ts";
import { say } from "../words/say.ts";
import { type Held, held } from "./hold-together.ts";
import type { LaterWork } from "./later-work.ts";
import { entriesBetween, valuesAt } from "./net.ts";

type Values = Record<string, Value>;
type Ids = Map<KindName, Set<number>>;

export interface LeftOut {
  readonly kind: KindName;
  readonly id: number;
  /** Goes on after the record's name. */
  readonly what: string;
}

export interface TakenBack {
  readonly changes: Change[];
  /** What a correction says that can't be kept, because it rests on later work. */
  readonly leftOut: readonly LeftOut[];
}

export async function takenBack(reader: Reader, work: LaterWork, last: number): Promise<TakenBack> {
  if (work.first === null) return { changes: [], leftOut: [] };
  const before = work.first - 1;
  const { touched, entered } = await touchedBy(reader, work, before, last);
  const then = await led(reader, work, before, last, touched, entered);
  const now = new Map<KindName, Map<number, Values>>();
  for (const [kind, ids] of touched) now.set(kind, await present(reader, kind, [...ids]));
  return asChanges(await held(reader, then, now, (set) => work.sets.has(set)));
}

/** Every record an entry of later work touches, and which of all were new in that time. */
async function touchedBy(reader: Reader, work: LaterWork, before: number, last: number) {
  const touched: Ids = new Map();
  const seen: Ids = new Map();
  const entered: Ids = new Map();
  for await (const entry of entriesBetween(reader, before, last)) {
    const later = work.sets.has(entry.change_set_id);
    const isNew = entry.op === "insert" || entry.op === "insert_range";
    for (const id of idsOf(entry)) {
      if (later) add(touched, entry.kind, id);
      if (isNew && !seen.get(entry.kind)?.has(id)) add(entered, entry.kind, id);
      add(seen, entry.kind, id);
    }
  }
  return { touched, entered };
}

function* idsOf(entry: StoredEntry): Generator<number> {
  if (entry.op === "delete_page") for (const { id } of deletedRows(entry)) yield id;
  else for (let id = entry.record_id; id <= entry.last_id; id++) yield id;
}

function add(to: Ids, kind: KindName, id: number): void {
  const ids = to.get(kind);
  if (ids) ids.add(id);
  else to.set(kind, new Set([id]));
}

/** The touched records led through their history without the later work; null where they would not be there. */
async function led(reader: Reader, work: LaterWork, before: number, last: number, touched: Ids, entered: Ids) {
  const then = new Map<KindName, Map<number, Values | null>>();
  for (const [kind, ids] of touched) {
    const old = [...ids].filter((id) => !entered.get(kind)?.has(id));
    const values = await valuesAt(reader, kind, old, before);
    then.set(kind, new Map([...ids].map((id) => [id, values.has(id) ? { ...values.get(id) } : null])));
  }
  const apart = new Set<string>();
  for await (const entry of entriesBetween(reader, before, last)) {
    const own = then.get(entry.kind);
    if (!own) continue;
    // What a record is about is a kind and an id: neither means anything beside the other half of another time.
    const pair = SUBJECT[entry.kind];
    const about = (field: string) => field === pair?.field || field === pair?.kindField;
    const key = `${entry.kind} ${entry.record_id}`;
    if (work.sets.has(entry.change_set_id)) {
      if (Object.keys(changedFields(entry)).some(about)) apart.add(key);
      continue;
    }
    for (const id of idsOf(entry)) {
      if (!own.has(id)) continue;
      if (entry.op === "delete" || entry.op === "delete_page") own.set(id, null);
      else if (entry.op !== "update") {
        const made = (await valuesAt(reader, entry.kind, [id], entry.change_set_id)).get(id);
        own.set(id, made ? { ...made } : null);
      } else {
        const values = own.get(id);
        if (!values) continue;
        for (const [field, [was, is]] of Object.entries(changedFields(entry)))
          if ((values[field] ?? null) === was && !(about(field) && apart.has(key))) values[field] = is;
      }
    }
  }
  return then;
}

async function present(reader: Reader, kind: KindName, ids: readonly number[]): Promise<Map<number, Values>> {
  const rows = await reader.rows<AnyRow>(SQL[kind].rows, [JSON.stringify(ids)]);
  return new Map(
    rows.map((row) => [row.id, Object.fromEntries(FIELD_NAMES[kind].map((field) => [field, row[field] ?? null]))]),
  );
}

function asChanges({ then, now, dropped, emptied, reinstated }: Held): TakenBack {
  const changes: Change[] = [];
  for (const [kind, own] of then)
    for (const [id, values] of own) {
      const current = now.get(kind)?.get(id);
      if (values === null) {
        if (current) changes.push({ op: "delete", kind, id });
      } else if (!current) changes.push({ op: "insert", kind, id, values });
      else {
        const fields = FIELD_NAMES[kind].filter((field) => (values[field] ?? null) !== (current[field] ?? null));
        if (fields.length > 0) {
          const differing = Object.fromEntries(fields.map((field) => [field, values[field] ?? null]));
          changes.push({ op: "update", kind, id, values: differing });
        }
      }
    }
  const label = (kind: KindName, field: string) =>
    (KINDS[kind].fields as Readonly<Record<string, Field>>)[field]?.label ?? field;
  return {
    changes,
    leftOut: [
      ...dropped.map(({ kind, id }) => ({ kind, id, what: say`is left out: it rests on later work` })),
      ...emptied.map(({ kind, id, field }) => ({
        kind,
        id,
        what: say`is without its ${label(kind, field)}, which came later`,
      })),
      ...reinstated.map(({ kind, id }) => ({
        kind,
        id,
        what: say`is there although a correction deleted it: what stood then refers to it`,
      })),
    ],
  };
}
