/** What takes a change set back, read from its entries. */
import type { KindName, Value } from "../model/dictionary.ts";
import { changedFields, deletedRows, type StoredEntry, singly } from "./entries.ts";
import type { Reader } from "./handle.ts";
import type { Change } from "./plan.ts";

export interface Range {
  readonly kind: KindName;
  readonly first: number;
  readonly last: number;
}
/** A page of deleted rows, read from its entry when it is needed: a large deletion has many. */
export interface PageRef extends Range {
  readonly seq: number;
}

export interface Inverse {
  /** The change set it takes back. */
  readonly of: number;
  readonly changes: readonly Change[];
  /** What each updated field must be now, for the change set to be what made it so. */
  readonly expected: readonly { readonly kind: KindName; readonly id: number; readonly after: Record<string, Value> }[];
  /** New rows to be deleted, in the order in which they were inserted. */
  readonly ranges: readonly Range[];
  readonly pages: readonly PageRef[];
}

type Touched = { readonly change: Change; readonly after: Record<string, Value> | null };

export async function inverseOf(reader: Reader, changeSet: number): Promise<Inverse> {
  const ranges: Range[] = [];
  const pages: PageRef[] = [];
  const touched = new Map<string, Touched | null>();
  const isNew = (kind: KindName, id: number) =>
    ranges.some((range) => range.kind === kind && range.first <= id && id <= range.last);

  for (let seq = 0; ; ) {
    const entries = await reader.rows<StoredEntry>(
      `SELECT change_set_id, seq, kind, op, record_id, last_id, CASE WHEN op = 'delete_page' THEN NULL ELSE data END AS data
       FROM change_entry WHERE change_set_id = ? AND seq > ? ORDER BY seq LIMIT 5000`,
      [changeSet, seq],
    );
    for (const entry of entries) {
      const { kind, record_id: id } = entry;
      if (entry.op === "insert_range") ranges.push({ kind, first: id, last: entry.last_id });
      else if (entry.op === "delete_page") pages.push({ kind, first: id, last: entry.last_id, seq: entry.seq });
      // What happened to a row after it was inserted by the same change set goes with the row.
      else
        for (const one of singly(entry)) {
          if (isNew(kind, one.record_id)) continue;
          const key = `${kind} ${one.record_id}`;
          touched.set(key, invert(one, touched.get(key)));
        }
    }
    const last = entries.at(-1);
    if (!last) break;
    seq = last.seq;
  }
  const steps = [...touched.values()].filter((step) => step !== null);
  return {
    of: changeSet,
    changes: steps.map((step) => step.change),
    expected: steps.flatMap(({ change, after }) => (after ? [{ kind: change.kind, id: change.id, after }] : [])),
    ranges,
    pages,
  };
}

/** The inverse of one entry, folded into that of the entries before it; null when nothing is left to take back. */
function invert(entry: StoredEntry, before: Touched | null | undefined): Touched | null {
  const { kind, record_id: id } = entry;
  const inserted = before?.change.op === "delete";
  if (entry.op === "insert") return { change: { op: "delete", kind, id }, after: null };
  if (entry.op === "delete") {
    if (inserted) return null;
    const [row] = deletedRows(entry);
    const earlier = before?.change.op === "update" ? before.change.values : {};
    return { change: { op: "insert", kind, id, values: { ...row?.values, ...earlier } }, after: null };
  }
  if (inserted) return before ?? null;
  const values: Record<string, Value> = {};
  const after: Record<string, Value> = { ...before?.after };
  for (const [field, [was, is]] of Object.entries(changedFields(entry))) {
    values[field] = was;
    after[field] = is;
  }
  const earlier = before?.change.op === "update" ? before.change.values : {};
  return { change: { op: "update", kind, id, values: { ...values, ...earlier } }, after };
}
