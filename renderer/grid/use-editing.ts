/** Everything that changes cells: typing, pasting, filling down, clearing, and rows that are being made. */
import { useCallback, useEffect, useMemo, useRef, useState } from "react";
import type { KindName } from "../../core/model/dictionary.ts";
import { counted, plural } from "../../core/words/counted.ts";
import { say } from "../../core/words/say.ts";
import { useClient } from "../client/context.ts";
import { holdTyped } from "../frame/undo.ts";
import { type BlockActs, blockActs } from "./block-acts.ts";
import type { GridColumn } from "./columns.ts";
import {
  type CellText,
  type CommitResult,
  commit,
  type Found,
  type GridCalls,
  judgeWaiting,
  type KnownRows,
  type Naming,
  startSaving,
} from "./commit.ts";
import type { Spot } from "./keys.ts";
import { inFull, type ReadingHabits, readCell } from "./reading.ts";
import type { GridRow, RowSource } from "./row-source.ts";
import { copyText, editText } from "./showing.ts";
import { idOf, keyOf, type RowKey, type Typed } from "./typed.ts";

export interface Edit {
  readonly spot: Spot;
  readonly row: RowKey;
  readonly initial: string;
  readonly replaces: boolean;
}

export interface EditingOptions {
  readonly kind: KindName;
  readonly source: RowSource;
  readonly typed: Typed;
  readonly columns: readonly GridColumn[];
  readonly calls: GridCalls;
  readonly habits: ReadingHabits;
  /** Why nothing can be written, or null. */
  readonly readOnly: string | null;
  readonly keyAt: (index: number) => RowKey | null;
  /** Says something to the person: shown in the hint line and read aloud. */
  readonly say: (words: string) => void;
}

const alreadyWords = (count: number): string =>
  say`${cells(count)} stood on record already as typed: another window wrote the same.`;

const cells = (count: number): string => counted(count, "cell", "cells");

/** Rows far from view that are remembered after they were read for an act. */
const MOST_FETCHED = 100_000;

export interface Editing extends BlockActs {
  readonly edit: Edit | null;
  readonly begin: (spot: Spot, text: string | null) => void;
  /** Keeps what was typed into the cell that is edited. */
  readonly keep: (text: string, found: Found | null) => void;
  readonly abandon: () => void;
  /** A letter more or less stands in the cell that is edited. */
  readonly typing: (text: string) => void;
  /** A refused cell goes back to what is on record; without a field, the whole row. */
  readonly leave: (row: RowKey, field?: string) => void;
  /** The focus leaves a row: if it is one being made, it is written. */
  readonly leaveRow: (row: RowKey) => void;
  /** Writes over what somebody else changed meanwhile. */
  readonly writeOver: (row: RowKey, rev: number) => void;
  /** Writes what waits beside refused cells, without these. */
  readonly writeWaiting: () => void;
  /** The text of a cell as it is copied. */
  readonly textOf: (row: GridRow | null, key: RowKey, column: GridColumn) => string;
}

export function useEditing(options: EditingOptions): Editing {
  const { kind, source, typed, columns, calls, habits, readOnly, keyAt, say: tells } = options;
  const [edit, setEdit] = useState<Edit | null>(null);
  const queue = useRef(new Queue());

  const client = useClient();
  const notWritten = useCallback(
    (cells: readonly CellText[]): void => {
      const last = client.call("plant.status", {}).then((reply) => (reply.ok ? (reply.value.undo?.id ?? 0) : 0));
      typed.note(cells, last);
    },
    [client, typed],
  );
  useEffect(
    () =>
      holdTyped(async (last) => {
        const left = await typed.takeBack(last);
        return left === 0
          ? null
          : plural(
              left,
              "Left {1} that was typed and not written. Nothing on record changed.",
              "Left {1} that were typed and not written. Nothing on record changed.",
              cells(left),
            );
      }),
    [typed],
  );

  const fetched = useRef(new Map<number, GridRow>());

  const rowOf = useCallback(
    (key: RowKey): GridRow | null => {
      const id = idOf(key);
      return id === null ? null : (source.row(source.indexOf(id)) ?? fetched.current.get(id) ?? null);
    },
    [source],
  );

  const textOf = useCallback(
    (row: GridRow | null, key: RowKey, column: GridColumn): string =>
      typed.cell(key, column.id)?.text ??
      (row ? copyText(column.field, row.values[column.id] ?? null, row.shown[column.id] ?? null, habits.lengths) : ""),
    [typed, habits],
  );

  const { known, whole, asking } = useMemo(() => {
    const known: KnownRows = {
      rev: (key) => rowOf(key)?.rev ?? 0,
      value: (key, field) => {
        const draft = typed.cell(key, field)?.text;
        if (draft !== undefined) {
          const column = columns.find((each) => each.id === field);
          const reading = column && readCell(kind, field, column.field, draft, habits);
          return reading?.is === "value" ? reading.value : null;
        }
        return rowOf(key)?.values[field] ?? null;
      },
    };

    // A letter that is pasted, or filled down, isn't taken for the word that begins with it.
    const whole: ReadingHabits = { ...habits, wholeWords: true };
    const asking: GridCalls = { ...calls, readAgain: () => source.refresh() };
    return { known, whole, asking };
  }, [kind, source, typed, columns, calls, habits, rowOf]);

  useEffect(() => {
    let judging = false;
    const judge = async (): Promise<void> => {
      const behind = typed.waiting().flatMap(({ row, field, cell: { text, rev } }): CellText[] => {
        const now = source.row(source.indexOf(idOf(row) ?? 0))?.rev;
        return rev === undefined || now === undefined || now === rev ? [] : [{ row, field, text }];
      });
      if (behind.length === 0 || judging) return;
      judging = true;
      const already = await queue.current.next(() => judgeWaiting(kind, behind, typed, known, whole, asking));
      judging = false;
      if (already > 0) tells(alreadyWords(already));
    };
    void judge();
    // What was kept may come back only after the rows were read.
    const ends = [source, typed].map((one) => one.subscribe(() => void judge()));
    return () => {
      for (const end of ends) end();
    };
  }, [kind, source, typed, known, whole, asking, tells]);

  return useMemo(() => {
    const write = async (list: readonly CellText[], naming?: Naming): Promise<CommitResult> => {
      // Shown at once, with the versions that are on screen; written when what was kept before it is.
      startSaving(typed, list, known);
      // What is written before it may move those on.
      const onTheirs = list.map(({ rev: _, ...cell }): CellText => cell);
      const result = await queue.current.next(() => commit(kind, onTheirs, typed, known, whole, asking, naming));
      if (result.refused > 0) {
        notWritten(list);
        const waiting = list.length - result.refused;
        tells(
          waiting > 0
            ? say`Nothing was written: ${cells(result.refused)} can't be kept as typed, ${cells(waiting)} wait.`
            : say`Not written: the reason stands under the row.`,
        );
      } else if (result.already > 0) tells(alreadyWords(result.already));
      else if (result.written > 1) tells(say`${cells(result.written)} written.`);
      else if (result.written === 1) tells(say`Written.`);
      return result;
    };

    const remember = (row: GridRow): void => {
      if (fetched.current.size >= MOST_FETCHED) fetched.current.clear();
      fetched.current.set(row.id, row);
    };

    /** Keys of rows by their places; rows far from view are fetched. */
    const keysOf = async (top: number, count: number): Promise<RowKey[]> => {
      const total = source.total ?? 0;
      const onRecord = Math.max(0, Math.min(count, total - top));
      const keys: RowKey[] = [];
      const held = Array.from({ length: onRecord }, (_, i) => keyAt(top + i));
      if (held.every((key) => key !== null)) keys.push(...held);
      else
        for (const row of await source.rows(top, top + onRecord)) {
          remember(row);
          keys.push(keyOf(row.id));
        }
      return [...keys, ...typed.rowsFrom(Math.max(0, top - total), count - onRecord)];
    };

    const mayWrite = (): boolean => {
      if (readOnly) tells(readOnly);
      return readOnly === null;
    };

    const writeRow = (key: RowKey) => {
      const list = [...typed.row(key)].map(([field, { text }]): CellText => ({ row: key, field, text }));
      if (list.length > 0) void write(list);
    };

    const acts = blockActs({
      kind,
      columns,
      typed,
      known,
      mayWrite,
      idle: () => queue.current.idle(),
      keysOf,
      rowOf,
      textOf,
      write,
      say: tells,
    });

    return {
      ...acts,
      edit,
      textOf,
      begin(spot, text) {
        const key = keyAt(spot.row);
        const column = columns[spot.column];
        if (!key || !column || !mayWrite()) return;
        const row = rowOf(key);
        const stored = row
          ? editText(column.field, row.values[column.id] ?? null, row.shown[column.id] ?? null, habits.lengths)
          : "";
        const before = typed.cell(key, column.id)?.text ?? stored;
        const rev = typed.cell(key, column.id)?.rev ?? row?.rev ?? null;
        typed.edit({ row: key, field: column.id, text, rev });
        setEdit({ spot, row: key, initial: text ?? before, replaces: text !== null });
      },
      typing(text) {
        const column = edit && columns[edit.spot.column];
        if (column) typed.edit({ row: edit.row, field: column.id, text, rev: typed.edited?.rev ?? null });
      },
      keep(given, found) {
        if (!edit) return;
        const rev = typed.edited?.rev ?? null;
        setEdit(null);
        typed.edit(null);
        const column = columns[edit.spot.column];
        if (!column) return;
        // Whoever types sees what a word's beginning is read as.
        const text = inFull(column.field, given);
        const key = edit.row;
        const before = typed.cell(key, column.id);
        if (!found && !edit.replaces && text === edit.initial && before?.state !== "refused") return;
        const cell: CellText = { row: key, field: column.id, text, found, ...(rev === null ? {} : { rev }) };
        if (idOf(key) === null) {
          // A row being made is written when the focus leaves it, whole.
          if (text.trim() === "" && !before) return;
          const reading = readCell(kind, column.id, column.field, text, whole);
          const refused = reading.is === "refused" && text.trim() !== "";
          typed.put(key, column.id, {
            text,
            state: refused ? "refused" : "waiting",
            reason: refused ? reading.reason : null,
          });
          notWritten([cell]);
          return;
        }
        void write([cell]);
      },
      abandon() {
        setEdit(null);
        typed.edit(null);
      },
      leave(row, field) {
        if (field === undefined) typed.dropRow(row);
        else typed.drop(row, field);
      },
      leaveRow(row) {
        if (idOf(row) !== null || readOnly) return;
        const made = [...typed.row(row).values()];
        if (made.length > 0 && !made.some(({ state }) => state === "saving")) writeRow(row);
      },
      writeOver(row, rev) {
        void write([...typed.row(row)].map(([field, { text }]): CellText => ({ row, field, text, rev })));
      },
      writeWaiting() {
        void write(typed.waiting().map(({ row, field, cell }): CellText => ({ row, field, text: cell.text })));
      },
    };
  }, [
    edit,
    kind,
    source,
    typed,
    columns,
    habits,
    readOnly,
    keyAt,
    tells,
    rowOf,
    textOf,
    notWritten,
    known,
    whole,
    asking,
  ]);
}

/** Writes one after the other, in the order in which they were kept. */
class Queue {
  #last: Promise<unknown> = Promise.resolve();

  next<T>(work: () => Promise<T>): Promise<T> {
    const done = this.#last.then(work, work);
    this.#last = done;
    return done;
  }

  async idle(): Promise<void> {
    await this.#last.catch(() => {});
  }
}
