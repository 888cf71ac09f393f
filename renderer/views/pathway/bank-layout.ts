/** Where each pipe of a bank is drawn. Pixels; diameters of pipes and cables to one scale. */
import type { Pipe } from "../../../core/pathway/answer.ts";

export interface DrawnPipe {
  readonly pipe: Pipe;
  readonly x: number;
  readonly y: number;
  /** Half its bore; of a pipe without a diameter on record as large as the largest. */
  readonly r: number;
  readonly scaled: boolean;
}

export interface BankLayout {
  readonly drawn: readonly DrawnPipe[];
  readonly width: number;
  readonly height: number;
  /** Pixels for a millimetre; null where no diameter is on record. */
  readonly perMm: number | null;
  /** Every pipe has its row and column; else they stand in order of their numbers. */
  readonly placed: boolean;
}

/** Room for the names above and below a pipe, and between neighbours. */
export const ABOVE = 24;
export const BELOW = 20;
const LEAST_CELL = 104;
const GAP = 14;
const MOST_R = 54;
const LEAST_R = 20;

/**
 * @param mirrored as seen from the other end: columns run the other way
 * @param k letters are so many times their usual size
 */
export function layOutBank(
  pipes: readonly Pipe[],
  { width, height, mirrored, k }: { width: number; height: number; mirrored: boolean; k: number },
): BankLayout {
  const outer = pipes.filter(({ inside }) => inside === null);
  const keys = outer.map(({ row, column }) => `${row} ${column}`);
  const placed =
    outer.every(({ row, column }) => row !== null && column !== null) && new Set(keys).size === keys.length;
  const least = LEAST_CELL * k;
  const perRow = Math.max(1, Math.floor((width - GAP) / (least + GAP)));
  const columns = placed ? Math.max(...outer.map(({ column }) => column ?? 1)) : Math.min(perRow, outer.length);
  const cellOf = (pipe: Pipe, index: number): { row: number; column: number } =>
    placed
      ? { row: (pipe.row ?? 1) - 1, column: (pipe.column ?? 1) - 1 }
      : { row: Math.floor(index / columns), column: index % columns };
  const cells = outer.map(cellOf);
  const rows = 1 + Math.max(0, ...cells.map(({ row }) => row));
  const names = (ABOVE + BELOW) * k;
  const R = Math.max(LEAST_R, Math.min(MOST_R, (height / rows - names - GAP) / 2));
  const largest = Math.max(0, ...outer.map(({ inner_diameter_mm: mm }) => mm ?? 0));
  const perMm = largest > 0 ? (2 * R) / largest : null;
  const [cellWidth, cellHeight] = [Math.max(least, 2 * R + GAP), 2 * R + names + GAP];
  const drawn = outer.map((pipe, index): DrawnPipe => {
    const { row, column } = cells[index] ?? { row: 0, column: 0 };
    const across = mirrored && placed ? columns - 1 - column : column;
    const scaled = perMm !== null && pipe.inner_diameter_mm !== null && pipe.inner_diameter_mm > 0;
    return {
      pipe,
      x: (across + 0.5) * cellWidth,
      y: row * cellHeight + ABOVE * k + R,
      r: scaled ? Math.max(4, ((pipe.inner_diameter_mm ?? 0) * (perMm ?? 0)) / 2) : R,
      scaled,
    };
  });
  return { drawn, width: columns * cellWidth, height: rows * cellHeight, perMm, placed };
}
