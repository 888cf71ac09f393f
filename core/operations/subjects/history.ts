/** What was changed, by whom and why; and taking it back. */
import { z } from "zod";
import { compareMoments } from "../../history/compare.ts";
import { withParts } from "../../history/parts-of.ts";
import type { KindName } from "../../model/dictionary.ts";
import type { Picture } from "../../ports.ts";
import { resolveOne } from "../../store/addresses.ts";
import { idOf } from "../../store/given.ts";
import type { Reader } from "../../store/handle.ts";
import { listHistory, peopleOf, showHistory } from "../../store/history.ts";
import { readStrands } from "../../store/strands.ts";
import { say } from "../../words/say.ts";
import { defineLong, defineRead, defineWrite } from "../define.ts";
import { day } from "../inputs.ts";
import { kindInput, recordInput } from "./records.ts";

const changeSet = z.number().int().positive();
const recordNamed = z.strictObject({ kind: kindInput, id: recordInput });

/** The record that an address means, or a range of strands, with their parts. */
async function meantBy(reader: Reader, text: string): Promise<{ kind: KindName; id: number }[]> {
  const { readings } = await readStrands(reader, text);
  const [range] = readings;
  if (readings.length === 1 && range && range.strands.length > 1)
    return withParts(
      reader,
      "strand",
      range.strands.map(({ id }) => id),
    );
  const { kind, id } = await resolveOne(reader, text, { field: "of" });
  return withParts(reader, kind, [id]);
}

export const historyList = defineRead({
  name: "history.list",
  help: say`Changes, the newest first, by record, a selection of records, kind, words, day, author or act.`,
  input: z.strictObject({
    record: recordNamed.optional(),
    records: z.array(recordNamed).min(1).max(500).optional().describe(say`Changes that touched any of these.`),
    of: z
      .string()
      .trim()
      .min(1)
      .max(400)
      .optional()
      .describe(say`A record by its address, or a range of strands; with all that is part of it.`),
    kind: kindInput.optional().describe(say`Changes that touched a record of this kind.`),
    text: z.string().trim().min(1).max(200).optional().describe(say`What stands in the summary or the reason.`),
    since: day.optional(),
    until: day.optional(),
    author: z.string().max(80).optional(),
    act: z.string().max(80).optional(),
    before: changeSet.optional(),
    limit: z.number().int().min(1).max(500).default(50),
  }),
  run: async ({ reader }, { record, records, of, ...filter }) => {
    const known = async ({ kind, id }: z.output<typeof recordNamed>) => ({ kind, id: await idOf(reader, kind, id) });
    const named = [...(records ? await Promise.all(records.map(known)) : [])];
    if (of !== undefined) named.push(...(await meantBy(reader, of)));
    return listHistory(reader, {
      ...filter,
      record: record && (await known(record)),
      ...(named.length > 0 ? { records: named } : {}),
    });
  },
});

export const historyPeople = defineRead({
  name: "history.people",
  help: say`Who wrote in this plant, whoever wrote last first, and how many changes each.`,
  input: z.strictObject({ limit: z.number().int().min(1).max(500).default(200) }),
  run: async ({ reader }, { limit }) => ({ people: await peopleOf(reader, limit) }),
});

export const historyShow = defineRead({
  name: "history.show",
  help: say`One change with everything it did, before and after, in words.`,
  input: z.strictObject({
    id: changeSet,
    from: z.strictObject({ seq: z.number().int().positive(), id: z.number().int().positive() }).optional(),
    limit: z.number().int().min(1).max(500).default(100),
  }),
  run: ({ reader }, { id, from, limit }) => showHistory(reader, id, from ?? null, limit),
});

const moment = z.union([
  z.strictObject({ change_set: z.number().int().min(0).describe(say`After this change; 0 is before the first.`) }),
  z.strictObject({ day: day.describe(say`At the end of this day, in UTC.`) }),
  z.strictObject({ sign_off: z.union([z.number().int().positive(), z.literal("last")]) }),
]);

export const historyCompare = defineRead({
  name: "history.compare",
  help: say`Two moments compared (a change, the end of a day, or what an auditor signed): records added, changed field by field, and removed, by kind.`,
  input: z.strictObject({
    from: moment,
    to: moment.optional().describe(say`The record as it stands unless told.`),
    kinds: z.array(kindInput).min(1).optional().describe(say`Only records of these kinds.`),
    after: z
      .strictObject({ kind: kindInput, id: z.number().int().positive() })
      .optional()
      .describe(say`Where a page begins: \`next\` of the page before.`),
    limit: z.number().int().min(1).max(2000).default(200),
  }),
  run: ({ reader }, input) => compareMoments(reader, input),
});

export const historyAsOf = defineLong({
  name: "history.as_of",
  help: say`Writes the plant as it stood on a day to a new file that is only read, and says where: work done by then with every correction known now (known), or what the record said at the end of that day (recorded).`,
  writes: false,
  input: z.strictObject({
    day: day.describe(say`The day.`),
    knowledge: z.enum(["known", "recorded"]).default("known"),
    path: z.string().min(1).max(4000).optional().describe(say`The new file; beside the plant unless told.`),
  }),
  run: ({ file, occasion }, { day: on, knowledge, path }): Promise<Picture> =>
    file.asOf(on, knowledge, occasion.author, path),
});

const restoreInput = z.strictObject({
  /** A change of the history; without it the last one. */
  change_set: changeSet.optional(),
});

export const historyUndo = defineWrite({
  name: "history.undo",
  help: say`Takes back the last change that is in effect, or a given one that nothing later touched.`,
  input: restoreInput,
  plan: async ({ progress }, { change_set: target }) => ({
    summary: say`Undo`,
    changes: [],
    answer: null,
    restores: { verb: "undo", progress, ...(target === undefined ? {} : { target }) },
  }),
});

export const historyRedo = defineWrite({
  name: "history.redo",
  help: say`Brings back the last change that was undone, or a given one whose records nothing else touched since.`,
  input: restoreInput,
  plan: async ({ progress }, { change_set: target }) => ({
    summary: say`Redo`,
    changes: [],
    answer: null,
    restores: { verb: "redo", progress, ...(target === undefined ? {} : { target }) },
  }),
});
