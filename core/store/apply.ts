/** Writes a prepared draft: rows, their sort keys and their history entries. */
import { type AnyRow, KIND_NAMES, KINDS, type KindName, type Value } from "../model/dictionary.ts";
import type { Digest } from "../model/digest.ts";
import type { Field } from "../model/field.ts";
import { naturalKey } from "../model/natural-key.ts";
import type { Draft, KindDraft } from "./draft.ts";
import {
  deleteEntry,
  type Entry,
  insertEntry,
  MANY,
  pageEntries,
  rangeEntries,
  updateEntries,
  updateEntry,
} from "./entries.ts";
import type { Writer } from "./handle.ts";
import { COLUMNS, FIELD_NAMES, IDS, named, SQL, UNIQUE_KEY } from "./relations.ts";
import type { Parked } from "./unique.ts";

type Values = Readonly<Record<string, Value>>;

const sortKey = (tag: Value | undefined): Value => (typeof tag === "string" ? naturalKey(tag) : null);

/** Adds the parameters of a kind's insert statement; values by name, or all in the order of the kind's fields. */
function addParameters(to: Value[], kind: KindName, id: number, rev: number, values: Values | readonly Value[]): void {
  to.push(id, rev);
  if (isList(values)) {
    const tag = TAG_AT[kind];
    for (let i = 0; i < values.length; i++) {
      to.push(values[i] as Value);
      if (i === tag) to.push(sortKey(values[i]));
    }
    return;
  }
  for (const column of COLUMNS[kind]) to.push(column === "tag_key" ? sortKey(values.tag) : (values[column] ?? null));
}

const isList = (values: Values | readonly Value[]): values is readonly Value[] => Array.isArray(values);
/** Place of the tag among a kind's fields, or -1: its sort key is the column behind it. */
const TAG_AT = Object.fromEntries(KIND_NAMES.map((kind) => [kind, FIELD_NAMES[kind].indexOf("tag")])) as Readonly<
  Record<KindName, number>
>;

/**
 * Writes the draft: what goes first, then changes, then what is new, so that a key that is given up can be taken.
 * Foreign keys are held at the commit. The digest takes in what the content is afterwards.
 */
export async function writeDraft(
  writer: Writer,
  draft: Draft,
  parked: Parked,
  rev: number,
  digest: Digest,
): Promise<Entry[]> {
  const entries: Entry[] = [];
  for (const part of draft.values()) await writeDeletes(writer, part, entries, digest);
  for (const [kind, ids] of parked) await stepAside(writer, kind, ids);
  for (const part of draft.values()) await writeUpdates(writer, part, parked.get(part.kind), rev, entries, digest);
  for (const part of draft.values()) await writeInserts(writer, part, rev, entries, digest);
  return entries;
}

async function writeDeletes(writer: Writer, part: KindDraft, entries: Entry[], digest: Digest): Promise<void> {
  const { kind, deletes } = part;
  if (deletes.size === 0) return;
  const rows: AnyRow[] = [...deletes.values()].map((one) => one.current);
  if (rows.length > MANY)
    entries.push(
      ...pageEntries(
        kind,
        rows.sort((a, b) => a.id - b.id),
      ),
    );
  else for (const row of rows) entries.push(deleteEntry(kind, row));
  const ids = JSON.stringify([...deletes.keys()]);
  await writer.run(`DELETE FROM ${named(kind)} WHERE id IN ${IDS}`, [ids]);
  digest.update(`-${kind}${ids}\n`);
}

/** Gives rows whose key is about to be taken one that nobody can have. */
async function stepAside(writer: Writer, kind: KindName, ids: ReadonlySet<number>): Promise<void> {
  const name = UNIQUE_KEY[kind]?.at(-1);
  if (name === undefined) return;
  const field = (KINDS[kind].fields as Readonly<Record<string, Field>>)[name];
  const aside = field?.type === "text" ? "char(1) || id" : "-id";
  await writer.run(`UPDATE ${named(kind)} SET ${named(name)} = ${aside} WHERE id IN ${IDS}`, [
    JSON.stringify([...ids]),
  ]);
}

async function writeUpdates(
  writer: Writer,
  part: KindDraft,
  parked: ReadonlySet<number> | undefined,
  rev: number,
  entries: Entry[],
  digest: Digest,
): Promise<void> {
  const { kind, updates } = part;
  const aside = UNIQUE_KEY[kind]?.at(-1);
  // Neighbours that change the same fields share a statement.
  let fields = "";
  let each: Value[][] = [];
  const flush = async () => {
    if (each.length > 0) await writer.runEach(updateOf(kind, fields.split(" ")), each);
    each = [];
  };
  for (const { id, values, current } of updates.values()) {
    // What stepped aside takes its name back, also where only its parent changes.
    const own = aside !== undefined && parked?.has(id) ? { [aside]: current[aside] ?? null, ...values } : values;
    const parameters: Value[] = [rev];
    let names = "";
    for (const field in own) {
      const value = own[field] as Value;
      names = names === "" ? field : `${names} ${field}`;
      parameters.push(value);
      if (field === "tag") parameters.push(sortKey(value));
    }
    parameters.push(id);
    if (names !== fields) await flush();
    fields = names;
    each.push(parameters);
    if (updates.size <= MANY) entries.push(updateEntry(kind, current, values));
    digest.update(`~${kind} ${id} ${JSON.stringify(values)}\n`);
  }
  await flush();
  if (updates.size > MANY) entries.push(...updateEntries(kind, updates.values()));
}

/** Sets these fields of one row, and with the tag its sort key. */
function updateOf(kind: KindName, fields: readonly string[]): string {
  const assignments = fields.map((field) => (field === "tag" ? "tag = ?, tag_key = ?" : `${named(field)} = ?`));
  return `UPDATE ${named(kind)} SET ${["rev = ?", ...assignments].join(", ")} WHERE id = ?`;
}

async function writeInserts(
  writer: Writer,
  part: KindDraft,
  rev: number,
  entries: Entry[],
  digest: Digest,
): Promise<void> {
  const { kind, inserts } = part;
  if (inserts.size === 0) return;
  const rows = [...inserts.values()].sort((a, b) => a.id - b.id);
  await insertRows(writer, kind, rev, rows, digest);
  const ids = rows.map((row) => row.id);
  entries.push(...(ids.length > MANY ? rangeEntries(kind, ids) : ids.map((id) => insertEntry(kind, id))));
}

/** Rows a statement: one at a time costs nearly twice as much, more than this saves little. */
const ROWS = 50;
const wide = new Map<KindName, string>();

/** Inserts complete, checked rows. The digest takes them in where one is given. */
export async function insertRows(
  writer: Writer,
  kind: KindName,
  rev: number,
  rows: readonly { readonly id: number; readonly values: Values | readonly Value[] }[],
  digest?: Digest,
): Promise<void> {
  for (let from = 0; from < rows.length; ) {
    const count = rows.length - from >= ROWS ? ROWS : 1;
    const parameters: Value[] = [];
    for (let i = from; i < from + count; i++) {
      const { id, values } = rows[i] as (typeof rows)[number];
      addParameters(parameters, kind, id, rev, values);
    }
    await writer.run(count === 1 ? SQL[kind].insert : wideInsert(kind), parameters);
    // The number of columns is fixed and no text holds a separator, so this can be read in one way only.
    digest?.update(`+${kind}\u001f${parameters.join("\u001f")}\n`);
    from += count;
  }
}

function wideInsert(kind: KindName): string {
  let sql = wide.get(kind);
  if (sql === undefined) {
    const one = SQL[kind].insert;
    const row = one.slice(one.indexOf(" VALUES ") + " VALUES ".length);
    sql = `${one}${`, ${row}`.repeat(ROWS - 1)}`;
    wide.set(kind, sql);
  }
  return sql;
}

const ENTRY_COLUMNS = 7;
const entriesInto = (rows: number): string =>
  `INSERT INTO change_entry (change_set_id, seq, kind, op, record_id, last_id, data) VALUES ${Array(rows).fill("(?, ?, ?, ?, ?, ?, ?)").join(", ")}`;
const ENTRY = entriesInto(1);
const WIDE_ENTRY = entriesInto(ROWS);

/** Adds entries to a change set, numbered from `seq`. */
export async function writeEntries(
  writer: Writer,
  changeSet: number,
  seq: number,
  entries: readonly Entry[],
): Promise<void> {
  for (let from = 0; from < entries.length; ) {
    const count = entries.length - from >= ROWS ? ROWS : 1;
    const parameters: Value[] = new Array(count * ENTRY_COLUMNS);
    let at = 0;
    for (let i = from; i < from + count; i++) {
      const { kind, op, record_id, last_id, data } = entries[i] as Entry;
      for (const value of [changeSet, seq + i, kind, op, record_id, last_id, data]) parameters[at++] = value;
    }
    await writer.run(count === 1 ? ENTRY : WIDE_ENTRY, parameters);
    from += count;
  }
}
