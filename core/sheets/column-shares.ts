/** How wide the columns of a table on paper stand: by what is in them, so that a row takes one line where that can be. */
import type { Cell, Column, Piece } from "../paper/document.ts";

/** Room of a colour's swatch, and of what stands around a cell, in characters. */
const SWATCH = 5;
const AROUND = 2;
/** What is longer than this goes on in a second line, rather than take the room of all others. */
const MOST = 36;

/**
 * Gives each column a share as large as the longest of its cells; one that is told in `least` gets at least so many
 * characters, for what is written there by hand.
 */
export function sharedByContent(
  columns: readonly Column[],
  rows: readonly (readonly Cell[])[],
  least: Readonly<Record<number, number>> = {},
): Column[] {
  return columns.map((column, index) => {
    const head = Math.max(...column.head.split(" ").map(({ length }) => length));
    const longest = rows.reduce((most, row) => Math.max(most, lengthOf(row[index] ?? "")), 0);
    return { ...column, weight: Math.min(MOST + SWATCH, Math.max(head, longest, least[index] ?? 0)) + AROUND };
  });
}

function lengthOf(cell: Cell): number {
  if (cell !== null && typeof cell === "object" && ("tick" in cell || "write" in cell)) return 2;
  const pieces: readonly Piece[] = Array.isArray(cell) ? cell : [cell as Piece];
  return Math.max(
    0,
    ...pieces.map((one) => (one !== null && typeof one === "object" ? one.words.length + SWATCH : (one ?? "").length)),
  );
}
