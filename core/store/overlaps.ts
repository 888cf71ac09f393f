/** Records that two change sets both touched. */
import type { KindName } from "../model/dictionary.ts";
import { deletedRows, SPAN, type StoredEntry, updatedIds } from "./entries.ts";
import type { Reader } from "./handle.ts";
import { IDS } from "./relations.ts";

export interface Overlap {
  readonly kind: KindName;
  readonly id: number;
  /** The other change set. */
  readonly change_set: number;
}

interface Pair {
  kind: KindName;
  seq: number;
  op: StoredEntry["op"];
  first: number;
  last: number;
  other: number;
  other_seq: number;
  other_op: StoredEntry["op"];
}

const PAIRS = `
  SELECT a.kind AS kind, a.seq AS seq, a.op AS op, max(a.record_id, b.record_id) AS first, min(a.last_id, b.last_id) AS last,
         b.change_set_id AS other, b.seq AS other_seq, b.op AS other_op
  FROM change_entry a JOIN change_entry b
    ON b.kind = a.kind AND b.record_id BETWEEN a.record_id - ${SPAN} AND a.last_id AND b.last_id >= a.record_id
  WHERE a.change_set_id = ? AND b.change_set_id IN ${IDS}
  ORDER BY b.change_set_id DESC, b.seq`;

/** What `changeSet` and any of `others` touched, up to some hundred records. */
export async function overlaps(reader: Reader, changeSet: number, others: readonly number[]): Promise<Overlap[]> {
  if (others.length === 0) return [];
  const found: Overlap[] = [];
  for (const pair of await reader.rows<Pair>(PAIRS, [changeSet, JSON.stringify(others)])) {
    const own = await listed(reader, changeSet, pair.seq, pair.op);
    const their = await listed(reader, pair.other, pair.other_seq, pair.other_op);
    const id = firstCommon(pair, own, their);
    if (id !== null) found.push({ kind: pair.kind, id, change_set: pair.other });
    if (found.length >= 200) break;
  }
  return found;
}

function firstCommon({ first, last }: Pair, own: Set<number> | null, their: Set<number> | null): number | null {
  for (const id of own ?? their ?? [first])
    if (id >= first && id <= last && (!own || own.has(id)) && (!their || their.has(id))) return id;
  return null;
}

/** The ids that a page lists, which may be only some of those it spans; null for an entry that touches all it spans. */
async function listed(
  reader: Reader,
  changeSet: number,
  seq: number,
  op: StoredEntry["op"],
): Promise<Set<number> | null> {
  if (op !== "delete_page" && op !== "update_page") return null;
  const [entry] = await reader.rows<StoredEntry>("SELECT * FROM change_entry WHERE change_set_id = ? AND seq = ?", [
    changeSet,
    seq,
  ]);
  if (!entry) return new Set();
  return new Set(op === "delete_page" ? deletedRows(entry).map(({ id }) => id) : updatedIds(entry));
}
