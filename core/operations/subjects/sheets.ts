/** As-built sheets: read, mapped, rehearsed row by row, and carried out as exactly that plan. */
import { z } from "zod";
import { DELIMITERS } from "../../as-built/csv-table.ts";
import { ENCODINGS, type Encoding } from "../../as-built/decode.ts";
import {
  guessed,
  type Heading,
  headingOf,
  placesSaid,
  recognised,
  refuseUnfit,
  unitsNamed,
  unreadIn,
} from "../../as-built/mapping.ts";
import { MADE } from "../../as-built/missing.ts";
import { type SheetRehearsal, type SheetWork, sentenceOf, tryRows } from "../../as-built/rehearse.ts";
import { decimalOf } from "../../as-built/row-cells.ts";
import type { Shape } from "../../as-built/shape.ts";
import { SHAPE_NAMES, SHAPES, shapeNamed } from "../../as-built/shapes.ts";
import { type ReadSource, readSource } from "../../as-built/source.ts";
import type { SheetTable } from "../../as-built/table.ts";
import { KINDS } from "../../model/dictionary.ts";
import { CONNECTORS } from "../../model/lists.ts";
import { refuse } from "../../result.ts";
import { plural } from "../../words/counted.ts";
import { say } from "../../words/say.ts";
import { defineLong, defineRead, type LongContext } from "../define.ts";
import { fileGiven } from "../inputs.ts";
import { tryActs } from "./crew-acts.ts";

const keysOf = <V extends string>(values: Readonly<Record<V, unknown>>) => Object.keys(values) as [V, ...V[]];

const sourceInput = {
  ...fileGiven(
    say`The file's path on this machine: CSV or a workbook.`,
    say`The rows as text, where they were pasted.`,
  ),
  encoding: z.enum(keysOf(ENCODINGS)).optional().describe(say`How its letters are stored; found out where left out.`),
  delimiter: z.enum(DELIMITERS).optional().describe(say`What parts the cells; found out where left out.`),
  sheet: z.string().max(200).optional().describe(say`The worksheet; the first where left out.`),
  heading_row: z.int().min(1).max(1000).optional().describe(say`The row of the heading; found out where left out.`),
  shape: z.enum(SHAPE_NAMES).optional().describe(say`What the sheet is; found out by its heading where left out.`),
};

const mappingInput = {
  columns: z
    .record(z.string().max(60), z.string().max(400))
    .optional()
    .describe(
      say`For each column of the shape the sheet's column, by its heading or letters; by the headings where left out.`,
    ),
  fixed: z
    .record(z.string().max(60), z.string().max(400))
    .default({})
    .describe(say`What stands for every row that says nothing: the cable of a list of strands.`),
  units: z
    .record(z.string().max(60), z.enum(["m", "ft"]))
    .default({})
    .describe(say`What bare numbers of a column count.`),
  decimal: z.enum(["comma", "point"]).optional().describe(say`How decimals are written; found out where left out.`),
  days: z.enum(["day_first", "month_first"]).optional().describe(say`What 3/4/2026 means; asked where left out.`),
  create: z
    .array(
      z.strictObject({
        kind: z.enum(MADE),
        address: z.string().max(400),
        space_kind: z.enum(keysOf(KINDS.space.fields.kind.values)).optional(),
        connector: z.enum(keysOf(CONNECTORS)).optional(),
        capacity: z.int().min(1).max(1000).optional().describe(say`Splices that a tray takes.`),
      }),
    )
    .max(2000)
    .default([])
    .describe(say`Missing buildings, spaces, panels, cases, trays and circuits that are to be made, one by one.`),
  leave_out: z.array(z.int()).max(100_000).default([]).describe(say`Numbers of rows that are left out.`),
};

const readInput = z.strictObject(sourceInput);
const workInput = z.strictObject({ ...sourceInput, ...mappingInput });
type ReadInput = z.output<typeof readInput>;
type WorkInput = z.output<typeof workInput>;

/** Rows of a preview. */
const FIRST = 20;

interface Opened {
  readonly source: ReadSource;
  readonly table: SheetTable;
  readonly at: number;
  readonly heading: Heading;
  readonly shape: Shape | null;
}

async function opened(context: Pick<LongContext, "folders">, input: ReadInput): Promise<Opened> {
  const source = await readSource(context.folders, input as ReadInput & { encoding?: Encoding });
  const { tables } = source;
  const table = input.sheet === undefined ? tables[0] : tables.find(({ name }) => name === input.sheet);
  if (!table) {
    return refuse("not_found", say`${source.name} has no worksheet ${input.sheet}.`, [
      {
        field: "sheet",
        record: input.sheet ?? "",
        reason: say`must be one of ${tables.map(({ name }) => name).join(", ")}`,
      },
    ]);
  }
  const asked = input.shape === undefined ? null : (shapeNamed(input.shape) ?? null);
  const found = recognised(table.rows, asked ? [asked] : SHAPES);
  const row = input.heading_row;
  const at = row === undefined ? found.at : table.rows.findIndex((one) => one.row === row);
  if (at < 0)
    refuse("bad_input", say`Row ${row} of ${table.name} is empty.`, [
      { row: row as number, field: "heading_row", reason: say`holds no heading` },
    ]);
  return { source, table, at, heading: headingOf(table, at), shape: asked ?? found.shape };
}

const words = (heading: Heading) => heading.columns.map((column) => column.heading);

export const sheetRead = defineRead({
  name: "sheet.read",
  help: say`Reads an as-built sheet and says what it seems to be: its heading, which column is which, its first rows.`,
  input: readInput,
  run: async (context, input) => {
    const { source, table, at, heading, shape } = await opened(context, input);
    const places = shape ? guessed(shape, words(heading)) : new Map<string, number>();
    const below = table.rows.slice(at + 1);
    return {
      name: source.name,
      form: source.form,
      encoding: source.encoding,
      encodings: ENCODINGS,
      delimiter: source.delimiter,
      sheets: source.tables.map(({ name, rows }) => ({ name, rows: rows.length })),
      sheet: table.name,
      rows: below.length,
      heading,
      shape: shape?.name ?? null,
      columns: Object.fromEntries([...places].map(([name, index]) => [name, heading.columns[index]?.letters ?? ""])),
      units: shape ? Object.fromEntries(unitsNamed(shape, words(heading), places)) : {},
      decimal: decimalOf(below),
      first: below.slice(0, FIRST),
      notices: table.notices,
      shapes: SHAPES.map(({ name, title, help, columns, seen = [] }) => ({
        ...{ name, title, help, seen },
        columns: columns.map((column) => ({
          ...{ name: column.name, label: column.label, help: column.help },
          ...{ needed: column.needed === true, unit: column.unit === "length" ? column.unit : null },
        })),
      })),
    };
  },
});

async function workOf(context: LongContext, input: WorkInput): Promise<{ work: SheetWork; name: string }> {
  const { source, table, at, heading, shape } = await opened(context, {
    ...input,
  });
  if (!shape) {
    return refuse("bad_input", say`What kind of sheet is ${source.name}?`, [
      { field: "shape", reason: say`can't be told by its heading; say one of ${SHAPE_NAMES.join(", ")}` },
    ]);
  }
  const places = input.columns ? placesSaid(shape, input.columns, heading) : guessed(shape, words(heading));
  const lacking = shape.columns.filter(({ name, needed }) => needed && !places.has(name) && !(name in input.fixed));
  if (lacking.length > 0)
    refuse(
      "bad_input",
      say`Which column is ${lacking[0]?.label}?`,
      lacking.map(({ label }) => ({ row: heading.row, field: label, reason: say`has no column in the sheet` })),
    );
  const rows = table.rows.slice(at + 1);
  refuseUnfit(shape, input, rows);
  const units = unitsNamed(shape, words(heading), places);
  for (const [name, unit] of Object.entries(input.units)) units.set(name, unit);
  const work: SheetWork = {
    shape,
    rows,
    manner: {
      ...{ places, units, today: context.today, days: input.days ?? null },
      decimal: input.decimal ?? decimalOf(rows),
      workbook: source.form === "workbook",
      fixed: new Map(Object.entries(input.fixed)),
    },
    make: input.create,
    leaveOut: new Set(input.leave_out),
    unread: unreadIn(heading, places, shape.seen),
    notices: table.notices,
  };
  return { work, name: source.tables.length > 1 ? `${source.name}, ${table.name}` : source.name };
}

const tried = async (context: LongContext, work: SheetWork) =>
  tryActs(context, (plan, trial, revision) =>
    tryRows(trial, revision, plan, work, (done, total) => context.progress(say`trying the rows`, done, total)),
  );

export const sheetRehearse = defineLong({
  name: "sheet.rehearse",
  help: say`Says row by row which act a sheet would be taken as, what it would do and what is missing. Nothing is written.`,
  writes: true,
  input: workInput,
  run: async (context, input): Promise<SheetRehearsal> => {
    const { work } = await workOf(context, input);
    return (await tried(context, work)).answer;
  },
});

export const sheetApply = defineLong({
  name: "sheet.apply",
  help: say`Takes a sheet over, exactly as it was rehearsed, as one change that can be undone.`,
  writes: true,
  input: workInput.extend({
    digest: z.string().max(64).optional().describe(say`Of the rehearsal: another plan than that is refused.`),
    valid_rows_only: z.boolean().optional().describe(say`Leaves refused rows out instead of refusing all of them.`),
  }),
  run: async (context, { digest, valid_rows_only, ...input }) => {
    const { work, name } = await workOf(context, input);
    const outcome = await tried(context, work);
    const { answer } = outcome;
    if (digest !== undefined && digest !== answer.digest)
      refuse("stale", say`The sheet or the plant changed since the rehearsal. Rehearse it again. Nothing was changed.`);
    const refusedRows = answer.rows.filter(({ fate }) => fate === "refused");
    const unmade = answer.made.filter(({ fate }) => fate === "refused");
    if (unmade.length > 0 || (refusedRows.length > 0 && !valid_rows_only))
      refuse(
        "bad_input",
        say`${sentenceOf(answer.totals)} Nothing was changed.`,
        [...unmade, ...refusedRows].flatMap(({ problems }) => problems).slice(0, 200),
      );
    const count = answer.totals.new + answer.totals.changed;
    const summary = plural(
      count,
      "Take over {0} row of the {1} {2}",
      "Take over {0} rows of the {1} {2}",
      work.shape.title,
      name,
    ).slice(0, 400);
    return context.gateway.carryOutTried("sheet.apply", summary, context.occasion, outcome);
  },
});
