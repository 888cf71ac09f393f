/**
 * Keeps what was typed: reads each text by its field, writes all of it as one change set, and leaves what was refused where
 * it was typed, with the reason. Records are named by address; the program says which they are.
 */
import { isKindName, type KindName, kindOf, type Value } from "../../core/model/dictionary.ts";
import type { Failure } from "../../core/result.ts";
import { say } from "../../core/words/say.ts";
import { type ReadingHabits, readCell } from "./reading.ts";
import { idOf, type RowKey, type Typed } from "./typed.ts";
import { listed } from "./words.ts";

export interface Found {
  readonly kind: KindName;
  readonly id: number;
  readonly tag: string;
}

export type GridChange =
  | { readonly op: "add"; readonly kind: KindName; readonly values: Record<string, Value> }
  | {
      readonly op: "edit";
      readonly kind: KindName;
      readonly id: number;
      readonly rev: number;
      readonly values: Record<string, Value>;
    };

/** What the grid asks of the program. */
export interface GridCalls {
  /** All of it as one act; answers null when it is written. Of several records `summary` is what undo calls it. */
  write(changes: readonly GridChange[], summary?: string): Promise<Failure | null>;
  /** What the program would refuse of it; writes nothing. */
  rehearse(changes: readonly GridChange[]): Promise<Failure | null>;
  /** Resolves when rows on screen are as they were written; until then what was typed stands in their cells. */
  readAgain?(): Promise<void>;
  /** The one record of any kind a text names, or why there isn't one. */
  find(text: string): Promise<Found | string>;
}

export interface CellText {
  readonly row: RowKey;
  readonly field: string;
  readonly text: string;
  /** The record that was chosen from a list. */
  readonly found?: Found | null;
  /** Values as stored, where they come from another cell of the column: nothing is read anew. */
  readonly values?: Readonly<Record<string, Value>>;
}

export interface CommitResult {
  readonly written: number;
  readonly refused: number;
  /** The refusal as a whole, when the program refused. */
  readonly failure: Failure | null;
}

/** What undo calls an act on several records: `Fill method down 48 splices`. */
export type Naming = (fields: string, records: string) => string;

/** More fields than these are counted. */
const MOST_NAMED = 3;

function summaryOf(kind: KindName, naming: Naming, cells: readonly CellText[], rows: number): string {
  const { fields, one, many } = kindOf(kind);
  const names = [...new Set(cells.map(({ field }) => fields[field]?.label ?? field))];
  return naming(
    names.length > MOST_NAMED ? say`${names.length} fields` : listed(names),
    `${rows} ${rows === 1 ? one : many}`,
  );
}

/** What the table knows of the rows on record. */
export interface KnownRows {
  rev(row: RowKey): number;
  value(row: RowKey, field: string): Value;
}

type Values = Record<string, Value>;
export type Read = { readonly values: Values } | { readonly reason: string };

/** One cell as values to be stored, or the reason why it isn't any. */
export async function readText(
  kind: KindName,
  cell: CellText,
  habits: ReadingHabits,
  calls: GridCalls,
  known: KnownRows,
) {
  const field = kindOf(kind).fields[cell.field];
  if (!field) throw new Error(`${kind} has no field ${cell.field}`);
  if (cell.values) return { values: { ...cell.values } };
  if (cell.found) {
    const subject = field.type === "subject" ? { [field.kindField]: cell.found.kind } : {};
    return { values: { ...subject, [cell.field]: cell.found.id } };
  }
  const reading = readCell(kind, cell.field, field, cell.text, habits);
  if (reading.is === "refused") return { reason: reading.reason };
  if (reading.is === "value") return { values: { [cell.field]: reading.value } };
  if (field.type === "subject" && !isKindName(String(known.value(cell.row, field.kindField)))) {
    const found = await calls.find(reading.text);
    if (typeof found === "string") return { reason: found };
    return { values: { [field.kindField]: found.kind, [cell.field]: found.id } };
  }
  return { values: { [cell.field]: reading.text } };
}

/** Problems of a refusal by the row and field they concern. */
function placeProblems(kind: KindName, failure: Failure, rows: readonly RowKey[], cells: readonly CellText[]) {
  const placed = new Map<string, { row: RowKey; field: string; reason: string }>();
  const fields = kindOf(kind).fields;
  for (const { row: number, field: named, reason } of failure.problems) {
    const row = number === undefined ? (rows.length === 1 ? rows[0] : undefined) : rows[number - 1];
    if (!row) continue;
    const field = Object.keys(fields).find((name) => name === named || fields[name]?.label === named);
    // A problem of the whole row stands at its first cell.
    const at = field ?? cells.find((cell) => cell.row === row)?.field;
    if (at && !placed.has(`${row} ${at}`)) placed.set(`${row} ${at}`, { row, field: at, reason });
  }
  return [...placed.values()];
}

/**
 * Writes cells as one act, all or nothing: where one is refused, the others wait beside it, and the user may write those
 * that can be.
 */
export async function commit(
  kind: KindName,
  cells: readonly CellText[],
  typed: Typed,
  known: KnownRows,
  habits: ReadingHabits,
  calls: GridCalls,
  naming?: Naming,
): Promise<CommitResult> {
  typed.together(() => {
    for (const { row, field, text } of cells) typed.put(row, field, { text, state: "saving", reason: null });
  });
  const readings: Read[] = await Promise.all(cells.map((cell) => readText(kind, cell, habits, calls, known)));
  const byRow = new Map<RowKey, Values>();
  let refused = 0;
  typed.together(() => {
    for (const [index, cell] of cells.entries()) {
      const reading = readings[index] as Read;
      if ("values" in reading) byRow.set(cell.row, { ...byRow.get(cell.row), ...reading.values });
      else refused++;
      typed.put(cell.row, cell.field, {
        text: cell.text,
        state: "values" in reading ? "saving" : "refused",
        reason: "values" in reading ? null : reading.reason,
      });
    }
  });
  const changesOf = (rows: readonly RowKey[]): GridChange[] =>
    rows.map((row): GridChange => {
      const id = idOf(row);
      const values = byRow.get(row) ?? {};
      return id === null ? { op: "add", kind, values } : { op: "edit", kind, id, rev: known.rev(row), values };
    });
  const refuse = (row: RowKey, field: string, reason: string, failure: Failure): void => {
    refused++;
    typed.put(row, field, {
      text: typed.cell(row, field)?.text ?? "",
      state: "refused",
      reason,
      code: failure.code,
      ...(failure.details === undefined ? {} : { details: failure.details }),
    });
  };
  /** What is said to wait can be written: the program is asked about it without what is refused already. */
  const trySafe = async (): Promise<void> => {
    for (let turn = 0; turn < MOST_TRIED; turn++) {
      const open = cells.filter(({ row, field }) => typed.cell(row, field)?.state === "saving");
      const rows = [...new Set(open.map(({ row }) => row))].filter((row) => idOf(row) !== null);
      for (const { row, field } of cells)
        if (typed.cell(row, field)?.state === "refused") byRow.set(row, without(byRow.get(row), kind, field));
      if (rows.length === 0) return;
      const failure = await calls.rehearse(changesOf(rows));
      const problems = failure ? placeProblems(kind, failure, rows, open) : [];
      if (!failure || problems.length === 0) return;
      typed.together(() => {
        for (const { row, field, reason } of problems) refuse(row, field, reason, failure);
      });
    }
  };
  const wait = () =>
    typed.together(() => {
      for (const { row, field } of cells) {
        const cell = typed.cell(row, field);
        if (cell?.state === "saving") typed.put(row, field, { ...cell, state: "waiting" });
      }
    });
  if (refused > 0) {
    await trySafe();
    wait();
    return { written: 0, refused, failure: null };
  }
  const rows = [...byRow.keys()];
  const failure = await calls.write(
    changesOf(rows),
    naming && rows.length > 1 ? summaryOf(kind, naming, cells, rows.length) : undefined,
  );
  if (failure === null) {
    await calls.readAgain?.();
    typed.together(() => {
      for (const { row, field } of cells) typed.drop(row, field);
    });
    return { written: cells.length, refused: 0, failure: null };
  }
  const problems = placeProblems(kind, failure, rows, cells);
  const [first] = cells;
  // A refusal that names no cell stands at the first, so that what was typed keeps its reason.
  if (problems.length === 0 && first) problems.push({ row: first.row, field: first.field, reason: failure.message });
  for (const { row, field, reason } of problems) refuse(row, field, reason, failure);
  await trySafe();
  wait();
  return { written: 0, refused, failure };
}

/** So often the program is asked about what is left of a block. */
const MOST_TRIED = 4;

/** Values of a row without a cell's: of a subject also without what kind of record it is. */
function without(values: Values | undefined, kind: KindName, field: string): Values {
  const { [field]: _, ...rest } = values ?? {};
  const described = kindOf(kind).fields[field];
  if (described?.type === "subject") delete rest[described.kindField];
  return rest;
}
