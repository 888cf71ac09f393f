/** The tables as the database has them. The record tables follow from the dictionary; the rest is history and files. */
import type { KindName, Row } from "../model/dictionary.ts";

export interface ChangeSetTable {
  id: number;
  /** When it was written, ISO 8601 in UTC. */
  at: string;
  author: string;
  reason: string | null;
  /** The operation that made it. */
  act: string;
  /** One line for people: what was done. */
  summary: string;
  /** Whether the plant changed, or the record had been wrong. */
  meaning: "change" | "correction";
  /** The day from which it holds in the plant. */
  day: string | null;
  verb: "do" | "undo" | "redo";
  /** The change set that an undo takes back or a redo brings back. */
  target_id: number | null;
  /** How many records it wrote. */
  records: number;
  /** Chained digest: of the previous change set's hash and this one's content. */
  hash: string;
}

export interface ChangeEntryTable {
  change_set_id: number;
  seq: number;
  kind: KindName;
  /** `insert_range`, `delete_page` and `update_page` stand for many records at once. */
  op: "insert" | "update" | "delete" | "insert_range" | "delete_page" | "update_page";
  /** The record, or the first of a range. */
  record_id: number;
  last_id: number;
  /**
   * JSON. insert: null (the row is its own after-image until a later entry). update: `{field: [before, after]}`.
   * delete: the whole row. delete_page: `{fields, columns}`. update_page: `{ids, fields, before, after}`, the latter
   * two by field and then by id. insert_range: null.
   */
  data: string | null;
}

export interface ContentTable {
  hash: string;
  bytes: Uint8Array;
}

export interface DeskTable {
  id: number;
  /** What form it belongs to: `run`, `sheet`. */
  form: string;
  /** What people know it by. */
  name: string;
  /** JSON: what was typed, as it was typed. */
  content: string;
  /** How often it was kept. */
  kept: number;
  /** ISO 8601 in UTC. */
  kept_at: string;
  kept_by: string;
  /** The change set by which it became a record. */
  entered: number | null;
}

/** How far another file of the plant was seen when it was merged. */
export interface MergeSeenTable {
  /** The merge. */
  change_set_id: number;
  /** The last change set of the other file, and its digest: a file that has it is the same one, or went on from it. */
  their_id: number;
  their_hash: string;
  /** JSON: by kind, runs of ids entered there and of those that stand for them here, `[theirs, ours, how many]`. */
  pairs: string;
}

export type RecordTables = { [K in KindName]: Row<K> };

export interface Database extends RecordTables {
  change_set: ChangeSetTable;
  change_entry: ChangeEntryTable;
  content: ContentTable;
  desk: DeskTable;
  merge_seen: MergeSeenTable;
}
