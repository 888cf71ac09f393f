/** Where the cells of a pasted or filled block go. */
import type { Block, Spot } from "./keys.ts";
import { isOneCell } from "./keys.ts";

export interface Placed {
  readonly spot: Spot;
  readonly text: string;
}

export interface PastePlan {
  readonly cells: readonly Placed[];
  /** The block that is selected afterwards. */
  readonly covers: Block;
  /** Cells to the right of the last column, which are left out. */
  readonly dropped: number;
}

/**
 * One value fills the whole selection; a block goes down and right from the selection's first cell, and is repeated where
 * the selection is a whole number of such blocks. Rows below the last are new records.
 */
export function planPaste(cells: readonly (readonly string[])[], selected: Block, columns: number): PastePlan {
  const height = cells.length;
  const width = Math.max(...cells.map((row) => row.length));
  const tall = selected.bottom - selected.top + 1;
  const wide = selected.right - selected.left + 1;
  const fits = !isOneCell(selected) && tall % height === 0 && wide % width === 0;
  const rows = fits ? tall : height;
  const across = fits ? wide : width;
  const placed: Placed[] = [];
  let dropped = 0;
  for (let row = 0; row < rows; row++) {
    const from = cells[row % height] ?? [];
    for (let column = 0; column < across; column++) {
      const text = from[column % width];
      if (text === undefined) continue;
      if (selected.left + column >= columns) dropped++;
      else placed.push({ spot: { row: selected.top + row, column: selected.left + column }, text });
    }
  }
  return {
    cells: placed,
    dropped,
    covers: {
      top: selected.top,
      bottom: selected.top + rows - 1,
      left: selected.left,
      right: Math.min(selected.left + across, columns) - 1,
    },
  };
}

/** Each column's first selected cell goes to all below it; for one cell alone, the cell above comes down. */
export function planFill(selected: Block): { readonly from: number; readonly block: Block } | null {
  if (selected.top < selected.bottom) return { from: selected.top, block: { ...selected, top: selected.top + 1 } };
  return selected.top > 0 ? { from: selected.top - 1, block: selected } : null;
}
