/** Changes of many records that are planned beside the table: read and written as one act, each refusal with its record. */
import { type KindName, kindOf } from "../../core/model/dictionary.ts";
import type { Failure } from "../../core/result.ts";
import { type GridCalls, type Read, readText } from "./commit.ts";
import type { ReadingHabits } from "./reading.ts";
import type { GridRow } from "./row-source.ts";
import { keyOf } from "./typed.ts";

export interface RowChange {
  readonly row: GridRow;
  readonly field: string;
  readonly text: string;
}

export interface RefusedChange {
  readonly change: RowChange;
  /** Follows the field's label. */
  readonly reason: string;
}

export interface ChangesTold {
  readonly written: number;
  readonly refused: readonly RefusedChange[];
  /** The refusal as a whole, when the program refused. */
  readonly failure: Failure | null;
}

/** So many texts are looked up at once. */
const AT_ONCE = 200;

/** All of it or nothing; what can't be written is told, so that the others may be written when that is chosen. */
export async function changeRows(
  kind: KindName,
  changes: readonly RowChange[],
  summary: string,
  habits: ReadingHabits,
  calls: GridCalls,
): Promise<ChangesTold> {
  const reads: Read[] = [];
  for (let at = 0; at < changes.length; at += AT_ONCE)
    reads.push(
      ...(await Promise.all(
        changes.slice(at, at + AT_ONCE).map(({ row, field, text }) => {
          const known = { rev: () => row.rev, value: (_: unknown, name: string) => row.values[name] ?? null };
          return readText(kind, { row: keyOf(row.id), field, text }, habits, calls, known);
        }),
      )),
    );
  const unread = changes.flatMap((change, at): RefusedChange[] => {
    const read = reads[at];
    return read && "reason" in read ? [{ change, reason: read.reason }] : [];
  });
  if (unread.length > 0) return { written: 0, refused: unread, failure: null };
  // Several fields of one record are one change of it.
  const rows = [...Map.groupBy(changes.keys(), (at) => (changes[at] as RowChange).row.id).values()];
  const wrote = await calls.write(
    rows.map((places) => {
      const { id, rev } = (changes[places[0] as number] as RowChange).row;
      const values = Object.assign({}, ...places.map((at) => (reads[at] as { values: object }).values));
      return { op: "edit", kind, id, rev, values };
    }),
    summary,
  );
  if (wrote.is === "written") return { written: rows.length, refused: [], failure: null };
  const { failure } = wrote;
  const { fields } = kindOf(kind);
  const refused = new Map<number, RefusedChange>();
  for (const { row, field, reason } of failure.problems) {
    const places = row === undefined ? (rows.length === 1 ? rows[0] : undefined) : rows[row - 1];
    const at = places?.find((place) => {
      const name = (changes[place] as RowChange).field;
      return field === name || field === fields[name]?.label;
    });
    const place = at ?? places?.[0];
    if (place !== undefined && !refused.has(place)) refused.set(place, { change: changes[place] as RowChange, reason });
  }
  return { written: 0, refused: [...refused.values()], failure };
}
