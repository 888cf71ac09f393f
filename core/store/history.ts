/** History read back: change sets, and what each did in words. */
import type { AnyRow, KindName, Value } from "../model/dictionary.ts";
import { type Draft, kindDraft } from "./draft.ts";
import { changedFields, deletedRows, entriesOf, type StoredEntry, setsTouching, singly } from "./entries.ts";
import type { Reader } from "./handle.ts";
import { IDS, SQL } from "./relations.ts";
import { type Head, headOf } from "./stack.ts";
import { versionAt } from "./stale.ts";
import { type RawChange, viewsOf } from "./views.ts";
import type { ChangeView } from "./written.ts";

export interface HistoryItem extends Head {
  /** For what was done: whether it is undone now. */
  readonly undone: boolean;
}

interface RecordId {
  readonly kind: KindName;
  readonly id: number;
}

export interface HistoryFilter {
  readonly record?: RecordId | undefined;
  /** Changes that touched any of these. */
  readonly records?: readonly RecordId[] | undefined;
  /** Changes that touched a record of this kind. */
  readonly kind?: KindName | undefined;
  /** What stands in the summary or the reason, in any case. */
  readonly text?: string | undefined;
  /** First and last day, `YYYY-MM-DD` (UTC). */
  readonly since?: string | undefined;
  readonly until?: string | undefined;
  readonly author?: string | undefined;
  readonly act?: string | undefined;
  /** Change sets before this one. */
  readonly before?: number | undefined;
  readonly limit: number;
}

const HEAD = "id, at, author, reason, act, summary, meaning, day, verb, target_id, records";

/** Change sets, the newest first; `next` is what `before` must be for the page that follows, or null. */
export async function listHistory(
  reader: Reader,
  filter: HistoryFilter,
): Promise<{ items: HistoryItem[]; next: number | null }> {
  const conditions: string[] = [];
  const parameters: Value[] = [];
  const and = (sql: string, value: Value | undefined) => {
    if (value === undefined) return;
    conditions.push(sql);
    parameters.push(value);
  };
  and("id < ?", filter.before);
  and("at >= ?", filter.since);
  // A time sorts after the day it begins with; "~" sorts after every time of that day.
  and("at <= ?", filter.until === undefined ? undefined : `${filter.until}~`);
  and("author = ? COLLATE NOCASE", filter.author);
  and("act = ?", filter.act);
  and(
    "EXISTS (SELECT 1 FROM change_entry e WHERE e.change_set_id = change_set.id AND e.kind = ?)",
    filter.kind ?? undefined,
  );
  if (filter.text !== undefined)
    and("instr(lower(summary || char(10) || coalesce(reason, '')), lower(?)) > 0", filter.text);
  const records = [...(filter.record ? [filter.record] : []), ...(filter.records ?? [])];
  if (filter.record || filter.records) {
    const sets = new Set<number>();
    for (const [kind, own] of Map.groupBy(records, ({ kind }) => kind)) {
      const ids = own.map(({ id }) => id);
      for (const set of await setsTouching(reader, kind, ids)) sets.add(set);
    }
    and(`id IN ${IDS}`, JSON.stringify([...sets]));
  }
  const where = conditions.length > 0 ? `WHERE ${conditions.join(" AND ")}` : "";
  const heads = await reader.rows<Head>(`SELECT ${HEAD} FROM change_set ${where} ORDER BY id DESC LIMIT ?`, [
    ...parameters,
    filter.limit + 1,
  ]);
  const page = heads.slice(0, filter.limit);
  return { items: await withState(reader, page), next: heads.length > filter.limit ? (page.at(-1)?.id ?? null) : null };
}

export interface Person {
  readonly author: string;
  readonly change_sets: number;
  /** When they last wrote, ISO 8601 in UTC. */
  readonly last_at: string;
}

/** Who wrote, whoever wrote last first. */
export const peopleOf = (reader: Reader, limit: number): Promise<Person[]> =>
  reader.rows<Person>(
    `SELECT author, count(*) AS change_sets, max(at) AS last_at FROM change_set
     GROUP BY author ORDER BY max(id) DESC LIMIT ?`,
    [limit],
  );

async function withState(reader: Reader, heads: readonly Head[]): Promise<HistoryItem[]> {
  // Of several undos and redos of one change set the last decides.
  const last = await reader.rows<{ target_id: number; verb: Head["verb"] }>(
    `SELECT target_id, verb, max(id) FROM change_set WHERE target_id IN ${IDS} GROUP BY target_id`,
    [JSON.stringify(heads.map((head) => head.id))],
  );
  const undone = new Set(last.flatMap((one) => (one.verb === "undo" ? [one.target_id] : [])));
  return heads.map((head) => ({ ...head, undone: undone.has(head.id) }));
}

export interface HistoryPage extends HistoryItem {
  readonly changes: readonly ChangeView[];
  /** Where the next page begins; null after the last. */
  readonly next: Position | null;
}
/** A place within a change set: an entry, and a record within it. */
export interface Position {
  readonly seq: number;
  readonly id: number;
}

/** One change set with what it did, in words, a page at a time. */
export async function showHistory(
  reader: Reader,
  id: number,
  from: Position | null,
  limit: number,
): Promise<HistoryPage> {
  const [item] = await withState(reader, [await headOf(reader, id)]);
  if (!item) throw new Error("a change set that was found has no state");
  const raw: RawChange[] = [];
  let next: Position | null = null;
  fill: for (let seq = (from?.seq ?? 1) - 1; ; ) {
    const entries = await reader.rows<StoredEntry>(
      "SELECT * FROM change_entry WHERE change_set_id = ? AND seq > ? ORDER BY seq LIMIT 100",
      [id, seq],
    );
    for (const entry of entries) {
      const first = entry.seq === from?.seq ? from.id : entry.record_id;
      for (const change of await changesOf(reader, entry, first, limit - raw.length + 1)) {
        if (raw.length === limit) {
          next = { seq: entry.seq, id: change.id };
          break fill;
        }
        raw.push(change);
      }
    }
    const last = entries.at(-1);
    if (!last) break;
    seq = last.seq;
  }
  return { ...item, changes: await viewsOfPast(reader, raw), next };
}

/** What an entry did to records from `first` on, at most `limit` of them. */
async function changesOf(reader: Reader, entry: StoredEntry, first: number, limit: number): Promise<RawChange[]> {
  const { kind, op, change_set_id } = entry;
  if (op === "update_page") {
    const rest = [...singly(entry)].filter((one) => one.record_id >= first).slice(0, limit);
    return (await Promise.all(rest.map((one) => changesOf(reader, one, one.record_id, 1)))).flat();
  }
  if (op === "update") {
    const fields = Object.entries(changedFields(entry));
    const side = (at: 0 | 1) => Object.fromEntries(fields.map(([field, values]) => [field, values[at]]));
    return [{ op, kind, id: entry.record_id, before: side(0), after: side(1) }];
  }
  if (op === "delete" || op === "delete_page")
    return deletedRows(entry)
      .filter((row) => row.id >= first)
      .slice(0, limit)
      .map(({ id, values }) => ({ op: "delete", kind, id, before: values, after: {} }));
  const changes: RawChange[] = [];
  const last = Math.min(entry.last_id, first + limit - 1);
  const ids = Array.from({ length: last - first + 1 }, (_, i) => first + i);
  const rows = await reader.rows<AnyRow>(SQL[kind].rows, [JSON.stringify(ids)]);
  const current = new Map(rows.map((row) => [row.id, row]));
  for (const id of ids) {
    const row = current.get(id);
    // A new row is its own after-image until a later change set wrote it.
    const after = row?.rev === change_set_id ? row : await versionAt(reader, kind, id, change_set_id, row ?? null);
    changes.push({ op: "insert", kind, id, before: {}, after: after ?? {} });
  }
  return changes;
}

/** Changes of the past in words; records that are no longer there by what history kept of them. */
export async function viewsOfPast(reader: Reader, changes: readonly RawChange[]): Promise<ChangeView[]> {
  const draft: Draft = new Map();
  await nameTheGone(reader, changes, draft);
  return viewsOf(reader, changes, draft);
}

/** Records that are no longer there are named by what history kept of them. */
async function nameTheGone(reader: Reader, changes: readonly RawChange[], draft: Draft): Promise<void> {
  const byKind = Map.groupBy(changes, (change) => change.kind);
  for (const [kind, own] of byKind) {
    const ids = JSON.stringify(own.map((change) => change.id));
    const there = new Set((await reader.rows<{ id: number }>(SQL[kind].present, [ids])).map((row) => row.id));
    for (const { id, op, before, after } of own) {
      if (there.has(id)) continue;
      const values = op === "update" ? await lastKnown(reader, kind, id) : op === "delete" ? before : after;
      kindDraft(draft, kind).inserts.set(id, { id, values: values as Record<string, Value>, row: undefined });
    }
  }
}

async function lastKnown(reader: Reader, kind: KindName, id: number): Promise<Record<string, Value>> {
  const [entry] = (await entriesOf(reader, kind, id)).filter((one) => one.op.startsWith("delete"));
  return (entry && deletedRows(entry).find((row) => row.id === id)?.values) ?? {};
}

export interface RecordHistoryItem extends HistoryItem {
  readonly change: ChangeView;
}

/** What happened to one record, the newest first. */
export async function recordHistory(
  reader: Reader,
  kind: KindName,
  id: number,
  limit: number,
): Promise<RecordHistoryItem[]> {
  const entries = (await entriesOf(reader, kind, id)).slice(0, limit);
  const heads = await reader.rows<Head>(`SELECT ${HEAD} FROM change_set WHERE id IN ${IDS}`, [
    JSON.stringify(entries.map((entry) => entry.change_set_id)),
  ]);
  const items = new Map((await withState(reader, heads)).map((item) => [item.id, item]));
  const raw: RawChange[] = [];
  const of: HistoryItem[] = [];
  for (const entry of entries) {
    const item = items.get(entry.change_set_id);
    const change = (await changesOf(reader, entry, id, 1)).find((one) => one.id === id);
    if (!item || !change) continue;
    of.push(item);
    raw.push(change);
  }
  const views = await viewsOfPast(reader, raw);
  return views.flatMap((change, i) => (of[i] ? [{ ...of[i], change }] : []));
}
