/** Records that two change sets both touched. */
import type { KindName } from "../model/dictionary.ts";
import { changedFields, deletedRows, SPAN, type StoredEntry, singly } from "./entries.ts";
import type { Reader } from "./handle.ts";
import { IDS } from "./relations.ts";

export interface Overlap {
  readonly kind: KindName;
  readonly id: number;
  /** Fields that both changed; empty where one of them made or deleted the record. */
  readonly fields: readonly string[];
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

/**
 * Records that `changeSet` and any of `others` touched, up to some hundred. Two updates of a record meet only where they
 * changed the same field: what each says of its own fields stands by itself.
 */
export async function overlaps(reader: Reader, changeSet: number, others: readonly number[]): Promise<Overlap[]> {
  if (others.length === 0) return [];
  const found: Overlap[] = [];
  let own: Touched = null;
  let ownSeq = -1;
  for (const pair of await reader.rows<Pair>(PAIRS, [changeSet, JSON.stringify(others)])) {
    if (pair.seq !== ownSeq) own = await touchedBy(reader, changeSet, pair.seq, pair.op);
    ownSeq = pair.seq;
    const their = await touchedBy(reader, pair.other, pair.other_seq, pair.other_op);
    const met = firstCommon(pair, own, their);
    if (met) found.push({ kind: pair.kind, ...met, change_set: pair.other });
    if (found.length >= 200) break;
  }
  return found;
}

/** Records with the fields that were changed; without fields where a record came or went; null for all that is spanned. */
type Touched = ReadonlyMap<number, readonly string[] | null> | null;

function firstCommon({ first, last }: Pair, own: Touched, their: Touched): Pick<Overlap, "id" | "fields"> | null {
  for (const id of own?.keys() ?? their?.keys() ?? [first]) {
    if (id < first || id > last || (own && !own.has(id)) || (their && !their.has(id))) continue;
    const [ours, others] = [own?.get(id) ?? null, their?.get(id) ?? null];
    const fields = ours && others ? ours.filter((field) => others.includes(field)) : [];
    if (!ours || !others || fields.length > 0) return { id, fields };
  }
  return null;
}

/** What an entry touched; a page lists only some of the records that it spans. */
async function touchedBy(reader: Reader, changeSet: number, seq: number, op: StoredEntry["op"]): Promise<Touched> {
  if (op === "insert" || op === "insert_range" || op === "delete") return null;
  const [entry] = await reader.rows<StoredEntry>("SELECT * FROM change_entry WHERE change_set_id = ? AND seq = ?", [
    changeSet,
    seq,
  ]);
  if (!entry) return new Map();
  if (op === "delete_page") return new Map(deletedRows(entry).map(({ id }) => [id, null]));
  return new Map([...singly(entry)].map((one) => [one.record_id, Object.keys(changedFields(one))]));
}
