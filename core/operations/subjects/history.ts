/** What was changed, by whom and why; and taking it back. */
import { z } from "zod";
import { isDay } from "../../model/check-values.ts";
import { idOf } from "../../store/given.ts";
import { listHistory, showHistory } from "../../store/history.ts";
import { defineRead, defineWrite } from "../define.ts";
import { kindInput, recordInput } from "./records.ts";

const day = z.string().refine(isDay, "a day is written YYYY-MM-DD");
const changeSet = z.number().int().positive();

export const historyList = defineRead({
  name: "history.list",
  help: "Changes, the newest first, by record, day, author or act.",
  input: z.strictObject({
    record: z.strictObject({ kind: kindInput, id: recordInput }).optional(),
    since: day.optional(),
    until: day.optional(),
    author: z.string().max(80).optional(),
    act: z.string().max(80).optional(),
    before: changeSet.optional(),
    limit: z.number().int().min(1).max(500).default(50),
  }),
  run: async ({ reader }, { record, ...filter }) =>
    listHistory(reader, {
      ...filter,
      record: record && { kind: record.kind, id: await idOf(reader, record.kind, record.id) },
    }),
});

export const historyShow = defineRead({
  name: "history.show",
  help: "One change with everything it did, before and after, in words.",
  input: z.strictObject({
    id: changeSet,
    from: z.strictObject({ seq: z.number().int().positive(), id: z.number().int().positive() }).optional(),
    limit: z.number().int().min(1).max(500).default(100),
  }),
  run: ({ reader }, { id, from, limit }) => showHistory(reader, id, from ?? null, limit),
});

const restoreInput = z.strictObject({
  /** A change of the history; without it the last one. */
  change_set: changeSet.optional(),
});

export const historyUndo = defineWrite({
  name: "history.undo",
  help: "Takes back the last change that is in effect, or a given one that nothing later touched.",
  input: restoreInput,
  plan: async ({ progress }, { change_set: target }) => ({
    summary: "Undo",
    changes: [],
    answer: null,
    restores: { verb: "undo", progress, ...(target === undefined ? {} : { target }) },
  }),
});

export const historyRedo = defineWrite({
  name: "history.redo",
  help: "Brings back the last change that was undone, or a given one whose records nothing else touched since.",
  input: restoreInput,
  plan: async ({ progress }, { change_set: target }) => ({
    summary: "Redo",
    changes: [],
    answer: null,
    restores: { verb: "redo", progress, ...(target === undefined ? {} : { target }) },
  }),
});
