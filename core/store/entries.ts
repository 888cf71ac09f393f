/** History entries as they are kept, and read back. */
import type { AnyRow, KindName, Value } from "../model/dictionary.ts";
import type { ChangeEntryTable } from "../schema/database.ts";
import type { Reader } from "./handle.ts";
import { FIELD_NAMES } from "./relations.ts";

export type Entry = Omit<ChangeEntryTable, "change_set_id" | "seq">;
export type StoredEntry = ChangeEntryTable;

/** Above so many inserts, updates or deletes of a kind in one change set, entries stand for ranges and pages. */
export const MANY = 1000;
/** Greatest number of rows in one page, and of ids from first to last in one entry: it bounds the search for a record. */
export const PAGE_ROWS = 1000;
export const SPAN = 10_000;

type Values = Readonly<Record<string, Value>>;

export const insertEntry = (kind: KindName, id: number): Entry => ({
  kind,
  op: "insert",
  record_id: id,
  last_id: id,
  data: null,
});

export function updateEntry(kind: KindName, current: AnyRow, values: Values): Entry {
  const data: Record<string, [Value, Value]> = {};
  for (const field in values) data[field] = [current[field] ?? null, values[field] as Value];
  return { kind, op: "update", record_id: current.id, last_id: current.id, data: JSON.stringify(data) };
}

/** The whole row but `id`, `rev` and the sort key; what is not known is left out. */
export function deleteEntry(kind: KindName, current: AnyRow): Entry {
  const data: Record<string, Value> = {};
  for (const field of FIELD_NAMES[kind]) {
    const value = current[field] ?? null;
    if (value !== null) data[field] = value;
  }
  return { kind, op: "delete", record_id: current.id, last_id: current.id, data: JSON.stringify(data) };
}

/** Runs of ids, ascending, none longer than an entry may span. */
export function rangeEntries(kind: KindName, ids: Iterable<number>): Entry[] {
  const entries: Entry[] = [];
  let first = 0;
  let last = -1;
  const close = () => {
    if (last > 0) entries.push({ kind, op: "insert_range", record_id: first, last_id: last, data: null });
  };
  for (const id of ids) {
    if (id === last + 1 && id - first < SPAN) last = id;
    else {
      close();
      first = last = id;
    }
  }
  close();
  return entries;
}

interface Page {
  readonly fields: readonly string[];
  readonly columns: readonly (readonly Value[])[];
}

/** Pages of whole rows by column; a column in which nothing is known is left out. Rows come with ids ascending. */
export function pageEntries(kind: KindName, rows: readonly AnyRow[]): Entry[] {
  const entries: Entry[] = [];
  for (let from = 0; from < rows.length; ) {
    const first = (rows[from] as AnyRow).id;
    let to = from + 1;
    while (to < rows.length && to - from < PAGE_ROWS && (rows[to] as AnyRow).id - first < SPAN) to++;
    const page = rows.slice(from, to);
    const fields: string[] = [];
    const columns: Value[][] = [];
    for (const field of ["id", ...FIELD_NAMES[kind]]) {
      const column = page.map((row) => row[field] ?? null);
      if (column.every((value) => value === null)) continue;
      fields.push(field);
      columns.push(column);
    }
    const data = JSON.stringify({ fields, columns } satisfies Page);
    entries.push({ kind, op: "delete_page", record_id: first, last_id: (page.at(-1) as AnyRow).id, data });
    from = to;
  }
  return entries;
}

/** An update on its way into history. */
export interface Updated {
  readonly id: number;
  readonly values: Values;
  readonly current: AnyRow;
}

interface UpdatePage {
  readonly ids: readonly number[];
  readonly fields: readonly string[];
  readonly before: readonly (readonly Value[])[];
  readonly after: readonly (readonly Value[])[];
}

/** A page lists neighbours: whoever reads the range from its first to its last record reads little in vain. */
const GAP = 16;

/** Pages of updates that change the same fields of records close to each other; one by itself is an entry of its own. */
export function updateEntries(kind: KindName, updates: Iterable<Updated>): Entry[] {
  const alike = Map.groupBy(updates, ({ values }) => Object.keys(values).join(" "));
  return [...alike].flatMap(([names, own]) => {
    const entries: Entry[] = [];
    own.sort((a, b) => a.id - b.id);
    for (let from = 0; from < own.length; ) {
      let to = from + 1;
      while (to < own.length && to - from < PAGE_ROWS && idAt(own, to) - idAt(own, to - 1) <= GAP) to++;
      entries.push(updatePage(kind, names.split(" "), own.slice(from, to)));
      from = to;
    }
    return entries;
  });
}

const idAt = (rows: readonly Updated[], at: number): number => (rows[at] as Updated).id;

function updatePage(kind: KindName, fields: readonly string[], rows: readonly Updated[]): Entry {
  const [only] = rows as [Updated];
  if (rows.length === 1) return updateEntry(kind, only.current, only.values);
  const ids = rows.map(({ id }) => id);
  const before = fields.map((field) => rows.map(({ current }) => current[field] ?? null));
  const after = fields.map((field) => rows.map(({ values }) => values[field] as Value));
  const data = JSON.stringify({ ids, fields, before, after } satisfies UpdatePage);
  return { kind, op: "update_page", record_id: only.id, last_id: ids.at(-1) as number, data };
}

/** An entry for each record of a page of updates; any other entry as it is. */
export function* singly(entry: StoredEntry): Generator<StoredEntry> {
  if (entry.op !== "update_page") {
    yield entry;
    return;
  }
  const page = JSON.parse(entry.data ?? "") as UpdatePage;
  for (const at of page.ids.keys()) yield updateAt(entry, page, at);
}

function updateAt(entry: StoredEntry, { ids, fields, before, after }: UpdatePage, at: number): StoredEntry {
  const data = Object.fromEntries(fields.map((field, i) => [field, [before[i]?.[at] ?? null, after[i]?.[at] ?? null]]));
  const id = ids[at] as number;
  return { ...entry, op: "update", record_id: id, last_id: id, data: JSON.stringify(data) };
}

/** What an entry whose range takes in a record says of it: nothing where a page leaves it out. */
function entryAbout(entry: StoredEntry, id: number): StoredEntry | null {
  if (entry.op === "delete_page") return deletedRows(entry).some((row) => row.id === id) ? entry : null;
  if (entry.op !== "update_page") return entry;
  const page = JSON.parse(entry.data ?? "") as UpdatePage;
  const at = page.ids.indexOf(id);
  return at < 0 ? null : updateAt(entry, page, at);
}

/** The rows of a deletion, with their ids; fields that were not known are null. */
export function deletedRows(entry: Entry): { id: number; values: Record<string, Value> }[] {
  const unknown: Record<string, Value> = Object.fromEntries(FIELD_NAMES[entry.kind].map((field) => [field, null]));
  if (entry.op === "delete")
    return [{ id: entry.record_id, values: { ...unknown, ...JSON.parse(entry.data ?? "{}") } }];
  if (entry.op !== "delete_page") return [];
  const { fields, columns } = JSON.parse(entry.data ?? "") as Page;
  const ids = (columns[fields.indexOf("id")] ?? []) as number[];
  return ids.map((id, at) => {
    const values = { ...unknown };
    fields.forEach((field, i) => {
      if (field !== "id") values[field] = columns[i]?.[at] ?? null;
    });
    return { id, values };
  });
}

export const changedFields = (entry: Entry): Record<string, [Value, Value]> =>
  entry.op === "update" ? JSON.parse(entry.data ?? "{}") : {};

/** Entries that touch one record, newest first, of change sets after `since`. */
export async function entriesOf(reader: Reader, kind: KindName, id: number, since = 0): Promise<StoredEntry[]> {
  const entries = await reader.rows<StoredEntry>(
    `SELECT * FROM change_entry
     WHERE kind = ? AND record_id BETWEEN ? AND ? AND last_id >= ? AND change_set_id > ?
     ORDER BY change_set_id DESC, seq DESC`,
    [kind, id - SPAN, id, id, since],
  );
  return entries.flatMap((entry) => entryAbout(entry, id) ?? []);
}

const TOUCHING = `SELECT DISTINCT e.change_set_id, e.seq FROM json_each(?) AS wanted
  JOIN change_entry AS e ON e.kind = ? AND e.record_id BETWEEN wanted.value - ${SPAN} AND wanted.value
    AND e.last_id >= wanted.value`;

/** The change sets that touched any of the records of a kind. */
export async function setsTouching(reader: Reader, kind: KindName, ids: readonly number[]): Promise<Set<number>> {
  const list = JSON.stringify(ids);
  const entries = await reader.rows<StoredEntry>(
    `SELECT change_set_id, seq, kind, op, record_id, last_id,
       CASE WHEN op IN ('update_page', 'delete_page') THEN data END AS data
     FROM change_entry WHERE (change_set_id, seq) IN (${TOUCHING})`,
    [list, kind],
  );
  const sets = new Set<number>();
  for (const entry of entries) if (!sets.has(entry.change_set_id) && touches(entry, ids)) sets.add(entry.change_set_id);
  return sets;
}

/** Of a page only what it lists was touched, not all from its first record to its last. */
function touches(entry: StoredEntry, ids: readonly number[]): boolean {
  if (entry.op !== "update_page" && entry.op !== "delete_page") return true;
  const listed =
    entry.op === "update_page"
      ? (JSON.parse(entry.data ?? "") as UpdatePage).ids
      : deletedRows(entry).map(({ id }) => id);
  const touched = new Set(listed);
  return ids.some((id) => touched.has(id));
}
