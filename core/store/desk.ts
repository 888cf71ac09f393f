/**
 * The desk: what was typed and is no record yet. It lies in the plant file, so that it outlives the window and the program,
 * and outside the history, since a letter typed is no change of the plant. The gateway writes it.
 */
import { type Problem, refuse } from "../result.ts";
import type { DeskTable } from "../schema/database.ts";
import { say } from "../words/say.ts";
import type { Reader, Writer } from "./handle.ts";

export type DeskItem = Omit<DeskTable, "content">;

/** What is to be kept. */
export interface ToKeep {
  readonly form: string;
  readonly name: string;
  /** JSON. */
  readonly content: string;
  /** What is kept anew; without it, it is kept beside the others. */
  readonly id?: number | undefined;
  /** How often it had been kept when it was last seen: kept more often since, it is refused as `stale`. */
  readonly seen?: number | undefined;
  /** There is one of this name in its form: an older one is kept anew. */
  readonly one?: boolean | undefined;
}

export interface Kept {
  readonly id: number;
  readonly kept: number;
}

const COLUMNS = "id, form, name, kept, kept_at, kept_by, entered";

/** What was entered stays, so that an undo doesn't lose what was typed; older ones go. */
const MOST_ENTERED = 20;

/** The newest first, without what they hold. */
export const onDesk = (reader: Reader, form: string): Promise<DeskItem[]> =>
  reader.rows<DeskItem>(`SELECT ${COLUMNS} FROM desk WHERE form = ? ORDER BY kept_at DESC, id DESC`, [form]);

/** As `onDesk`, with what they hold: for forms of which few lie there. */
export async function wholeOnDesk(reader: Reader, form: string): Promise<(DeskItem & { content: unknown })[]> {
  const rows = await reader.rows<DeskTable>(
    `SELECT ${COLUMNS}, content FROM desk WHERE form = ? ORDER BY kept_at DESC, id DESC`,
    [form],
  );
  return rows.map((row) => ({ ...row, content: JSON.parse(row.content) }));
}

const notThere = (what: string): never => {
  const problem: Problem = { field: "id", record: what, reason: say`is not on the desk; it may have been thrown away` };
  return refuse("not_found", say`${what} is not on the desk.`, [problem]);
};

/** One with what it holds. Refuses `not_found`. */
export async function deskItem(reader: Reader, form: string, id: number): Promise<DeskItem & { content: unknown }> {
  const [row] = await reader.rows<DeskTable>(`SELECT ${COLUMNS}, content FROM desk WHERE id = ? AND form = ?`, [
    id,
    form,
  ]);
  if (!row) return notThere(say`number ${id}`);
  return { ...row, content: JSON.parse(row.content) };
}

export async function keepOnDesk(writer: Writer, item: ToKeep, at: string, by: string): Promise<Kept> {
  const id = item.id ?? (item.one ? await called(writer, item) : undefined);
  if (id === undefined) {
    await writer.run("INSERT INTO desk (form, name, content, kept, kept_at, kept_by) VALUES (?, ?, ?, 1, ?, ?)", [
      item.form,
      item.name,
      item.content,
      at,
      by,
    ]);
    const [row] = await writer.rows<{ id: number }>("SELECT max(id) AS id FROM desk");
    return { id: row?.id ?? 0, kept: 1 };
  }
  const [before] = await writer.rows<{ kept: number }>("SELECT kept FROM desk WHERE id = ? AND form = ?", [
    id,
    item.form,
  ]);
  if (!before) return notThere(say`number ${id}`);
  if (item.seen !== undefined && item.seen !== before.kept)
    refuse("stale", say`${item.name} was typed on in another window. Open it again to see that.`, [
      { record: item.name, field: "seen", reason: say`was kept by another window since` },
    ]);
  const kept = before.kept + 1;
  await writer.run(
    "UPDATE desk SET name = ?, content = ?, kept = ?, kept_at = ?, kept_by = ?, entered = NULL WHERE id = ?",
    [item.name, item.content, kept, at, by, id],
  );
  return { id, kept };
}

async function called(reader: Reader, { form, name }: ToKeep): Promise<number | undefined> {
  const [row] = await reader.rows<{ id: number }>("SELECT id FROM desk WHERE form = ? AND name = ?", [form, name]);
  return row?.id;
}

export async function throwFromDesk(writer: Writer, form: string, id: number): Promise<void> {
  if ((await writer.run("DELETE FROM desk WHERE id = ? AND form = ?", [id, form])) === 0) notThere(say`number ${id}`);
}

/** It became a record by this change set. */
export async function enteredFromDesk(writer: Writer, form: string, id: number, changeSet: number): Promise<void> {
  await writer.run("UPDATE desk SET entered = ? WHERE id = ? AND form = ?", [changeSet, id, form]);
  await writer.run(
    `DELETE FROM desk WHERE id IN (SELECT id FROM desk WHERE form = ? AND entered IS NOT NULL
       ORDER BY entered DESC LIMIT -1 OFFSET ?)`,
    [form, MOST_ENTERED],
  );
}
