/** Round steps for axes, and room for names along a line. */

/** The largest of 1, 2 or 5 times a power of ten that leaves at most `most` steps up to `total`. */
export function roundStep(total: number, most: number): number {
  if (!(total > 0)) return 1;
  const least = total / most;
  const power = 10 ** Math.floor(Math.log10(least));
  return [1, 2, 5, 10].map((factor) => factor * power).find((step) => step >= least) ?? 10 * power;
}

export const stepsTo = (total: number, step: number): number[] =>
  Array.from({ length: Math.floor(total / step + 1e-9) + 1 }, (_, index) => index * step);

export interface Name {
  readonly key: string;
  /** Its middle, in pixels. */
  readonly x: number;
  readonly width: number;
  /** Lower ones are placed before others: both ends of a line, then its joints, then what it passes. */
  readonly rank?: number;
}

export interface PlacedName {
  readonly key: string;
  /** Moved inside the drawing where its middle would put it outside. */
  readonly x: number;
  /** 0 next to the line, 1 one row farther. */
  readonly row: number;
}

const GAP = 10;

/** Names that fit beside each other in up to `rows` rows; those that fit nowhere are left out. */
export function placeNames(names: readonly Name[], width: number, rows: number): PlacedName[] {
  const taken: { from: number; to: number }[][] = Array.from({ length: rows }, () => []);
  const placed: PlacedName[] = [];
  const byRank = names.toSorted((one, other) => (one.rank ?? 0) - (other.rank ?? 0));
  for (const name of byRank) {
    const half = name.width / 2;
    const x = Math.min(Math.max(name.x, half), Math.max(half, width - half));
    const row = taken.findIndex((spans) =>
      spans.every(({ from, to }) => x + half + GAP <= from || x - half - GAP >= to),
    );
    if (row < 0) continue;
    taken[row]?.push({ from: x - half, to: x + half });
    placed.push({ key: name.key, x, row });
  }
  return placed;
}

/** Width of a text about as it will be drawn, in pixels. */
export const monoWidth = (text: string, size = 12.5): number => text.length * size * 0.5;
export const sansWidth = (text: string, size = 12): number => text.length * size * 0.52;
