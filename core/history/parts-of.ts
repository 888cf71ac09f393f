/**
 * The history of a thing is that of its parts too. Its parts are what is named through it, as a cable's stops, units, strands
 * and their sections or a panel's ports and positions; what has no name of its own and rests on these, as legs, splices,
 * terminations, assignments and cords; and the labels, measurements and files of all of them. Or what once was.
 */
import { type KindName, kindOf } from "../model/dictionary.ts";
import { deletedRows, type StoredEntry } from "../store/entries.ts";
import type { Reader } from "../store/handle.ts";
import { IDS, named, REFERRERS, SUBJECTS } from "../store/relations.ts";

export interface RecordId {
  readonly kind: KindName;
  readonly id: number;
}

/** What is in these, or was planned or seen by them, stands for itself. */
const WITHOUT_PARTS: ReadonlySet<KindName> = new Set(["building", "space", "party", "visit", "job", "attachment"]);

/** A field by which records of a kind belong to what it names; the second is what says of which kind that is. */
interface Tie {
  readonly kind: KindName;
  readonly field: string;
  readonly kindField?: string;
}

function tiesTo(kind: KindName): Tie[] {
  if (WITHOUT_PARTS.has(kind)) return [];
  const through = REFERRERS[kind].filter(({ kind: part, field }) => {
    const { address } = kindOf(part);
    return address === null || address.parents.includes(field);
  });
  return [...through, ...SUBJECTS];
}

/** Records of one kind with all that is part of them. What was deleted counts too; what was moved elsewhere doesn't. */
export async function withParts(reader: Reader, kind: KindName, ids: readonly number[]): Promise<RecordId[]> {
  const found = new Map<KindName, Set<number>>([[kind, new Set(ids)]]);
  const fresh: (readonly [KindName, readonly number[]])[] = [[kind, ids]];
  for (const [of, targets] of fresh) {
    for (const tie of tiesTo(of)) {
      const known = found.get(tie.kind) ?? new Set<number>();
      const more = (await tied(reader, tie, of, targets)).filter((id) => !known.has(id));
      if (more.length === 0) continue;
      found.set(tie.kind, new Set([...known, ...more]));
      fresh.push([tie.kind, more]);
    }
  }
  return [...found].flatMap(([of, all]) => [...all].map((id) => ({ kind: of, id })));
}

/** Records tied to any of the targets, on record or deleted. */
async function tied(reader: Reader, tie: Tie, to: KindName, targets: readonly number[]): Promise<number[]> {
  const { kind, field, kindField } = tie;
  const list = JSON.stringify(targets);
  const there = await reader.rows<{ id: number }>(
    `SELECT id FROM ${named(kind)} WHERE ${named(field)} IN ${IDS}${kindField ? ` AND ${named(kindField)} = ?` : ""}`,
    kindField ? [list, to] : [list],
  );
  const gone = await reader.rows<StoredEntry>(
    `SELECT * FROM change_entry WHERE kind = ? AND (op = 'delete_page'
       OR op = 'delete' AND json_extract(data, '$.' || ?) IN ${IDS})`,
    [kind, field, list],
  );
  const wanted = new Set<unknown>(targets);
  const deleted = gone
    .flatMap(deletedRows)
    .filter(({ values }) => wanted.has(values[field]) && (kindField === undefined || values[kindField] === to));
  return [...new Set([...there, ...deleted].map(({ id }) => id))];
}
