/** The plant as a whole: its own record, its file, and how much is on record. */
import { z } from "zod";
import { KIND_NAMES, type KindName, type Row } from "../../model/dictionary.ts";
import type { FileStatus } from "../../ports.ts";
import { refuse } from "../../result.ts";
import type { Reader } from "../../store/handle.ts";
import { headOf, nextRedo, nextUndo } from "../../store/stack.ts";
import { say } from "../../words/say.ts";
import { defineRead } from "../define.ts";

const nothing = z.strictObject({});

/** The change set written last. */
export interface LastChange {
  readonly id: number;
  /** ISO 8601 in UTC. */
  readonly at: string;
  readonly author: string;
  readonly summary: string;
}

const lastChange = async (reader: Reader): Promise<LastChange | null> => {
  const [last] = await reader.rows<LastChange>(
    "SELECT id, at, author, summary FROM change_set ORDER BY id DESC LIMIT 1",
  );
  return last ?? null;
};

/** A change that undo or redo would take on next. */
export interface NextStep {
  readonly id: number;
  readonly summary: string;
  /** Who made the change, and when: nobody takes another's work back without knowing it. */
  readonly author: string;
  readonly at: string;
}

async function stepNamed(reader: Reader, id: number | null): Promise<NextStep | null> {
  if (id === null) return null;
  const { summary, author, at } = await headOf(reader, id);
  return { id, summary, author, at };
}

export interface PlantStatus extends FileStatus {
  readonly last_change: LastChange | null;
  readonly undo: NextStep | null;
  readonly redo: NextStep | null;
}

const plantRecord = async (reader: Reader): Promise<Row<"plant">> => {
  const [plant] = await reader.rows<Row<"plant">>("SELECT * FROM plant ORDER BY id LIMIT 1");
  return plant ?? refuse("not_found", say`The file has no plant record.`);
};

export const plantRead = defineRead({
  name: "plant.read",
  help: say`The plant's own record: its name, units, wordings and policies.`,
  input: nothing,
  run: ({ reader }) => plantRecord(reader),
});

export const plantStatus = defineRead({
  name: "plant.status",
  help: say`The state of the file: whether it can be written and if not why, its last backup, its soundness, the last change, and what undo and redo would do.`,
  input: nothing,
  run: async ({ reader, file }): Promise<PlantStatus> => ({
    ...(await file.status()),
    last_change: await lastChange(reader),
    undo: await stepNamed(reader, await nextUndo(reader)),
    redo: await stepNamed(reader, await nextRedo(reader)),
  }),
});

export const plantBackup = defineRead({
  name: "plant.backup",
  help: say`Makes a backup of the file now, beside it, and says where.`,
  input: nothing,
  run: async ({ file }) => ({ path: await file.backup() }),
});

export const plantSummary = defineRead({
  name: "plant.summary",
  help: say`How many records of each kind are there, and the last change.`,
  input: nothing,
  run: async ({ reader }) => {
    const counts: { kind: KindName; count: number }[] = [];
    for (const kind of KIND_NAMES) {
      const [row] = await reader.rows<{ n: number }>(`SELECT count(*) AS n FROM "${kind}"`);
      counts.push({ kind, count: row?.n ?? 0 });
    }
    return { name: (await plantRecord(reader)).name, counts, last_change: await lastChange(reader) };
  },
});
