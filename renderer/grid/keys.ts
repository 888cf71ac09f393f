/**
 * What each key means in the grid: the ARIA grid pattern while moving, a spreadsheet's habits while editing. Pure: it
 * answers a command and knows nothing of the page.
 */
import { actFor, KEY_TABLE } from "../frame/key-table.ts";
import type { Asked } from "./asked.ts";

/** A cell by its place: row from 0 over all rows asked for, -1 for the head; column from 0 over those shown. */
export interface Spot {
  readonly row: number;
  readonly column: number;
}

export interface Extent {
  readonly rows: number;
  /** Rows that hold something: without the empty one at the end. */
  readonly filled?: number;
  readonly columns: number;
  /** How many rows a page key goes. */
  readonly page: number;
  /** Whether one can go up into the head, to sort and filter by keys. */
  readonly head?: boolean;
}

export interface KeyPress {
  readonly key: string;
  readonly ctrl: boolean;
  readonly shift: boolean;
  readonly alt: boolean;
  /** While an input method composes, keys are its own. */
  readonly composing: boolean;
}

export interface GridPlace {
  /** Where the focus is. */
  readonly spot: Spot;
  /** The other corner of the selected block; the same as `spot` when one cell is selected. */
  readonly anchor: Spot;
}

export type Onward = "down" | "up" | "right" | "left" | "stay";

export type Command =
  /** The focus goes; with `extend` the block grows and the anchor stays. */
  | { readonly do: "go"; readonly to: Spot; readonly extend: boolean }
  | { readonly do: "select"; readonly from: Spot; readonly to: Spot }
  /** Editing begins; `text` replaces what is there, null keeps it. */
  | { readonly do: "edit"; readonly text: string | null }
  /** What was typed is kept, and the focus goes on. */
  | { readonly do: "keep"; readonly after: Onward }
  /** What was typed is left. */
  | { readonly do: "abandon" }
  | { readonly do: "fill_down" }
  | { readonly do: "count_on" }
  /** The block goes to the clipboard with its columns' names above it. */
  | { readonly do: "copy_with_heads" }
  | { readonly do: "clear" }
  | { readonly do: "delete_rows" }
  /** The rows of the block are picked, or let go. */
  | { readonly do: "pick_rows" }
  | { readonly do: "ask"; readonly what: Asked }
  /** The record's page. */
  | { readonly do: "open_page" };

const clamp = (value: number, most: number): number => Math.max(0, Math.min(value, most));

/** The nearest cell inside the grid. */
export const within = (spot: Spot, { rows, columns }: Extent): Spot => ({
  row: clamp(spot.row, rows - 1),
  column: clamp(spot.column, columns - 1),
});

/** The cell one step onward; at an edge it is the same cell, for a grid does not wrap. */
export function onward(spot: Spot, way: Onward, extent: Extent): Spot {
  const step = { down: [1, 0], up: [-1, 0], right: [0, 1], left: [0, -1], stay: [0, 0] } as const;
  const [rows, columns] = step[way];
  return within({ row: spot.row + rows, column: spot.column + columns }, extent);
}

const printable = (press: KeyPress): boolean => [...press.key].length === 1 && !press.ctrl && !press.alt;

function target(press: KeyPress, spot: Spot, extent: Extent): Spot | null {
  const { row, column } = spot;
  // A block takes in what there is; one goes to the empty row to make a new one.
  const filled = Math.max(1, extent.filled ?? extent.rows) - 1;
  const lastRow = press.shift ? Math.max(row, filled) : extent.rows - 1;
  const lastColumn = extent.columns - 1;
  switch (press.key) {
    case "ArrowDown":
      return { row: press.ctrl ? lastRow : row + 1, column };
    case "ArrowUp":
      return { row: press.ctrl ? 0 : row - 1, column };
    case "ArrowRight":
      return { row, column: press.ctrl ? lastColumn : column + 1 };
    case "ArrowLeft":
      return { row, column: press.ctrl ? 0 : column - 1 };
    case "Home":
      return { row: press.ctrl ? 0 : row, column: 0 };
    case "End":
      return { row: press.ctrl ? lastRow : row, column: lastColumn };
    case "PageDown":
      return { row: row + extent.page, column };
    case "PageUp":
      return { row: row - extent.page, column };
    default:
      return null;
  }
}

/** What a key does while moving about; null leaves it to the page (Tab goes out of the grid, Ctrl+K to the search). */
export function moving(press: KeyPress, { spot, anchor }: GridPlace, extent: Extent): Command | null {
  if (press.composing || press.alt || extent.rows === 0 || extent.columns === 0) return null;
  if (extent.head && spot.row === 0 && press.key === "ArrowUp" && !press.ctrl && !press.shift)
    return { do: "go", to: { row: -1, column: spot.column }, extend: false };
  const to = target(press, spot, extent);
  if (to) return { do: "go", to: within(to, extent), extend: press.shift };
  if (press.ctrl) return withControl(press, spot, extent);
  if (press.shift && press.key === " ")
    return {
      do: "select",
      from: { row: anchor.row, column: 0 },
      to: { row: spot.row, column: extent.columns - 1 },
    };
  switch (press.key) {
    case "F2":
      return { do: "edit", text: null };
    case "Enter":
      return press.shift ? { do: "go", to: onward(spot, "up", extent), extend: false } : { do: "edit", text: null };
    case "Delete":
    case "Backspace":
      return { do: "clear" };
    default:
      return printable(press) ? { do: "edit", text: press.key } : null;
  }
}

/** What a key does while the focus is on a column's head. */
export type HeadCommand =
  | { readonly do: "go"; readonly to: Spot }
  /** Sorts by the column; with `also` after those sorted by already. */
  | { readonly do: "sort"; readonly also: boolean }
  | { readonly do: "widen"; readonly by: number }
  /** Moves the column one place earlier or later. */
  | { readonly do: "shift"; readonly by: -1 | 1 }
  /** Filters by the column, beginning with what was typed. */
  | { readonly do: "filter"; readonly text: string | null }
  /** A question about the table as a whole. */
  | { readonly do: "ask"; readonly what: Asked };

/** By so many pixels a key widens a column. */
const WIDEN = 16;

export function onHead(press: KeyPress, spot: Spot, extent: Extent): HeadCommand | null {
  if (press.composing || press.alt) return null;
  const sideways = press.key === "ArrowLeft" ? -1 : press.key === "ArrowRight" ? 1 : null;
  if (sideways !== null) {
    if (press.ctrl && press.shift) return { do: "shift", by: sideways };
    if (press.ctrl) return { do: "widen", by: sideways * WIDEN };
    return { do: "go", to: { row: -1, column: clamp(spot.column + sideways, extent.columns - 1) } };
  }
  if (press.ctrl && (press.key === "Home" || press.key === "End")) return moveDown(press, spot, extent);
  if (press.ctrl) return aboutTable(press);
  switch (press.key) {
    case "ArrowDown":
    case "PageDown":
      return { do: "go", to: within({ row: 0, column: spot.column }, extent) };
    case "Home":
      return { do: "go", to: { row: -1, column: 0 } };
    case "End":
      return { do: "go", to: { row: -1, column: extent.columns - 1 } };
    case "Enter":
    case " ":
      return { do: "sort", also: press.shift };
    case "F2":
      return { do: "filter", text: null };
    default:
      return printable(press) ? { do: "filter", text: press.key } : null;
  }
}

/** What is asked about the table as a whole can be asked from its heads too. */
function aboutTable(press: KeyPress): HeadCommand | null {
  const act = actFor("A table", press);
  switch (act) {
    case "replace":
    case "write_file":
    case "columns":
    case "views":
      return { do: "ask", what: act };
    default:
      return null;
  }
}

const moveDown = (press: KeyPress, spot: Spot, extent: Extent): HeadCommand | null => {
  const to = target(press, spot, extent);
  return to ? { do: "go", to: within(to, extent) } : null;
};

function withControl(press: KeyPress, spot: Spot, extent: Extent): Command | null {
  // "All" is what there is: to fill down or empty it makes no new record.
  const last = Math.max(1, extent.filled ?? extent.rows) - 1;
  const act = actFor("A table", press);
  switch (act) {
    case "select_all":
      return {
        do: "select",
        from: { row: 0, column: 0 },
        to: { row: last, column: extent.columns - 1 },
      };
    case "select_column":
      return { do: "select", from: { row: 0, column: spot.column }, to: { row: last, column: spot.column } };
    case "fill_down":
      return { do: "fill_down" };
    case "count_on":
      return { do: "count_on" };
    case "copy_with_heads":
      return { do: "copy_with_heads" };
    case "delete_rows":
      return { do: "delete_rows" };
    case "open_page":
      return { do: "open_page" };
    case "pick_rows":
      return { do: "pick_rows" };
    case "set_field":
    case "replace":
    case "write_file":
    case "add_many":
    case "columns":
    case "views":
      return { do: "ask", what: act };
    default:
      return null;
  }
}

/** The same acts by their names, for whoever chose one from the list of acts. */
export function actNamed(act: string, place: GridPlace, extent: Extent): Command | null {
  const row = KEY_TABLE.find((one) => one.group === "A table" && one.act === act);
  const parts = row?.keys[0]?.split(" ") ?? [];
  const press = {
    key: parts.at(-1) ?? "",
    ctrl: parts.includes("Ctrl"),
    shift: parts.includes("Shift"),
    alt: false,
    composing: false,
  };
  return moving(press, place, extent);
}

/** What a key does while a cell is edited; null leaves it to the field. */
export function editing(press: KeyPress): Command | null {
  if (press.composing || press.alt) return null;
  switch (press.key) {
    case "Enter":
      if (press.ctrl) return { do: "keep", after: "stay" };
      return { do: "keep", after: press.shift ? "up" : "down" };
    case "Tab":
      return press.ctrl ? null : { do: "keep", after: press.shift ? "left" : "right" };
    case "Escape":
      return { do: "abandon" };
    case "F2":
      return { do: "keep", after: "stay" };
    default:
      return null;
  }
}

/** A block of cells, both corners included. */
export interface Block {
  readonly top: number;
  readonly bottom: number;
  readonly left: number;
  readonly right: number;
}

export const blockOf = ({ spot, anchor }: GridPlace): Block => ({
  top: Math.min(spot.row, anchor.row),
  bottom: Math.max(spot.row, anchor.row),
  left: Math.min(spot.column, anchor.column),
  right: Math.max(spot.column, anchor.column),
});

export const holds = (block: Block, spot: Spot): boolean =>
  spot.row >= block.top && spot.row <= block.bottom && spot.column >= block.left && spot.column <= block.right;

export const isOneCell = (block: Block): boolean => block.top === block.bottom && block.left === block.right;
