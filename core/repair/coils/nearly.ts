/**
 * Fewer coils that cure nearly all that the smallest set cures: where a metre or two beside a hole would ask for several coils
 * more, whoever decides is to know.
 */
import type { Course } from "../course.ts";
import { coilsOf, gapsIn, roomLeft, type Stretch } from "./cover.ts";
import { type Demand, demandsOf, type Group } from "./demands.ts";
import { Effort, openWith } from "./fewest.ts";
import { leastMetres } from "./least-metres.ts";
import type { Piece } from "./pieces.ts";
import type { MoreCoil, SmallestSet } from "./smallest.ts";

export interface NearlySet {
  readonly coils: readonly MoreCoil[];
  /** What the smallest set would serve beyond it. */
  readonly open: readonly Stretch[];
}

/** Nearly all: but for so much of what more coil could serve. A share to tell by, no limit of the trade. */
const BUT_FOR = 1 / 10;
/** Sets looked at for each number of coils, and splices looked at for their metres. */
const MOST_SETS = 2_000;
const MOST_WORK = 20_000;

const lengthOf = (list: readonly Stretch[]): number => list.reduce((sum, one) => sum + one.to_m - one.from_m, 0);

/** Null where no fewer coils come near. */
export function nearlySet(course: Course, pieces: readonly Piece[], smallest: SmallestSet): NearlySet | null {
  const found = demandsOf(course, pieces).groups.map((group): NearlySet & { readonly less: boolean } => {
    const all = smallest.coils.filter(({ stop }) => group.stops.includes(stop));
    const fewer = fewerFor(course, group, all.length);
    return fewer ? { ...fewer, less: true } : { coils: all, open: [], less: false };
  });
  if (!found.some(({ less }) => less)) return null;
  return {
    coils: found.flatMap(({ coils }) => coils).sort((a, b) => a.stop - b.stop),
    open: found.flatMap(({ open }) => open),
  };
}

function fewerFor(course: Course, group: Group, count: number): NearlySet | null {
  const coils = coilsOf(course, 0);
  const most_m = lengthOf(group.demands) * BUT_FOR;
  const openBy = (stops: readonly number[]): Stretch[] =>
    group.demands.flatMap((demand) => openWith(demand, coils, new Set(stops)));
  for (let fewer = 1; fewer < count; fewer++) {
    let best: { readonly stops: readonly number[]; readonly open: Stretch[] } | null = null;
    let looked = 0;
    for (const stops of subsets(group.stops, fewer)) {
      looked += 1;
      if (looked > MOST_SETS) return null;
      const open = openBy(stops);
      if (lengthOf(open) <= Math.min(most_m, best ? lengthOf(best.open) - 1e-6 : most_m)) best = { stops, open };
    }
    if (best === null) continue;
    const { stops, open } = best;
    const demands = group.demands.flatMap((demand): Demand[] =>
      gapsIn(demand, open).map((served) => ({ ...served, options: demand.options })),
    );
    const metres = leastMetres({ ...group, demands }, coils, stops, Number.POSITIVE_INFINITY, new Effort(MOST_WORK));
    return {
      coils: stops.map((stop, at) => ({ stop, more_m: Math.min(metres?.[at] ?? Infinity, roomLeft(coils, stop)) })),
      open,
    };
  }
  return null;
}

/** Every choice of so many, in order. */
function* subsets(of: readonly number[], count: number, from = 0): Generator<number[]> {
  if (count === 0) yield [];
  else
    for (let at = from; at <= of.length - count; at++)
      for (const rest of subsets(of, count - 1, at + 1)) yield [of[at] as number, ...rest];
}
