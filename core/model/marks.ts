/**
 * Arithmetic on sheath marks, in the unit printed on the sheath. Marks may run either way, and may jump where the print
 * rolls over or was made a second time (a mark break): after `at_mark` the next print reads `jumps_to`.
 */
import { type LengthUnit, metresIn } from "./units.ts";

export interface MarkBreak {
  readonly at_mark: number;
  readonly jumps_to: number;
}

/** One stretch of print without a jump; `from` or `to` is null where the sheath ends instead. */
interface Stretch {
  readonly from: number | null;
  readonly to: number | null;
  /** 1 when marks rise from A to B. */
  readonly direction: 1 | -1;
  /** Where its first print (for the first stretch its last) lies along the sheath. */
  readonly base: number;
}

const sign = (difference: number): 1 | -1 => (difference < 0 ? -1 : 1);

/** The way most marks go; a single slip must not turn all others round. */
function mostly(marks: readonly number[]): 1 | -1 {
  const steps = marks.slice(1).map((mark, index) => Math.sign(mark - (marks[index] ?? mark)));
  const sum = steps.reduce((total, step) => total + step, 0);
  return sum === 0 ? sign((marks.at(-1) ?? 0) - (marks[0] ?? 0)) : sign(sum);
}

function stretchesOf(marks: readonly number[], breaks: readonly MarkBreak[]): Stretch[] {
  const first = marks[0] ?? 0;
  const last = marks.at(-1) ?? 0;
  if (breaks.length === 0) return [{ from: null, to: null, direction: mostly(marks), base: 0 }];
  const stretches: Stretch[] = [];
  let base = 0;
  for (let k = 0; k <= breaks.length; k++) {
    const from = breaks[k - 1]?.jumps_to ?? null;
    const to = breaks[k]?.at_mark ?? null;
    const direction = sign((to ?? last) - (from ?? first));
    stretches.push({ from, to, direction, base });
    if (from !== null && to !== null) base += Math.abs(to - from);
  }
  return stretches;
}

/** Where a mark lies along the sheath, were it in this stretch; null when it can't be. */
function within(stretch: Stretch, mark: number): number | null {
  const { from, to, direction, base } = stretch;
  if (from !== null && (mark - from) * direction < 0) return null;
  if (to !== null && (to - mark) * direction < 0) return null;
  if (from !== null) return base + Math.abs(mark - from);
  return to === null ? mark * direction : base - Math.abs(to - mark);
}

/**
 * Marks read in order from A to B as positions along the sheath in mark units, counted from an arbitrary point: the
 * sheath between two marks is the difference of their positions. Unknown marks stay null. A position smaller than one
 * before it is a mark that runs backwards.
 */
export function alongSheath(marks: readonly (number | null)[], breaks: readonly MarkBreak[] = []): (number | null)[] {
  const stretches = stretchesOf(
    marks.filter((mark) => mark !== null),
    breaks,
  );
  let current = 0;
  let reached = Number.NEGATIVE_INFINITY;
  return marks.map((mark) => {
    if (mark === null) return null;
    for (let k = current; k < stretches.length; k++) {
      const position = within(stretches[k] as Stretch, mark);
      if (position !== null && position >= reached) {
        current = k;
        reached = position;
        return position;
      }
    }
    const { direction, base, from, to } = stretches[current] as Stretch;
    return base + (mark - (from ?? to ?? 0)) * direction;
  });
}

/**
 * The mark printed at a position along the sheath, as `alongSheath` counts positions of these marks; the inverse of it.
 * Where a print was made a second time the later one is answered.
 */
export function markAlong(
  position: number,
  marks: readonly (number | null)[],
  breaks: readonly MarkBreak[] = [],
): number {
  const stretches = stretchesOf(
    marks.filter((mark) => mark !== null),
    breaks,
  );
  const on = stretches.findLast(({ from, base }) => from === null || position >= base) ?? stretches[0];
  if (!on) return position;
  const { from, to, direction, base } = on;
  if (from !== null) return from + (position - base) * direction;
  return to === null ? position * direction : to - (base - position) * direction;
}

/** For each place, the length of the longest row of positions from it on that never fall. */
function rowsFrom(positions: readonly number[]): number[] {
  // Greatest possible begin of a row of each length, so far from the end.
  const begins: number[] = [];
  const lengths: number[] = [];
  for (let index = positions.length - 1; index >= 0; index--) {
    const position = positions[index] as number;
    let low = 0;
    let high = begins.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((begins[middle] as number) >= position) low = middle + 1;
      else high = middle;
    }
    begins[low] = position;
    lengths[index] = low + 1;
  }
  return lengths;
}

/** Indices of marks that run against the others: the fewest without which the rest run one way. */
export function marksBackwards(marks: readonly (number | null)[], breaks: readonly MarkBreak[] = []): number[] {
  const known = alongSheath(marks, breaks).flatMap((position, index) =>
    position === null ? [] : [{ position, index }],
  );
  const lengths = rowsFrom(known.map(({ position }) => position));
  let wanted = Math.max(0, ...lengths);
  let reached = Number.NEGATIVE_INFINITY;
  return known.flatMap(({ position, index }, at) => {
    if (lengths[at] !== wanted || position < reached) return [index];
    wanted--;
    reached = position;
    return [];
  });
}

/**
 * Metres of sheath from the first to the last known of a cable's marks, read in order; null where fewer than two are known
 * or the unit isn't.
 */
export function sheathAlong_m(
  marks: readonly (number | null)[],
  unit: LengthUnit | null,
  breaks: readonly MarkBreak[] = [],
): number | null {
  const known = alongSheath(marks, breaks).filter((position) => position !== null);
  const [first] = known;
  const last = known.at(-1);
  if (unit === null || known.length < 2 || first === undefined || last === undefined) return null;
  return metresIn(Math.abs(last - first), unit);
}
