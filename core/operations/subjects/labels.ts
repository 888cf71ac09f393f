/** Labels to be made: which, and what stands on them. */
import { z } from "zod";
import { type LabelsAsked, labelsAsked } from "../../labels/chosen.ts";
import { LABELLED, MOST_LABELS } from "../../labels/what.ts";
import { readWordings, USUAL_WORDINGS } from "../../labels/wordings.ts";
import { KINDS, type KindName } from "../../model/dictionary.ts";
import { LABEL_BLANKS, LABEL_CLASS_NAMES } from "../../model/label-blanks.ts";
import { refuse } from "../../result.ts";
import { windowOf } from "../../store/window.ts";
import { type Context, defineRead } from "../define.ts";
import { selectionInput, selectionOf } from "./records.ts";

const address = z.string().trim().min(1, "is empty").max(400, "is longer than 400 characters");
const labelClass = z.enum(LABEL_CLASS_NAMES as [(typeof LABEL_CLASS_NAMES)[number], ...typeof LABEL_CLASS_NAMES]);

/** Which labels: of things named, of what a table shows, or all that are needed. */
export const labelsInput = {
  of: z
    .array(address)
    .min(1, "names nothing")
    .max(200)
    .optional()
    .describe(
      "Things by their addresses: a cable (each end and each access), a panel with its ports, a closure with its trays, a pathway with its pipes, a space or building with what is in it. Without it, and without a table: whatever needs a label.",
    ),
  table: z.strictObject(selectionInput).optional().describe("The records of one kind that a table shows, filtered."),
  at: address.optional().describe("Only labels at this space."),
  only: z.array(labelClass).min(1).optional().describe("Only labels of these classes."),
  needed: z
    .boolean()
    .optional()
    .describe("Only those that are not on record, due, not printed, or say something else now."),
  template: z
    .string()
    .trim()
    .min(1)
    .max(120)
    .optional()
    .describe("A label template by its name, used wherever its class fits."),
  draft: z
    .strictObject({
      place: labelClass,
      text: z.string().max(400),
      code: z.enum(["qr", "data_matrix", "none"]),
    })
    .optional()
    .describe("A wording to be tried before it is kept."),
};
const labelsShape = z.strictObject(labelsInput);

/** A table's records are read page by page. */
const PAGE = 5000;

export async function asLabelsAsked(
  { reader, cache }: Context,
  { table, ...asked }: z.output<typeof labelsShape>,
): Promise<LabelsAsked> {
  if (!table) return asked;
  const kinds: readonly KindName[] = LABELLED;
  if (!kinds.includes(table.kind)) {
    refuse("bad_input", `A ${KINDS[table.kind].one} gets no label.`, [
      { field: "table.kind", reason: `is ${table.kind}: must be one of ${LABELLED.join(", ")}` },
    ]);
  }
  const selection = await selectionOf(reader, table);
  const ids: number[] = [];
  for (let offset = 0; ; offset += PAGE) {
    const { rows, total } = await windowOf(reader, cache, selection, offset, PAGE, []);
    ids.push(...rows.map(({ id }) => id));
    if (offset + PAGE >= total || ids.length > MOST_LABELS) break;
  }
  return { ...asked, rows: { kind: table.kind, ids } };
}

export const labelList = defineRead({
  name: "label.list",
  help: "Labels to be made: each with its record and place, what stands on it, whether one is on record there, and why it is to be made.",
  input: labelsShape,
  run: async (context, input) => {
    const labels = await labelsAsked(context, await asLabelsAsked(context, input));
    return { labels, count: labels.length, needed: labels.filter(({ needed }) => needed !== null).length };
  },
});

export const labelWordings = defineRead({
  name: "label.wordings",
  help: "The wording in use for each class of label, the plant's own first; and the blanks a wording may have.",
  input: z.strictObject({}),
  run: async ({ reader }) => ({
    wordings: (await readWordings(reader)).all,
    usual: USUAL_WORDINGS,
    blanks: Object.entries(LABEL_BLANKS).map(([name, means]) => ({ name, means })),
  }),
});
