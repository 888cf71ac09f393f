/** The smallest set of coils by which every stretch that coils can serve is served: fewest coils, then least metres. */
import type { Course } from "../course.ts";
import { apartOf, type Coils, coilsOf, roomLeft, type Stretch } from "./cover.ts";
import { demandsOf, type Group } from "./demands.ts";
import { Effort, enoughStops, fewestStops } from "./fewest.ts";
import { leastMetres } from "./least-metres.ts";
import type { Piece } from "./pieces.ts";

export interface MoreCoil {
  /** The stop by its place in the course. */
  readonly stop: number;
  /** Metres beyond what is coiled there now; a coil that nobody knows counts as none. */
  readonly more_m: number;
}

export interface SmallestSet {
  readonly coils: readonly MoreCoil[];
  /** It is proven that no fewer coils, and of so many no fewer metres, would do. */
  readonly exact: boolean;
  /** What no coil serves. */
  readonly barred: readonly Stretch[];
}

/** Splices looked at for one group of stops: beyond it the best found so far stands, and is said not to be proven. */
const MOST_WORK = 20_000_000;

export function smallestSet(course: Course, pieces: readonly Piece[], most = MOST_WORK): SmallestSet {
  const coils = coilsOf(course, 0);
  const { groups, barred } = demandsOf(course, pieces);
  const found = groups.map((group) => forGroup(group, coils, most));
  return {
    coils: found.flatMap((one) => one.coils).sort((a, b) => a.stop - b.stop),
    exact: found.every(({ exact }) => exact),
    barred,
  };
}

function forGroup(group: Group, coils: Coils, most: number): { coils: MoreCoil[]; exact: boolean } {
  const each = group.demands.reduce((sum, { options }) => sum + options.length, 0);
  const steps = Math.ceil(most / each);
  const effort = new Effort(steps);
  const sets = fewestStops(group, coils, effort);
  let exact = !effort.spent;
  if (sets.length === 0) sets.push(enoughStops(group, coils));
  let best: MoreCoil[] | null = null;
  let best_m = Number.POSITIVE_INFINITY;
  const again = new Effort(steps);
  for (const stops of sets) {
    // Each set gets its turn; what was found so far bounds it.
    const metres = leastMetres(group, coils, stops, best_m, again);
    if (metres === null) continue;
    best = stops.map((stop, at) => ({ stop, more_m: Math.min(metres[at] as number, roomLeft(coils, stop)) }));
    best_m = metres.reduce((sum, one) => sum + one, 0);
  }
  exact &&= !again.spent;
  return { coils: best ?? plenty(group, coils, sets[0] ?? []), exact: exact && best !== null };
}

/** Where the search for metres found nothing in time: at each stop as much as the longest pull could ask. */
function plenty({ demands }: Group, coils: Coils, stops: readonly number[]): MoreCoil[] {
  const most = Math.max(
    0,
    ...demands.flatMap(({ from_m, to_m, options }) =>
      options.flatMap((option) => [
        -(option.left.fixed_m + (option.left.slope === 0 ? 0 : from_m)),
        -(option.right.fixed_m - (option.right.slope === 0 ? 0 : to_m)),
        apartOf(option) - option.left.fixed_m - option.right.fixed_m,
      ]),
    ),
  );
  return stops.map((stop) => ({ stop, more_m: Math.min(most + (coils.keep[stop] ?? 0), roomLeft(coils, stop)) }));
}
