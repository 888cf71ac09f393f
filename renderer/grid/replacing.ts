/** Finding and replacing in cells, as plain text: what a cell is copied as is what is searched. */
import type { LengthUnit } from "../../core/model/units.ts";
import type { RowChange } from "./change-rows.ts";
import type { GridColumn } from "./columns.ts";
import type { GridRow } from "./row-source.ts";
import { copyText } from "./showing.ts";

export interface Sought {
  readonly text: string;
  /** The cell is the text, and not only has it. */
  readonly whole: boolean;
  /** A and a differ. */
  readonly exact: boolean;
}

const SEARCHED: ReadonlySet<GridColumn["field"]["type"]> = new Set(["text", "reference", "choice", "integer", "date"]);

/** Whether cells of the column are searched: measures are shown in a unit of the reader's choice, and aren't text. */
export const isSearched = ({ field }: GridColumn): boolean =>
  SEARCHED.has(field.type) && !((field.type === "integer" || field.type === "number") && field.unit === "m");

const fold = (text: string, exact: boolean): string => (exact ? text : text.toLowerCase());

export function holdsText(cell: string, { text, whole, exact }: Sought): boolean {
  if (text === "") return false;
  const [own, asked] = [fold(cell, exact), fold(text, exact)];
  return whole ? own.trim() === asked.trim() : own.includes(asked);
}

/** The cell with every occurrence replaced. */
export function replaced(cell: string, sought: Sought, by: string): string {
  if (!holdsText(cell, sought)) return cell;
  if (sought.whole) return by;
  const pattern = new RegExp(sought.text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&"), sought.exact ? "gu" : "giu");
  return cell.replace(pattern, () => by);
}

export interface Match extends RowChange {
  readonly before: string;
}

export function matchesIn(
  rows: readonly GridRow[],
  columns: readonly GridColumn[],
  sought: Sought,
  by: string,
  lengths: LengthUnit,
): Match[] {
  return rows.flatMap((row) =>
    columns.flatMap((column): Match[] => {
      const before = copyText(column.field, row.values[column.id] ?? null, row.shown[column.id] ?? null, lengths);
      return holdsText(before, sought) ? [{ row, field: column.id, before, text: replaced(before, sought, by) }] : [];
    }),
  );
}
