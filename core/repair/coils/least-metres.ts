/**
 * The least metres that some stops must hold more, so that every stretch is served. A stretch may be served by several
 * splices one after the other, so that for each gap some splice from the left must reach up to some splice from the
 * right: one of a few sums must reach some length. Each such choice is a branch; the least sum of the branch is its bound.
 */
import { apartOf, type Coils, gapsIn, LEAST_M, roomLeft, type Stretch } from "./cover.ts";
import type { Demand, Group } from "./demands.ts";
import type { Effort } from "./fewest.ts";
import { type AtLeast, leastSum } from "./least-sum.ts";
import type { Supply } from "./supply.ts";

/** What is demanded was told with `LEAST_M` to spare at each of its ends: as much may be asked of a place that is full. */
const SLACK_M = 4 * LEAST_M;

/** `base + Σ weights × amounts`, the metres at hand where the cut is at metre 0. */
interface Line {
  readonly base: number;
  readonly weights: readonly number[];
  readonly slope: -1 | 0 | 1;
}
interface Pair {
  readonly left: Line;
  readonly right: Line;
  /** What both must have at hand together. */
  readonly apart_m: number;
}
interface Task extends Stretch {
  readonly pairs: readonly Pair[];
}

/**
 * The metres more at each of these stops; null where that many can't do, or not with less than `below_m`.
 */
export function leastMetres(
  group: Group,
  coils: Coils,
  stops: readonly number[],
  below_m: number,
  effort: Effort,
): number[] | null {
  // What a coil lacks of what must stay gives nothing away: either it is filled up to that and beyond, or it gives nothing.
  const lacking = stops.map((stop) => Math.max(0, (coils.keep[stop] ?? 0) - (coils.left[stop] ?? 0)));
  let best: number[] | null = null;
  let best_m = below_m;
  for (const filled of choices(lacking)) {
    if (effort.spent) break;
    const room = stops.map((stop, at) => roomLeft(coils, stop) - (filled[at] ? (lacking[at] as number) : 0));
    if (room.some((left) => left < -LEAST_M)) continue;
    const first_m = lacking.reduce((sum, lack, at) => sum + (filled[at] ? lack : 0), 0);
    const tasks = tasksOf(group, coils, stops, lacking, filled);
    const search = (rows: readonly AtLeast[]): void => {
      if (!effort.spend()) return;
      const amounts = leastSum(stops.length, rows);
      if (amounts === null) return;
      const sum_m = first_m + amounts.reduce((sum, one) => sum + one, 0);
      if (sum_m >= best_m - LEAST_M) return;
      const further = firstOpen(tasks, amounts);
      if (further === null) {
        best_m = sum_m;
        best = amounts.map((amount, at) => amount + (filled[at] ? (lacking[at] as number) : 0));
      } else for (const row of further) search([...rows, row]);
    };
    search(
      room.flatMap((left, stop): AtLeast[] =>
        Number.isFinite(left)
          ? [{ weights: stops.map((_, at) => (at === stop ? -1 : 0)), least: -(Math.max(0, left) + SLACK_M) }]
          : [],
      ),
    );
  }
  return best;
}

/** Every way to fill up some of the coils that lack what must stay. */
function* choices(lacking: readonly number[]): Generator<boolean[]> {
  const open = lacking.flatMap((lack, at) => (lack > 0 ? [at] : []));
  for (let mask = 0; mask < 2 ** open.length; mask++) {
    // All filled up first: it is what mostly serves.
    yield lacking.map((lack, at) => lack > 0 && (Math.floor(mask / 2 ** open.indexOf(at)) & 1) === 0);
  }
}

function tasksOf(
  { demands }: Group,
  coils: Coils,
  stops: readonly number[],
  lacking: readonly number[],
  filled: readonly boolean[],
): Task[] {
  const places = new Map(stops.map((stop, at) => [stop, at]));
  const line = ({ fixed_m, slope, whole, spare }: Supply, own: readonly number[]): Line => {
    let base = fixed_m;
    const weights = stops.map(() => 0);
    for (const stop of whole) {
      const at = places.get(stop);
      base += own[stop] ?? 0;
      if (at === undefined) continue;
      base += filled[at] ? (lacking[at] as number) : 0;
      weights[at] = (weights[at] as number) + 1;
    }
    for (const stop of spare) {
      const at = places.get(stop);
      base += Math.max(0, (own[stop] ?? 0) - (coils.keep[stop] ?? 0));
      if (at !== undefined && (filled[at] || lacking[at] === 0)) weights[at] = (weights[at] as number) + 1;
    }
    return { base, weights, slope };
  };
  return demands.map(({ from_m, to_m, options }: Demand) => ({
    from_m,
    to_m,
    pairs: options.map((option) => ({
      left: line(option.left, coils.left),
      right: line(option.right, coils.right),
      apart_m: apartOf(option),
    })),
  }));
}

const metresOf = ({ base, weights }: Line, amounts: readonly number[]): number =>
  weights.reduce((sum, weight, at) => sum + weight * (amounts[at] as number), base);

/** What would close the first open gap, one of which must hold; null where all is served. */
function firstOpen(tasks: readonly Task[], amounts: readonly number[]): AtLeast[] | null {
  for (const task of tasks) {
    const apart = task.pairs.filter(
      ({ left, right, apart_m }) => metresOf(left, amounts) + metresOf(right, amounts) + 2 * LEAST_M < apart_m,
    );
    const pairs = task.pairs.filter((pair) => !apart.includes(pair));
    const served = pairs.map(({ left, right }): Stretch => {
      const [a, b] = [metresOf(left, amounts) + LEAST_M, metresOf(right, amounts) + LEAST_M];
      return {
        from_m: left.slope !== 0 ? -a : a >= 0 ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY,
        to_m: right.slope !== 0 ? b : b >= 0 ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY,
      };
    });
    const [gap] = gapsIn(task, served);
    if (gap) return weakest([...closing({ ...task, pairs }, served, gap), ...meeting(apart)]);
  }
  return null;
}

/** Each splice ends before the gap or begins beyond it: one that ends must reach one that begins, or the stretch's edge. */
function closing({ from_m, to_m, pairs }: Task, served: readonly Stretch[], gap: Stretch): AtLeast[] {
  const rows: AtLeast[] = [];
  const want = (lines: readonly Line[], more: number): void => {
    const sum = lines.reduce((total, { base }) => total + base, more);
    const weights = (lines[0] as Line).weights.map((_, at) =>
      lines.reduce((total, line) => total + (line.weights[at] as number), 0),
    );
    if (weights.some((weight) => weight > 0)) rows.push({ weights, least: -sum });
  };
  const ends = pairs.filter((_, at) => (served[at] as Stretch).to_m <= gap.from_m + LEAST_M);
  const begins = pairs.filter((_, at) => (served[at] as Stretch).to_m > gap.from_m + LEAST_M);
  for (const { right } of ends) want([right], right.slope === 0 ? 0 : -to_m);
  for (const { left } of begins) want([left], left.slope === 0 ? 0 : from_m);
  for (const { right } of ends) {
    if (right.slope === 0) continue;
    for (const { left } of begins) if (left.slope !== 0) want([right, left], 0);
  }
  return rows;
}

/** Or else one that serves nothing yet, for its remains don't meet, comes to serve. */
const meeting = (apart: readonly Pair[]): AtLeast[] =>
  apart.flatMap(({ left, right, apart_m }): AtLeast[] => {
    const weights = left.weights.map((weight, at) => weight + (right.weights[at] as number));
    const none = !Number.isFinite(apart_m) || weights.every((weight) => weight === 0);
    return none ? [] : [{ weights, least: apart_m - left.base - right.base }];
  });

/** Leaves out what asks as much as another and more. */
function weakest(rows: readonly AtLeast[]): AtLeast[] {
  const easier = (a: AtLeast, b: AtLeast): boolean =>
    a.least <= b.least && a.weights.every((weight, at) => weight >= (b.weights[at] as number));
  return rows.filter(
    (row, at) =>
      !rows.some((other, there) => there !== at && easier(other, row) && (!easier(row, other) || there < at)),
  );
}
