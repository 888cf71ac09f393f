/** Rows of a table that are walked with the keyboard: the arrows go from row to row, Enter opens one. */
import type { KeyboardEvent } from "react";

/** A table whose rows or cells are walked with the arrows is told as a grid. */
export const WALKED = { role: "grid" } as const;

export interface RowKeys {
  /** The row one stands on, and how many there are. */
  readonly at: number;
  readonly rows: number;
  readonly goTo: (row: number) => void;
  readonly open: (row: number) => void;
}

/** What a key does on a row; keys meant for something inside a row, or held with others, are left alone. */
export function onRowKey(event: KeyboardEvent, { at, rows, goTo, open }: RowKeys): void {
  if (rows === 0 || !(event.target instanceof HTMLTableRowElement)) return;
  if (event.altKey || event.ctrlKey || event.metaKey) return;
  const next = {
    ArrowDown: at + 1,
    ArrowUp: at - 1,
    PageDown: at + 10,
    PageUp: at - 10,
    Home: 0,
    End: rows - 1,
  }[event.key];
  if (next !== undefined) {
    event.preventDefault();
    goTo(Math.max(0, Math.min(rows - 1, next)));
  } else if (event.key === "Enter") {
    // What is opened may take the focus; this Enter is not meant for it.
    event.preventDefault();
    open(at);
  }
}
