/** The history of a strand is that of its glass: its sections, and what joins, lands, measures or uses them, or once did. */
import type { KindName } from "../model/dictionary.ts";
import { deletedRows, type StoredEntry } from "../store/entries.ts";
import type { Reader } from "../store/handle.ts";
import { IDS, named, REFERRERS } from "../store/relations.ts";

interface RecordId {
  readonly kind: KindName;
  readonly id: number;
}

/** The strands with everything that belongs to their glass. What was deleted counts too; what was moved to other glass doesn't. */
export async function glassOf(reader: Reader, strands: readonly number[]): Promise<RecordId[]> {
  const found = new Map<string, RecordId>();
  const add = (kind: KindName, id: number) => found.set(`${kind} ${id}`, { kind, id });
  for (const id of strands) add("strand", id);
  const sections = await referring(reader, "section", "strand_id", strands);
  for (const id of sections) add("section", id);
  for (const { kind, field } of REFERRERS.section)
    for (const id of await referring(reader, kind, field, sections)) add(kind, id);
  return [...found.values()];
}

/** Records that refer to any of the targets, on record or deleted. */
async function referring(reader: Reader, kind: KindName, field: string, targets: readonly number[]): Promise<number[]> {
  const list = JSON.stringify(targets);
  const there = await reader.rows<{ id: number }>(`SELECT id FROM ${named(kind)} WHERE ${named(field)} IN ${IDS}`, [
    list,
  ]);
  const deleted = await reader.rows<{ id: number }>(
    `SELECT record_id AS id FROM change_entry
     WHERE kind = ? AND op = 'delete' AND json_extract(data, '$.' || ?) IN ${IDS}`,
    [kind, field, list],
  );
  const pages = await reader.rows<StoredEntry>("SELECT * FROM change_entry WHERE kind = ? AND op = 'delete_page'", [
    kind,
  ]);
  const wanted = new Set<unknown>(targets);
  const paged = pages.flatMap((page) => deletedRows(page).filter(({ values }) => wanted.has(values[field])));
  return [...new Set([...there, ...deleted, ...paged].map(({ id }) => id))];
}
