/**
 * Take over readings as instruments list them: rows of a light source and meter, or the events of one reflectometer
 * trace. Cells come as text; the heading says what they are, and `columns` says so where an instrument calls them otherwise.
 */
import { z } from "zod";
import type { KindName, Row } from "../model/dictionary.ts";
import { KINDS } from "../model/dictionary.ts";
import { type Problem, Refusal, refuse } from "../result.ts";
import { resolveOne } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { Change, Plan } from "../store/plan.ts";
import { plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type ActContext, dayOf } from "./context.ts";
import { address, given } from "./inputs.ts";

const COLUMNS = {
  ...{ tag: "tag", of: "of", far_port: say`far port`, wavelength_nm: "wavelength_nm", direction: "direction" },
  ...{
    reference_method: "reference_method",
    loss_db: "loss_db",
    length_m: "length_m",
    reflectance_db: "reflectance_db",
  },
  ...{ group_index: "group_index", cords_included: "cords_included", measured_on: "measured_on" },
  measured_by: "measured_by",
} as const;
export type ReadingColumn = keyof typeof COLUMNS;
const EVENT_COLUMNS = ["kind", "distance_m", "loss_db", "reflectance_db"] as const;
export type EventColumn = (typeof EVENT_COLUMNS)[number];

const text = z.string().min(1, say`is empty`).max(2_000_000, say`is longer than two million characters`);
const called = z.string().trim().min(1).max(120);

const shared = {
  wavelength_nm: given("measurement", "wavelength_nm"),
  direction: given("measurement", "direction"),
  reference_method: given("measurement", "reference_method"),
  cords_included: given("measurement", "cords_included"),
  group_index: given("measurement", "group_index"),
  measured_on: given("measurement", "measured_on"),
  measured_by: given("measurement", "measured_by"),
};

export const measurementReadInput = z.strictObject({
  csv: text.describe(say`The rows with their heading, parted by commas, semicolons or tabs.`),
  columns: z
    .partialRecord(z.enum(Object.keys(COLUMNS) as [ReadingColumn, ...ReadingColumn[]]), called)
    .default({})
    .describe(say`What the heading calls a column, where it is called otherwise.`),
  method: z.enum(["source_meter", "otdr"]).default("source_meter").describe(say`What it was measured with.`),
  ...shared,
});

export const measurementEventsInput = z.strictObject({
  csv: text.describe(say`The events with their heading, parted by commas, semicolons or tabs.`),
  columns: z.partialRecord(z.enum(EVENT_COLUMNS), called).default({}).describe(say`What the heading calls a column.`),
  of: address(say`The strand, section, port or circuit measured.`),
  far_port: address(say`The port at the far end.`).optional(),
  loss_db: given("measurement", "loss_db"),
  length_m: given("measurement", "length_m"),
  ...shared,
});

export interface CsvRow {
  readonly cells: readonly string[];
  readonly row: number;
  /** Whether decimals may be written with a comma, as where the comma doesn't part the cells. */
  readonly decimalComma?: boolean;
}

const SUBJECTS: readonly KindName[] = ["strand", "section", "port", "circuit"];

/** Rows of a sheet by what the heading says; collects what is wrong, so that one refusal names all of it. */
class Sheet<C extends string> {
  readonly rows: readonly CsvRow[];
  readonly problems: Problem[] = [];
  readonly #places = new Map<C, number>();
  /** How this sheet writes decimals, from its first one on. */
  #mark: "," | "." | null = null;

  constructor(
    lines: readonly CsvRow[],
    columns: readonly C[],
    called: Partial<Record<C, string>>,
    needed: readonly C[],
  ) {
    const [heading, ...rows] = lines;
    this.rows = rows;
    const fold = (name: string) => name.trim().toLowerCase().replaceAll(" ", "_");
    const heads = (heading?.cells ?? []).map((cell, at) => fold(at === 0 ? cell.replace(/^\uFEFF/, "") : cell));
    for (const column of columns) {
      const at = heads.indexOf(fold(called[column] ?? column));
      if (at >= 0) this.#places.set(column, at);
      else if (called[column] !== undefined || needed.includes(column)) {
        this.problems.push({
          row: 1,
          field: column,
          reason: say`has no column "${called[column] ?? column}" in the heading`,
        });
      }
    }
    if (rows.length === 0) this.problems.push({ row: 1, field: "csv", reason: say`has no rows below the heading` });
  }

  cell({ cells }: CsvRow, column: C): string | undefined {
    const at = this.#places.get(column);
    const own = at === undefined ? undefined : cells[at]?.trim();
    return own === "" ? undefined : own;
  }

  number(line: CsvRow, column: C): number | undefined {
    const own = this.cell(line, column);
    if (own === undefined) return undefined;
    const plain = own.replace("−", "-");
    const comma = line.decimalComma === true && /^-?\d+,\d+$/.test(plain);
    const mark = comma ? "," : /^-?\d+\.\d+$/.test(plain) ? "." : null;
    // 1,234 beside 0.5 may be a thousand and more: one sheet writes decimals one way.
    if (mark !== null && line.decimalComma && this.#mark !== null && this.#mark !== mark) {
      const reason = say`writes its decimals otherwise than the rows above: with a comma, and with a point`;
      this.problems.push({ row: line.row, field: column, record: own, reason });
      return undefined;
    }
    this.#mark ??= mark;
    const value = Number(comma ? plain.replace(",", ".") : plain);
    if (Number.isFinite(value)) return value;
    this.problems.push({ row: line.row, field: column, record: own, reason: say`is not a number` });
    return undefined;
  }

  /** One of a closed list, as its value or in its words. */
  choice<V extends string>(line: CsvRow, column: C, values: Readonly<Record<V, string>>): V | undefined {
    const own = this.cell(line, column)?.toLowerCase();
    if (own === undefined) return undefined;
    const found = (Object.keys(values) as V[]).find((one) => one === own || values[one].toLowerCase() === own);
    if (found === undefined) {
      const reason = say`must be one of ${Object.keys(values).join(", ")}`;
      this.problems.push({ row: line.row, field: column, record: own, reason });
    }
    return found;
  }

  /** A record by its address; a refusal becomes a problem of its row. */
  async record(reader: Reader, line: CsvRow, column: C, kinds: readonly KindName[]) {
    const own = this.cell(line, column);
    if (own === undefined) return null;
    try {
      return await resolveOne(reader, own, { kinds, field: column });
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      this.problems.push(...error.failure.problems.map((problem) => ({ ...problem, row: line.row })));
      return null;
    }
  }

  /** Refuses `bad_input` with everything that was found wrong. */
  done(): void {
    if (this.problems.length === 0) return;
    refuse("bad_input", say`The readings can't be taken over as they are.`, this.problems);
  }
}

const FIELDS = KINDS.measurement.fields;
const EVENT_KINDS = KINDS.measurement_event.fields.kind.values;

/** The next free number of the plant's own measurements. */
async function nextNumber(reader: Reader): Promise<number> {
  const rows = await reader.rows<{ tag: string }>("select tag from measurement where tag glob 'M-[0-9]*'");
  return 1 + rows.reduce((most, { tag }) => Math.max(most, Number(/^M-(\d+)$/.exec(tag)?.[1] ?? 0)), 0);
}
const tagOf = (number: number): string => `M-${String(number).padStart(4, "0")}`;

type Known = Pick<
  Row<"measurement">,
  "tag" | "subject_kind" | "subject_id" | "wavelength_nm" | "direction" | "loss_db" | "measured_on"
>;
const SAME = `select tag, subject_kind, subject_id, wavelength_nm, direction, loss_db, measured_on from measurement`;
const keyOf = (one: { readonly [F in Exclude<keyof Known, "tag">]?: Known[F] | null | undefined }): string =>
  [one.subject_kind, one.subject_id, one.wavelength_nm, one.direction, one.loss_db, one.measured_on]
    .map((part) => part ?? "")
    .join("|");

export interface ReadingsAnswer {
  readonly added: number;
  /** Rows that are on record already. */
  readonly known: number;
  readonly tags: readonly string[];
}

/** Refuses `bad_input` with every row and column that can't be read; a reading that is on record is left out and said. */
export async function planMeasurementRead(
  context: ActContext,
  input: z.output<typeof measurementReadInput>,
  lines: readonly CsvRow[],
): Promise<Plan<ReadingsAnswer>> {
  const { reader } = context;
  const sheet = new Sheet(lines, Object.keys(COLUMNS) as ReadingColumn[], input.columns, ["of", "loss_db"]);
  sheet.done();
  const before = new Map((await reader.rows<Known>(SAME)).map((row) => [keyOf(row), row.tag]));
  let number = await nextNumber(reader);
  const notices: string[] = [];
  const rows: { values: Record<string, string | number | null | undefined>; row: number }[] = [];
  for (const line of sheet.rows) {
    const { row } = line;
    const subject = await sheet.record(reader, line, "of", SUBJECTS);
    const far = await sheet.record(reader, line, "far_port", ["port"]);
    const loss_db = sheet.number(line, "loss_db");
    const length_m = sheet.number(line, "length_m");
    if (!sheet.cell(line, "of")) sheet.problems.push({ row, field: "of", reason: say`is missing` });
    if (!sheet.cell(line, "loss_db") && length_m === undefined) {
      sheet.problems.push({ row, field: "loss_db", reason: say`is missing, and no length stands in its place` });
    }
    if (loss_db !== undefined && loss_db < 0 && input.method === "source_meter") {
      const reason = say`is below zero: a link gives no light, so the reference was not kept`;
      sheet.problems.push({ row, field: "loss_db", record: `${loss_db} dB`, reason });
    }
    if (length_m !== undefined && length_m < 0)
      sheet.problems.push({ row, field: "length_m", reason: say`is below zero` });
    const values = {
      method: input.method,
      subject_kind: subject?.kind,
      subject_id: subject?.id,
      far_port_id: far?.id,
      wavelength_nm: sheet.number(line, "wavelength_nm") ?? input.wavelength_nm,
      direction: sheet.choice(line, "direction", FIELDS.direction.values) ?? input.direction,
      reference_method:
        sheet.choice(line, "reference_method", FIELDS.reference_method.values) ?? input.reference_method,
      loss_db,
      length_m,
      reflectance_db: sheet.number(line, "reflectance_db"),
      group_index: sheet.number(line, "group_index") ?? input.group_index,
      cords_included: sheet.choice(line, "cords_included", FIELDS.cords_included.values) ?? input.cords_included,
      measured_on: sheet.cell(line, "measured_on") ?? input.measured_on ?? dayOf(context),
      measured_by: sheet.cell(line, "measured_by") ?? input.measured_by ?? context.occasion.author,
      basis: "measured",
    };
    const same = before.get(keyOf(values as never));
    if (same !== undefined) {
      notices.push(say`Row ${row} is on record as ${same} and is left out.`);
      continue;
    }
    const tag = sheet.cell(line, "tag") ?? tagOf(number++);
    before.set(keyOf(values as never), tag);
    if (values.wavelength_nm == null) notices.push(say`Row ${row} names no wavelength: it will stand for no stretch.`);
    rows.push({ values: { tag, ...values }, row });
  }
  sheet.done();
  const changes = await inserts(context, "measurement", rows);
  const tags = rows.map(({ values }) => String(values.tag));
  return {
    summary: plural(rows.length, "Take over {0} reading", "Take over {0} readings"),
    changes,
    answer: { added: rows.length, known: sheet.rows.length - rows.length, tags },
    notices,
  };
}

async function inserts(
  context: ActContext,
  kind: KindName,
  rows: readonly { values: Record<string, string | number | null | undefined>; row: number }[],
): Promise<Change[]> {
  if (rows.length === 0) return [];
  const first = await context.newIds(kind, rows.length);
  return rows.map(({ values, row }, at) => ({
    op: "insert" as const,
    kind,
    id: first + at,
    values: Object.fromEntries(
      Object.entries(values).flatMap(([field, value]) => (value == null ? [] : [[field, value]])),
    ),
    row,
  }));
}

export interface EventsAnswer {
  readonly tag: string;
  readonly events: number;
  readonly length_m: number | null;
}

/** One trace with its events; where its length isn't given, it is where the event of its end is. */
export async function planMeasurementEvents(
  context: ActContext,
  input: z.output<typeof measurementEventsInput>,
  lines: readonly CsvRow[],
): Promise<Plan<EventsAnswer>> {
  const { reader } = context;
  const sheet = new Sheet(lines, EVENT_COLUMNS, input.columns, ["distance_m"]);
  sheet.done();
  const subject = await resolveOne(reader, input.of, { kinds: SUBJECTS, field: "of" });
  const far = input.far_port ? await resolveOne(reader, input.far_port, { kinds: ["port"], field: "far_port" }) : null;
  let last = Number.NEGATIVE_INFINITY;
  let end_m: number | null = null;
  const events = sheet.rows.map((line, at) => {
    const { row } = line;
    const distance_m = sheet.number(line, "distance_m");
    const kind = sheet.choice(line, "kind", EVENT_KINDS);
    if (!sheet.cell(line, "distance_m")) sheet.problems.push({ row, field: "distance_m", reason: say`is missing` });
    if (distance_m !== undefined) {
      const record = `${distance_m} m`;
      if (distance_m < 0) sheet.problems.push({ row, field: "distance_m", record, reason: say`is below zero` });
      else if (distance_m < last) {
        sheet.problems.push({ row, field: "distance_m", record, reason: say`comes before the ${last} m above it` });
      }
      last = distance_m;
      if (kind === "end") end_m = distance_m;
    }
    const loss_db = sheet.number(line, "loss_db");
    return {
      values: { ordinal: at + 1, kind, distance_m, loss_db, reflectance_db: sheet.number(line, "reflectance_db") },
      row,
    };
  });
  sheet.done();
  const { csv: _, columns: __, of: ___, far_port: ____, ...own } = input;
  const tag = tagOf(await nextNumber(reader));
  const length_m = own.length_m ?? end_m;
  const [measurement] = await inserts(context, "measurement", [
    {
      values: {
        tag,
        method: "otdr",
        subject_kind: subject.kind,
        subject_id: subject.id,
        far_port_id: far?.id,
        ...own,
        length_m,
        measured_on: own.measured_on ?? dayOf(context),
        measured_by: own.measured_by ?? context.occasion.author,
        basis: "measured",
      },
      row: 1,
    },
  ]);
  const of = events.map(({ values, row }) => ({ values: { measurement_id: measurement?.id, ...values }, row }));
  return {
    summary: plural(
      events.length,
      "Take over a trace of {1} with {0} event",
      "Take over a trace of {1} with {0} events",
      subject.tag,
    ),
    changes: [...(measurement ? [measurement] : []), ...(await inserts(context, "measurement_event", of))],
    answer: { tag, events: events.length, length_m },
    notices:
      own.group_index == null
        ? [say`The index the instrument was set to is not given: its lengths can't be corrected.`]
        : [],
  };
}
