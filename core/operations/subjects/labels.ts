/** Labels to be made: which, what stands on them, how they lie on a sheet, and that they were printed. */
import { z } from "zod";
import { labelPrintedInput, planLabelPrinted } from "../../act/label-printed.ts";
import { type LabelsAsked, labelsAsked } from "../../labels/chosen.ts";
import { cornerOf, perPage, placeOf } from "../../labels/pages.ts";
import { labelPaper, layOut, outlinePaper, unplaced } from "../../labels/print.ts";
import { readSheets, sheetFaults } from "../../labels/sheets.ts";
import { MOST_LABELS } from "../../labels/what.ts";
import { readWordings, USUAL_WORDINGS } from "../../labels/wordings.ts";
import { KINDS, type KindName } from "../../model/dictionary.ts";
import { LABEL_BLANKS, LABEL_CLASS_NAMES } from "../../model/label-blanks.ts";
import { LABELLED } from "../../model/labelled.ts";
import { shownDay } from "../../model/wording.ts";
import { PAPER_SIZES } from "../../paper/document.ts";
import { refuse } from "../../result.ts";
import { windowOf } from "../../store/window.ts";
import { withArticle } from "../../words/phrase.ts";
import { say } from "../../words/say.ts";
import { type Context, defineRead, defineWrite } from "../define.ts";
import { address } from "../inputs.ts";
import { selectionInput, selectionOf } from "./records.ts";

const labelClass = z.enum(LABEL_CLASS_NAMES as [(typeof LABEL_CLASS_NAMES)[number], ...typeof LABEL_CLASS_NAMES]);

/** Which labels: of things named, of what a table shows, or all that are needed. */
export const labelsInput = {
  of: z
    .array(address)
    .min(1, say`names nothing`)
    .max(200)
    .optional()
    .describe(
      say`Things by their addresses: a cable (each end and each access), a panel with its ports, a closure with its trays, a pathway with its pipes, a space or building with what is in it. Without it, and without a table: whatever needs a label.`,
    ),
  table: z.strictObject(selectionInput).optional().describe(say`The records of one kind that a table shows, filtered.`),
  at: address.optional().describe(say`Only labels at this space.`),
  only: z.array(labelClass).min(1).optional().describe(say`Only labels of these classes.`),
  needed: z
    .boolean()
    .optional()
    .describe(say`Only those that are not on record, due, not printed, or say something else now.`),
  template: z
    .string()
    .trim()
    .min(1)
    .max(120)
    .optional()
    .describe(say`A label template by its name, used wherever its class fits.`),
  draft: z
    .strictObject({
      place: labelClass,
      text: z.string().max(400),
      code: z.enum(["qr", "data_matrix", "none"]),
    })
    .optional()
    .describe(say`A wording to be tried before it is kept.`),
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
    refuse("bad_input", say`No label is made for ${withArticle(KINDS[table.kind].one)}.`, [
      { field: "table.kind", reason: say`is ${table.kind}: must be one of ${LABELLED.join(", ")}` },
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
  help: say`Labels to be made: each with its record and place, what stands on it, whether one is on record there, and why it is to be made.`,
  input: labelsShape,
  run: async (context, input) => {
    const labels = await labelsAsked(context, await asLabelsAsked(context, input));
    return { labels, count: labels.length, needed: labels.filter(({ needed }) => needed !== null).length };
  },
});

async function wordingsInUse(reader: Context["reader"]) {
  const { all, patterns } = await readWordings(reader);
  return { wordings: all, patterns: patterns.current };
}

export const labelWordings = defineRead({
  name: "label.wordings",
  help: say`The wording in use for each class of label, the plant's own first; and the blanks a wording may have.`,
  input: z.strictObject({}),
  run: async ({ reader }) => ({
    ...(await wordingsInUse(reader)),
    usual: USUAL_WORDINGS,
    blanks: Object.entries(LABEL_BLANKS).map(([name, means]) => ({ name, means })),
  }),
});

const shift = z.number().min(-50).max(50);
const scale = z.number().min(0.9).max(1.1);

/** How labels lie: on which sheet, from which place, and what this printer does to a page. */
const onPaper = {
  sheet: z.string().trim().min(1).max(120).optional().describe(say`A label sheet or tape by its name.`),
  paper: z
    .enum(PAPER_SIZES)
    .optional()
    .describe(say`Where no sheet is named: the paper the printer takes, which has a usual sheet of labels.`),
  start: z
    .int()
    .min(1)
    .max(20_000)
    .optional()
    .describe(say`The first label of the sheet that is still free; 1 unless said.`),
  smaller: z
    .boolean()
    .optional()
    .describe(say`Lets type go below the usual size where a label needs it, down to the least.`),
  printer: z
    .strictObject({
      shift_x_mm: shift.optional().describe(say`Moves everything to the right.`),
      shift_y_mm: shift.optional().describe(say`Moves everything down.`),
      scale_x: scale.optional().describe(say`1.01 where all comes out a hundredth too narrow.`),
      scale_y: scale.optional().describe(say`1.01 where all comes out a hundredth too low.`),
      dots_per_inch: z
        .int()
        .min(100)
        .max(2400)
        .optional()
        .describe(say`Squares of a code are whole dots; 300 unless said.`),
    })
    .optional(),
};

export const labelSheets = defineRead({
  name: "label.sheets",
  help: say`The label sheets and tapes that can be chosen, by their measures, and why one can't be used.`,
  input: z.strictObject({}),
  run: async ({ reader }) => ({
    sheets: (await readSheets(reader)).map((sheet) => ({
      ...sheet,
      per_page: perPage(sheet),
      faults: sheetFaults(sheet),
    })),
  }),
});

/** Of a tape, on which each label is a page, so many are answered in full. */
const TAPE_SHOWN = 20;

export const labelLay = defineRead({
  name: "label.lay",
  help: say`Labels laid out on a sheet: where each lies, what doesn't fit and by how much, and one page or label drawn in full.`,
  input: z.strictObject({
    ...labelsInput,
    ...onPaper,
    page: z
      .int()
      .min(0)
      .max(20_000)
      .optional()
      .describe(say`The page whose labels are answered in full, from 0; the first unless said.`),
    show: z
      .int()
      .min(0)
      .max(20_000)
      .optional()
      .describe(say`A label, by its number in the list from 0, that is answered in full.`),
  }),
  run: async (context, { sheet: name, paper, start: from, smaller, printer, page = 0, show, ...asked }) => {
    const labels = await labelsAsked(context, await asLabelsAsked(context, asked));
    const {
      sheet,
      start,
      labels: placed,
      cures,
    } = await layOut(context, labels, { sheet: name, paper, start: from, smaller, printer });
    const pagesShown = sheet.form === "tape" ? TAPE_SHOWN : 1;
    const last = placed.findLast(({ place }) => place !== null)?.place ?? null;
    return {
      sheet: { ...sheet, per_page: perPage(sheet) },
      start,
      pages: last === null ? 0 : placeOf(sheet, last).page + 1,
      fit: placed.filter(({ place }) => place !== null).length,
      problems: unplaced(placed),
      cures,
      labels: placed.map(({ label, laid, place }, index) => {
        const at = place === null ? null : placeOf(sheet, place);
        return {
          ...label,
          at: at && { ...at, ...cornerOf(sheet, at.row, at.column) },
          over: laid?.over ?? [],
          type_mm: laid?.type_mm ?? null,
          laid: index === show || (at && at.page >= page && at.page < page + pagesShown) ? laid : null,
        };
      }),
    };
  },
});

export const labelPrint = defineRead({
  name: "label.print",
  help: say`Labels on their sheets as a document to be printed. One that doesn't fit, or can't be worded, is refused by name, unless such are to be left out.`,
  input: z.strictObject({
    ...labelsInput,
    ...onPaper,
    leave_out: z.boolean().optional().describe(say`Prints the others where some don't fit or can't be worded.`),
  }),
  run: async (context, { sheet, paper, start, smaller, printer, leave_out, ...asked }) => {
    const labels = await labelsAsked(context, await asLabelsAsked(context, asked));
    const laid = await layOut(context, labels, { sheet, paper, start, smaller, printer });
    const [only, ...others] = new Set(labels.map(({ record }) => record));
    const title =
      only !== undefined && others.length === 0 ? say`Labels for ${only}` : say`Labels, ${shownDay(context.today)}`;
    return labelPaper(laid, title, context.today, leave_out ?? false);
  },
});

export const labelOutline = defineRead({
  name: "label.outline",
  help: say`A test page: the outline of each label of a sheet with its number, and rules to be measured.`,
  input: z.strictObject({ sheet: onPaper.sheet, paper: onPaper.paper, printer: onPaper.printer }),
  run: (context, asked) => outlinePaper(context, asked),
});

export const labelPrinted = defineWrite({
  name: "label.printed",
  help: say`Records labels as printed: the text that was printed, nothing seen yet, nothing due.`,
  input: labelPrintedInput,
  plan: planLabelPrinted,
});
