/**
 * Keeps what was typed: reads each text by its field, writes all of it as one change set, and leaves what was refused where
 * it was typed, with the reason. Records are named by address; the program says which they are.
 */
import { isKindName, type KindName, kindOf, type Value } from "../../core/model/dictionary.ts";
import type { Failure } from "../../core/result.ts";
import type { StaleVersions } from "../../core/store/stale.ts";
import { listed } from "../../core/words/phrase.ts";
import { say } from "../../core/words/say.ts";
import { type ReadingHabits, readCell } from "./reading.ts";
import { idOf, type RowKey, type Typed, type TypedCell } from "./typed.ts";

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
  /** All of it as one act. Of several records `summary` is what undo calls it. */
  write(changes: readonly GridChange[], summary?: string): Promise<Wrote>;
  /** What the program would refuse of it; writes nothing. */
  rehearse(changes: readonly GridChange[]): Promise<Failure | null>;
  /** Resolves when rows on screen are as they were written; until then what was typed stands in their cells. */
  readAgain?(): Promise<void>;
  /** The one record of any kind a text names, or why there isn't one. */
  find(text: string): Promise<Found | string>;
}

export type Wrote =
  | { readonly is: "refused"; readonly failure: Failure }
  | {
      readonly is: "written";
      /** The version that records have by it which it changed, and which these are: null for all. */
      readonly rev: number | null;
      readonly ids: ReadonlySet<number> | null;
    };

export interface CellText {
  readonly row: RowKey;
  readonly field: string;
  readonly text: string;
  /** The record that was chosen from a list. */
  readonly found?: Found | null;
  /** Values as stored, where they come from another cell of the column: nothing is read anew. */
  readonly values?: Readonly<Record<string, Value>>;
  /** The version of the record that it is to be written over, if not the one on which it was typed. */
  readonly rev?: number;
}

export interface CommitResult {
  readonly written: number;
  readonly refused: number;
  /** Cells that stood on record already as typed, written by another window meanwhile. */
  readonly already: number;
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

/** Shows cells as being written, each with the version of its record on which it was typed. */
export function startSaving(typed: Typed, cells: readonly CellText[], known: KnownRows): void {
  typed.together(() => {
    for (const { row, field, text, rev } of cells) {
      const seen = idOf(row) === null ? undefined : (rev ?? typed.cell(row, field)?.rev ?? known.rev(row));
      typed.put(row, field, { text, state: "saving", reason: null, ...(seen === undefined ? {} : { rev: seen }) });
    }
  });
}

/** Both versions of a record, if that is why a cell of its row was refused: a refusal may be about other rows as well. */
export function staleOf(cell: Pick<TypedCell, "details">, kind: KindName, row: RowKey): StaleVersions | null {
  const { stale } = (cell.details ?? {}) as { stale?: readonly StaleVersions[] };
  return stale?.find((one) => one.kind === kind && one.id === idOf(row)) ?? null;
}

/** Whether all that a cell says stands on record by now. */
function isOnRecord(failure: Failure, kind: KindName, row: RowKey, reading: Read | undefined): boolean {
  const stale = staleOf(failure, kind, row);
  if (!stale?.yours || !reading || "reason" in reading) return false;
  return Object.keys(reading.values).every((name) => stale.yours?.[name] === stale.current[name]);
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
  startSaving(typed, cells, known);
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
  /** The oldest version on which anything in the row was typed. */
  const seen = new Map<RowKey, number>();
  for (const { row, field } of cells) {
    const rev = typed.cell(row, field)?.rev ?? known.rev(row);
    seen.set(row, Math.min(rev, seen.get(row) ?? rev));
  }
  const changesOf = (rows: readonly RowKey[]): GridChange[] =>
    rows.map((row): GridChange => {
      const id = idOf(row);
      const values = byRow.get(row) ?? {};
      return id === null ? { op: "add", kind, values } : { op: "edit", kind, id, rev: seen.get(row) ?? 0, values };
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
    return { written: 0, refused, already: 0, failure: null };
  }
  const rows = [...byRow.keys()];
  const wrote = await calls.write(
    changesOf(rows),
    naming && rows.length > 1 ? summaryOf(kind, naming, cells, rows.length) : undefined,
  );
  if (wrote.is === "written") {
    await calls.readAgain?.();
    typed.together(() => {
      for (const [row, from] of seen) {
        const id = idOf(row);
        if (id !== null && wrote.rev !== null && (wrote.ids?.has(id) ?? true)) typed.moved(row, from, wrote.rev);
      }
      for (const cell of cells) letGo(typed, cell);
    });
    return { written: cells.length, refused: 0, already: 0, failure: null };
  }
  const { failure } = wrote;
  const already = cells.filter(({ row }, index) => isOnRecord(failure, kind, row, readings[index]));
  if (already.length > 0) {
    await calls.readAgain?.();
    typed.together(() => {
      for (const cell of already) letGo(typed, cell);
    });
    const rest = cells.filter((cell) => !already.includes(cell));
    if (rest.length === 0) return { written: 0, refused: 0, already: already.length, failure: null };
    return { ...(await commit(kind, rest, typed, known, habits, calls, naming)), already: already.length };
  }
  const problems = placeProblems(kind, failure, rows, cells);
  const [first] = cells;
  // A refusal that names no cell stands at the first, so that what was typed keeps its reason.
  if (problems.length === 0 && first)
    problems.push({ row: first.row, field: first.field, reason: afterLabel(failure) });
  for (const { row, field, reason } of problems) refuse(row, field, reason, failure);
  await trySafe();
  wait();
  return { written: 0, refused, already: 0, failure };
}

/**
 * Holds cells that wait, and of which the record was changed since they were typed, against what is there now: those that
 * stand there as typed go, and are counted; the others are refused with both versions.
 */
export async function judgeWaiting(
  kind: KindName,
  cells: readonly CellText[],
  typed: Typed,
  known: KnownRows,
  habits: ReadingHabits,
  calls: GridCalls,
): Promise<number> {
  const readings = await Promise.all(cells.map((cell) => readText(kind, cell, habits, calls, known)));
  const byRow = new Map<RowKey, { rev: number; values: Values }>();
  for (const [index, { row, field }] of cells.entries()) {
    const reading = readings[index] as Read;
    const rev = typed.cell(row, field)?.rev;
    if ("reason" in reading || rev === undefined) continue;
    const before = byRow.get(row);
    byRow.set(row, { rev: Math.min(rev, before?.rev ?? rev), values: { ...before?.values, ...reading.values } });
  }
  const changes = [...byRow].map(
    ([row, { rev, values }]): GridChange => ({ op: "edit", kind, id: idOf(row) ?? 0, rev, values }),
  );
  const failure = changes.length > 0 ? await calls.rehearse(changes) : null;
  if (!failure) return 0;
  let already = 0;
  typed.together(() => {
    for (const [index, { row, field, text }] of cells.entries()) {
      const cell = typed.cell(row, field);
      if (cell?.state !== "waiting" || cell.text !== text || !staleOf(failure, kind, row)) continue;
      if (isOnRecord(failure, kind, row, readings[index])) {
        already++;
        typed.drop(row, field);
      } else {
        const { code, message: reason, details } = failure;
        typed.put(row, field, { text, state: "refused", reason, code, details });
      }
    }
  });
  return already;
}

/** What is on record goes from the table, unless something else was typed there meanwhile. */
function letGo(typed: Typed, { row, field, text }: CellText): void {
  if (typed.cell(row, field)?.text === text) typed.drop(row, field);
}

/** A refusal as a whole, behind the label of a field and before a full stop. */
const afterLabel = ({ message }: Failure): string => say`isn't written: ${message.replace(/\.$/, "")}`;

/** So often the program is asked about what is left of a block. */
const MOST_TRIED = 4;

/** Values of a row without a cell's: of a subject also without what kind of record it is. */
function without(values: Values | undefined, kind: KindName, field: string): Values {
  const { [field]: _, ...rest } = values ?? {};
  const described = kindOf(kind).fields[field];
  if (described?.type === "subject") delete rest[described.kindField];
  return rest;
}
