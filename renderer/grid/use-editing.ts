/** Everything that changes cells: typing, pasting, filling down, clearing, and rows that are being made. */
import { useCallback, useMemo, useRef, useState } from "react";
import type { KindName, Value } from "../../core/model/dictionary.ts";
import { readBlock } from "./blocks.ts";
import type { GridColumn } from "./columns.ts";
import { type CellText, type CommitResult, commit, type Found, type GridCalls, type KnownRows } from "./commit.ts";
import type { Block, Spot } from "./keys.ts";
import { planFill, planPaste } from "./paste.ts";
import { type ReadingHabits, readCell } from "./reading.ts";
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

/** No block is larger: what is more comes by import. */
const MOST_CELLS = 50_000;

const cells = (count: number): string => `${count} ${count === 1 ? "cell" : "cells"}`;

export interface Editing {
  readonly edit: Edit | null;
  readonly begin: (spot: Spot, text: string | null) => void;
  /** Keeps what was typed into the cell that is edited. */
  readonly keep: (text: string, found: Found | null) => void;
  readonly abandon: () => void;
  /** A refused cell goes back to what is on record; without a field, the whole row. */
  readonly leave: (row: RowKey, field?: string) => void;
  readonly paste: (text: string, selected: Block) => Promise<Block | null>;
  readonly fillDown: (selected: Block) => Promise<void>;
  readonly clear: (selected: Block) => Promise<void>;
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
  const { kind, source, typed, columns, calls, habits, readOnly, keyAt, say } = options;
  const [edit, setEdit] = useState<Edit | null>(null);
  const queue = useRef(new Queue());

  const rowOf = useCallback(
    (key: RowKey): GridRow | null => {
      const id = idOf(key);
      return id === null ? null : (source.row(source.indexOf(id)) ?? null);
    },
    [source],
  );

  const textOf = useCallback(
    (row: GridRow | null, key: RowKey, column: GridColumn): string =>
      typed.cell(key, column.id)?.text ??
      (row ? copyText(column.field, row.values[column.id] ?? null, row.shown[column.id] ?? null, habits.lengths) : ""),
    [typed, habits],
  );

  return useMemo(() => {
    const fetched = new Map<number, GridRow>();
    const known: KnownRows = {
      rev: (key) => rowOf(key)?.rev ?? fetched.get(idOf(key) ?? 0)?.rev ?? 0,
      value: (key, field) => {
        const draft = typed.cell(key, field)?.text;
        if (draft !== undefined) {
          const column = columns.find((each) => each.id === field);
          const reading = column && readCell(kind, field, column.field, draft, habits);
          return reading?.is === "value" ? reading.value : null;
        }
        return (rowOf(key) ?? fetched.get(idOf(key) ?? 0))?.values[field] ?? null;
      },
    };

    const asking: GridCalls = { ...calls, readAgain: () => source.refresh() };
    const write = async (list: readonly CellText[], rows: KnownRows = known): Promise<CommitResult> => {
      // Shown at once; written when what was kept before it is, so that its version is the newest.
      for (const { row, field, text } of list) typed.put(row, field, { text, state: "saving", reason: null });
      const result = await queue.current.next(() => commit(kind, list, typed, rows, habits, asking));
      if (result.refused > 0) {
        const waiting = list.length - result.refused;
        say(
          waiting > 0
            ? `Nothing was written: ${cells(result.refused)} can't be kept as typed, ${cells(waiting)} wait.`
            : "Not written: the reason stands under the row.",
        );
      } else if (result.written > 1) say(`${cells(result.written)} written.`);
      else if (result.written === 1) say("Written.");
      return result;
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
          fetched.set(row.id, row);
          keys.push(keyOf(row.id));
        }
      return [...keys, ...typed.rowsFrom(Math.max(0, top - total), count - onRecord)];
    };

    const mayWrite = (): boolean => {
      if (readOnly) say(readOnly);
      return readOnly === null;
    };

    const writeRow = (key: RowKey) => {
      const list = [...typed.row(key)].map(([field, { text }]): CellText => ({ row: key, field, text }));
      if (list.length > 0) void write(list);
    };

    return {
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
        setEdit({ spot, row: key, initial: text ?? before, replaces: text !== null });
      },
      keep(text, found) {
        if (!edit) return;
        setEdit(null);
        const column = columns[edit.spot.column];
        if (!column) return;
        const key = edit.row;
        const before = typed.cell(key, column.id);
        if (!found && !edit.replaces && text === edit.initial && before?.state !== "refused") return;
        const cell: CellText = { row: key, field: column.id, text, found };
        if (idOf(key) === null) {
          // A row being made is written when the focus leaves it, whole.
          if (text.trim() === "" && !before) return;
          const reading = readCell(kind, column.id, column.field, text, habits);
          const refused = reading.is === "refused" && text.trim() !== "";
          typed.put(key, column.id, {
            text,
            state: refused ? "refused" : "waiting",
            reason: refused ? reading.reason : null,
          });
          return;
        }
        void write([cell]);
      },
      abandon: () => setEdit(null),
      leave(row, field) {
        if (field === undefined) typed.dropRow(row);
        else typed.drop(row, field);
      },
      async paste(text, selected) {
        if (!mayWrite()) return null;
        await queue.current.idle();
        const block = readBlock(text);
        const plan = planPaste(block, selected, columns.length);
        if (plan.cells.length > MOST_CELLS) {
          say(`That is ${plan.cells.length} cells; a block may have ${MOST_CELLS}. Read it as a folder instead.`);
          return null;
        }
        const keys = await keysOf(plan.covers.top, plan.covers.bottom - plan.covers.top + 1);
        const list = plan.cells.flatMap(({ spot, text: cell }): CellText[] => {
          const row = keys[spot.row - plan.covers.top];
          const column = columns[spot.column];
          return row && column && !(idOf(row) === null && cell.trim() === "")
            ? [{ row, field: column.id, text: cell }]
            : [];
        });
        if (list.length === 0) return null;
        const { refused } = await write(list);
        if (refused === 0 && plan.dropped > 0)
          say(`${cells(list.length)} written; ${cells(plan.dropped)} to the right of the last column left out.`);
        return plan.covers;
      },
      async fillDown(selected) {
        const plan = planFill(selected);
        if (!plan) {
          say("There is nothing above to fill down.");
          return;
        }
        if (!mayWrite()) return;
        // What was kept a moment ago is to be filled down too.
        await queue.current.idle();
        const { block } = plan;
        const [fromKey] = await keysOf(plan.from, 1);
        const keys = await keysOf(block.top, block.bottom - block.top + 1);
        if (!fromKey || (block.bottom - block.top + 1) * (block.right - block.left + 1) > MOST_CELLS) return;
        const from = rowOf(fromKey) ?? fetched.get(idOf(fromKey) ?? 0) ?? null;
        const list = keys.flatMap((row) =>
          columns.slice(block.left, block.right + 1).map((column): CellText => {
            const cell = { row, field: column.id, text: textOf(from, fromKey, column) };
            return from && !typed.cell(fromKey, column.id) ? { ...cell, values: copied(column, from) } : cell;
          }),
        );
        await write(list);
      },
      async clear(selected) {
        if (!mayWrite()) return;
        await queue.current.idle();
        const keys = await keysOf(selected.top, selected.bottom - selected.top + 1);
        const list: CellText[] = [];
        for (const row of keys)
          for (const column of columns.slice(selected.left, selected.right + 1)) {
            if (typed.cell(row, column.id)) typed.drop(row, column.id);
            if (idOf(row) !== null && known.value(row, column.id) !== null)
              list.push({ row, field: column.id, text: "" });
          }
        if (list.length > 0) await write(list);
      },
      leaveRow(row) {
        if (idOf(row) !== null || readOnly) return;
        const made = [...typed.row(row).values()];
        if (made.length > 0 && !made.some(({ state }) => state === "saving")) writeRow(row);
      },
      writeOver(row, rev) {
        const list = [...typed.row(row)].map(([field, { text }]): CellText => ({ row, field, text }));
        void write(list, { ...known, rev: () => rev });
      },
      writeWaiting() {
        void write(typed.waiting().map(({ row, field, cell }): CellText => ({ row, field, text: cell.text })));
      },
    };
  }, [edit, kind, source, typed, columns, calls, habits, readOnly, keyAt, say, rowOf, textOf]);
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

/** The stored values behind a cell: of a subject also what kind of record it is. */
function copied(column: GridColumn, row: GridRow): Record<string, Value> {
  const { field } = column;
  const kindField = field.type === "subject" ? { [field.kindField]: row.values[field.kindField] ?? null } : {};
  return { ...kindField, [column.id]: row.values[column.id] ?? null };
}
