/** The least sum of some amounts, each 0 or more, of which certain sums must reach certain lengths. */

/** `Σ weights[i] × amounts[i] ≥ least`. */
export interface AtLeast {
  readonly weights: readonly number[];
  readonly least: number;
}

const NOTHING = 1e-9;

/** Null where no amounts can do it. The dual simplex method; ties go to the first, so that it ends. */
export function leastSum(count: number, rows: readonly AtLeast[]): number[] | null {
  const wide = count + rows.length;
  // A row reads: its basic amount plus what stands before the others is the last column.
  const table = rows.map(({ weights, least }, row) => [
    ...Array.from({ length: count }, (_, at) => -(weights[at] ?? 0)),
    ...Array.from({ length: rows.length }, (_, at) => (at === row ? 1 : 0)),
    -least,
  ]);
  const cost = Array.from({ length: wide + 1 }, (_, at) => (at < count ? 1 : 0));
  const basis = rows.map((_, row) => count + row);
  for (let turn = 0; turn < 50 * (wide + 1); turn++) {
    const row = table.findIndex((one) => (one[wide] as number) < -NOTHING);
    if (row < 0) {
      const amounts = Array.from({ length: count }, () => 0);
      for (const [at, one] of table.entries()) {
        const basic = basis[at] as number;
        if (basic < count) amounts[basic] = Math.max(0, one[wide] as number);
      }
      return amounts;
    }
    const leaving = table[row] as number[];
    let column = -1;
    for (let at = 0; at < wide; at++) {
      if ((leaving[at] as number) >= -NOTHING) continue;
      const ratio = (cost[at] as number) / -(leaving[at] as number);
      if (column < 0 || ratio < (cost[column] as number) / -(leaving[column] as number) - NOTHING) column = at;
    }
    if (column < 0) return null;
    const pivot = leaving[column] as number;
    for (let at = 0; at <= wide; at++) leaving[at] = (leaving[at] as number) / pivot;
    for (const one of [...table, cost]) {
      const factor = one[column] as number;
      if (one === leaving || factor === 0) continue;
      for (let at = 0; at <= wide; at++) one[at] = (one[at] as number) - factor * (leaving[at] as number);
    }
    basis[row] = column;
  }
  return null;
}
