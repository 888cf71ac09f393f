/** Ditto marks: a cell that says no more than that it repeats the one above it. */
import type { SheetRow } from "./table.ts";

/** As crews write them, common practice, no source. */
const DITTO = /^(?:["″”„〃]|''|,,|-\s?["″”]\s?-|do\.|ditto)$/i;

/**
 * The rows with what stands above in the place of each ditto mark, and which cells of each row were read so. A mark in the
 * first row, or below an empty cell, stays as it is written.
 */
export function dittoed(rows: readonly SheetRow[]): SheetRow[] {
  let above: readonly string[] = [];
  return rows.map((row) => {
    const repeated: number[] = [];
    const cells = row.cells.map((cell, column) => {
      const held = above[column] ?? "";
      if (held.trim() === "" || !DITTO.test(cell.trim())) return cell;
      repeated.push(column);
      return held;
    });
    above = cells;
    return repeated.length === 0 ? row : { ...row, cells, repeated };
  });
}
