/** Keys, mouse and clipboard of the table, as what they do to its cells. */
import { type ClipboardEvent, type KeyboardEvent, type MouseEvent, type RefObject, useRef } from "react";
import type { Failure } from "../../core/result.ts";
import { counted } from "../../core/words/counted.ts";
import { say } from "../../core/words/say.ts";
import { count } from "../controls/numbers.ts";
import { type Offer, useOffering } from "../frame/commands.ts";
import { KEY_TABLE } from "../frame/key-table.ts";
import type { Found } from "./commit.ts";
import { gridClipboard } from "./grid-clipboard.ts";
import type { GridProps } from "./grid-props.ts";
import {
  actNamed,
  type Block,
  blockOf,
  type Command,
  type Extent,
  isOneCell,
  moving,
  onHead,
  onward,
  type Spot,
} from "./keys.ts";
import type { GridRow } from "./row-source.ts";
import { useDragBeyond } from "./use-drag-beyond.ts";
import type { Editing } from "./use-editing.ts";
import type { GridFocus } from "./use-grid-focus.ts";
import type { GridTable } from "./use-grid-table.ts";
import { useHeldKeys } from "./use-held-keys.ts";
import type { PlaceControl } from "./use-place.ts";

export interface GridCommandsOptions {
  readonly props: GridProps;
  readonly view: RefObject<HTMLDivElement | null>;
  readonly table: GridTable;
  readonly placed: PlaceControl;
  readonly editing: Editing;
  readonly focus: GridFocus;
  readonly extent: Extent;
  readonly total: number;
  /** Height of the head, in pixels. */
  readonly head: number;
  /** Rows that fit the view. */
  readonly fitting: () => number;
  /** Puts the cursor into a column's filter. */
  readonly toFilter: (column: number, text: string | null) => void;
}

/** What one act of the program takes. */
const MOST_DELETED = 100_000;
const MOST_PICKED = 50_000;

/** What can't be done to a row before it is read; all else is, or reads it itself. */
const NEEDS_ROW: ReadonlySet<Command["do"]> = new Set(["edit", "open_page"]);

const pressOf = (event: KeyboardEvent) => ({
  key: event.key,
  ctrl: event.ctrlKey || event.metaKey,
  shift: event.shiftKey,
  alt: event.altKey,
  composing: event.nativeEvent.isComposing,
});

/** "the cell", "48 × 2 cells" */
const hereWords = (block: Block): string =>
  isOneCell(block)
    ? say`the table, this cell`
    : say`the table, ${counted((block.bottom - block.top + 1) * (block.right - block.left + 1), "cell", "cells")}`;

function spotAt(target: EventTarget): Spot | null {
  if (!(target instanceof Element)) return null;
  const column = target.closest<HTMLElement>("[data-column]")?.dataset.column;
  const row = target.closest<HTMLElement>("[data-row]")?.dataset.row;
  return column === undefined || row === undefined ? null : { row: Number(row), column: Number(column) };
}

export function useGridCommands(options: GridCommandsOptions) {
  const { props, view, table, placed, editing, focus, extent, total, fitting, toFilter } = options;
  const { source, typed, say: tells } = props;
  const { place, goTo, select, keyAt, rowsNow } = placed;
  const { columns } = table;
  const { edit } = editing;
  const block = blockOf(place);
  const { spot } = place;
  // After a run of Tabs, Enter goes back to where the run began.
  const tabbedFrom = useRef<number | null>(null);
  const rowAt = (index: number): GridRow | null => (index >= 0 && index < total ? (source.row(index) ?? null) : null);

  const move = (to: Spot, extend = false): void => {
    focus.want();
    goTo(to, extend);
  };

  const endEdit = (command: Command, text: string, found: Found | null): void => {
    if (command.do === "abandon") {
      editing.abandon();
      focus.want();
      return;
    }
    editing.keep(text, found);
    if (command.do !== "keep" || !edit) return;
    if (command.after === "stay") {
      // Kept by going elsewhere: the focus is there already.
      if (document.activeElement === null || view.current?.contains(document.activeElement)) focus.want();
      tabbedFrom.current = null;
      return;
    }
    const start = command.after === "down" ? (tabbedFrom.current ?? edit.spot.column) : edit.spot.column;
    if (command.after === "right") tabbedFrom.current ??= edit.spot.column;
    else tabbedFrom.current = null;
    // What was kept may have made the empty row a row: there is another one below it now.
    const rows = rowsNow();
    let next = onward({ row: edit.spot.row, column: start }, command.after, { ...extent, rows });
    const atEnd = command.after === "right" && next.column === edit.spot.column;
    if (atEnd) next = { row: Math.min(rows - 1, edit.spot.row + 1), column: tabbedFrom.current ?? 0 };
    move(next);
    if (command.after === "right" || command.after === "left") editing.begin(next, null);
  };

  const headPressed = (event: KeyboardEvent) => {
    const command = onHead(pressOf(event), spot, extent);
    const column = columns[spot.column];
    if (!command || !column) return;
    event.preventDefault();
    switch (command.do) {
      case "go":
        return move(command.to);
      case "sort":
        return table.sortBy(column, command.also);
      case "widen":
        return table.widen(column, command.by);
      case "shift": {
        const to = table.shift(spot.column, command.by);
        return to === null ? undefined : move({ row: -1, column: to });
      }
      case "filter":
        return toFilter(spot.column, command.text);
      case "ask":
        return carryOut(command);
    }
  };

  /** Null where they can't be read, which is told. */
  const readRows = async (from: number, to: number): Promise<GridRow[] | null> => {
    try {
      return await source.rows(from, to);
    } catch (error) {
      tells((error as Failure).message);
      return null;
    }
  };

  const deleteRows = async (): Promise<void> => {
    for (let index = Math.max(block.top, total); index <= block.bottom; index++) {
      const key = keyAt(index);
      if (key && typed.row(key).size > 0) editing.leave(key);
    }
    const last = Math.min(block.bottom, total - 1);
    if (last - block.top >= MOST_DELETED)
      return tells(say`That is ${last - block.top + 1} rows; one act may delete ${MOST_DELETED}.`);
    const held = Array.from({ length: Math.max(0, last - block.top + 1) }, (_, at) => rowAt(block.top + at));
    const rows = held.every((row) => row !== null) ? held : await readRows(block.top, last + 1);
    if (rows && rows.length > 0) props.onDelete(rows);
  };

  const pickRows = async (from: number, to: number): Promise<void> => {
    const last = Math.min(to, total - 1);
    if (last < from) return;
    if (last - from >= MOST_PICKED) return tells(say`No more than ${count(MOST_PICKED)} rows are picked at once.`);
    const held = Array.from({ length: last - from + 1 }, (_, at) => rowAt(from + at));
    const rows = held.every((row) => row !== null) ? held : await readRows(from, last + 1);
    if (rows) props.picked.turn(rows.map(({ id }) => id));
  };

  const carryOut = (command: Command) => {
    switch (command.do) {
      case "go":
        tabbedFrom.current = null;
        return move(command.to, command.extend);
      case "select":
        focus.want();
        return select(command.from, command.to);
      case "edit":
        return editing.begin(spot, command.text);
      case "fill_down":
        return void editing.fillDown(block);
      case "pick_rows":
        return void pickRows(block.top, block.bottom);
      case "ask":
        return props.onAsk(command.what);
      case "count_on":
        return void editing.countOn(block);
      case "copy_with_heads":
        return void clipboard.copy(block, { heads: true });
      case "clear":
        return void editing.clear(block);
      case "delete_rows":
        return void deleteRows();
      case "open_page": {
        const row = rowAt(spot.row);
        return row ? props.onOpen(row) : undefined;
      }
      case "keep":
      case "abandon":
        return;
    }
  };

  // The list of acts takes them from the one table of keys, and they act on what is selected.
  useOffering(() =>
    KEY_TABLE.flatMap(({ group, act, keys, words, offered }): Offer[] => {
      const command = group === "A table" && offered ? actNamed(act, place, extent) : null;
      if (!command || spot.row < 0) return [];
      const run = () => {
        focus.want();
        view.current?.querySelector<HTMLElement>("[data-region-first]")?.focus();
        carryOut(command);
      };
      return [{ key: `table ${act}`, words, about: hereWords(block), keys: keys[0] ?? null, run }];
    }),
  );

  const held = useHeldKeys({
    view,
    ready: () => source.total !== null && (edit !== null || keyAt(spot.row) !== null),
    never: () => (source.error === null ? null : say`The row couldn't be read: the keys pressed there weren't taken.`),
    say: tells,
  });

  const onKeyDown = (event: KeyboardEvent) => {
    if (edit || event.defaultPrevented || !(event.target instanceof HTMLElement)) return;
    if (spot.row < 0 && event.target.dataset.head !== undefined) return headPressed(event);
    if (spot.row < 0 || (event.target.dataset.column === undefined && event.target !== view.current)) return;
    const key = keyAt(spot.row);
    const column = columns[spot.column];
    if (event.key === "Escape" && key && column && typed.cell(key, column.id)?.state === "refused") {
      event.preventDefault();
      return editing.leave(key, column.id);
    }
    // Before the first rows are there, any key of the table is meant for them.
    const within = { ...extent, rows: Math.max(extent.rows, spot.row + 1), page: fitting() };
    const command = moving(pressOf(event), place, within);
    if (!command) return;
    const waits = source.total === null || (NEEDS_ROW.has(command.do) && key === null);
    if (event.nativeEvent.isTrusted && (waits || held.any())) return held.hold(event);
    event.preventDefault();
    carryOut(command);
  };

  const clipboard = gridClipboard({
    source,
    columns,
    rowsNow,
    keyAt,
    rowAt,
    textOf: editing.textOf,
    lengths: props.habits.lengths,
    say: tells,
  });
  const onCopy = (event: ClipboardEvent): void => {
    if (edit || !spotAt(event.target)) return;
    event.preventDefault();
    void clipboard.copy(block, { data: event.clipboardData });
  };
  const onCut = (event: ClipboardEvent): void => {
    if (edit || !spotAt(event.target)) return;
    event.preventDefault();
    // What didn't come to the clipboard stays where it is.
    void clipboard.copy(block, { data: event.clipboardData }).then((copied) => {
      if (copied) void editing.clear(block);
    });
  };

  const onPaste = (event: ClipboardEvent): void => {
    if (edit || !spotAt(event.target)) return;
    event.preventDefault();
    const text = event.clipboardData.getData("text/plain");
    if (text === "") return;
    const before = placed.moves();
    void editing.paste(text, block).then((covers) => {
      // Whoever has gone on meanwhile is not taken back.
      if (!covers || placed.moves() !== before) return;
      focus.want();
      // Rows that were made stand where the order puts them: one goes on below the last row, where the next are made.
      if (covers.bottom >= total && typed.drafts.length === 0) return goTo({ row: rowsNow() - 1, column: covers.left });
      select({ row: covers.bottom, column: covers.right }, { row: covers.top, column: covers.left });
    });
  };

  const drag = useDragBeyond(view, options.head, (rows, columns) => {
    if (!edit) goTo({ row: Math.max(0, spot.row + rows), column: Math.max(0, spot.column + columns) }, true);
  });
  const onMouseDown = (event: MouseEvent): void => {
    const gutter = event.target instanceof Element ? event.target.closest<HTMLElement>(".grid-row .grid-gutter") : null;
    const number = Number(gutter?.closest<HTMLElement>("[data-row]")?.dataset.row ?? -1);
    if (gutter && number >= 0 && number < total && event.button === 0 && !edit) {
      event.preventDefault();
      const before = props.picked.last;
      if (!event.shiftKey) move({ row: number, column: Math.max(0, spot.column) });
      const from = event.shiftKey && before !== null ? source.indexOf(before) : -1;
      return void pickRows(from >= 0 ? Math.min(from, number) : number, Math.max(from, number));
    }
    const at = spotAt(event.target);
    if (!at || event.button !== 0 || (edit && edit.spot.row === at.row && edit.spot.column === at.column)) return;
    tabbedFrom.current = null;
    move(at, event.shiftKey);
    drag.begin();
  };
  const onMouseOver = (event: MouseEvent): void => {
    // A button that was pressed elsewhere, on a column's edge, drags something else.
    if (event.buttons !== 1 || edit || !drag.under()) return;
    const at = spotAt(event.target);
    if (at && (at.row !== spot.row || at.column !== spot.column)) goTo(at, true);
  };
  const onDoubleClick = (event: MouseEvent): void => {
    const at = spotAt(event.target);
    if (at && !edit) editing.begin(at, null);
  };

  return { move, endEdit, handlers: { onKeyDown, onCopy, onCut, onPaste, onMouseDown, onMouseOver, onDoubleClick } };
}
