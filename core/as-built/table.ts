/** A sheet as it was read: rows of text, each with its number in the file. What a cell means is decided later. */

export interface SheetRow {
  /** Its number in the file or worksheet, from 1. */
  readonly row: number;
  readonly cells: readonly string[];
  /** Columns, from 0, whose cells hold a formula without its value. */
  readonly unvalued?: readonly number[];
  /** Columns, from 0, whose cells held a ditto mark and are read as what stands above. */
  readonly repeated?: readonly number[];
}

export interface SheetTable {
  /** The worksheet's name, or the file's. */
  readonly name: string;
  readonly rows: readonly SheetRow[];
  /** What was noticed while reading, as sentences: merged cells filled, hidden rows. */
  readonly notices: readonly string[];
}

/** Beyond these a file is no as-built sheet, and reading it would only fill the memory. */
export const MOST_BYTES = 64_000_000;
export const MOST_ROWS = 100_000;
export const MOST_COLUMNS = 500;

/** Letters of a column as spreadsheets name it: A, B, ..., Z, AA. */
export function columnLetters(index: number): string {
  let letters = "";
  for (let at = index + 1; at > 0; at = Math.floor((at - 1) / 26))
    letters = String.fromCharCode(65 + ((at - 1) % 26)) + letters;
  return letters;
}

/** Without rows that hold nothing, not even a formula, and columns beyond the last that holds something. */
export function trimmed(rows: readonly SheetRow[]): SheetRow[] {
  const kept: SheetRow[] = [];
  for (const { row, cells, unvalued } of rows) {
    let end = cells.length;
    while (end > 0 && (cells[end - 1] ?? "").trim() === "") end -= 1;
    if (end > 0 || unvalued) kept.push({ row, cells: cells.slice(0, end), ...(unvalued ? { unvalued } : {}) });
  }
  return kept;
}
