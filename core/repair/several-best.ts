/**
 * Which way of each of several cut cables is best for all of them together: no place takes more than it holds, a hole dug in
 * a way is dug once for all that lie in it, and then all that is needed, put into metres of new cable, is least.
 */
import { type InHole, roomTogether } from "./in-hole.ts";

/** A place in which a way puts a case and a coil. */
export interface Use {
  readonly place: number;
  /** How long it is inside; null where nobody knows. */
  readonly long_m: number | null;
  readonly own: InHole;
}

/** One way of one cable. */
export interface WayOption {
  /** Compared number by number: what it severs, what it takes down, whether all is new, and metres without the hole it digs. */
  readonly cost: readonly number[];
  readonly digs: boolean;
  readonly uses: readonly Use[];
}

export interface CableOptions {
  readonly cable_id: number;
  /** The way in which it is cut: of those in one way all that dig share a hole. */
  readonly way: number;
  readonly options: readonly WayOption[];
}

export interface BestTogether {
  /** For each cable the place of its option in its list. */
  readonly chosen: readonly number[];
  /** Places that would be too full, and then the costs added up, holes that are dug included. */
  readonly total: readonly number[];
}

/** After so many steps the best that was found so far is taken: for what a duct bank holds that is far beyond all there are. */
const MOST_STEPS = 200_000;

/** Number by number, as digits are compared; what differs by less than a millimetre is alike. */
export function compareCosts(a: readonly number[], b: readonly number[]): number {
  for (let at = 0; at < Math.max(a.length, b.length); at++) {
    const apart = (a[at] ?? 0) - (b[at] ?? 0);
    if (Math.abs(apart) > 0.0005) return apart;
  }
  return 0;
}

const added = (a: readonly number[], b: readonly number[]): number[] => a.map((one, at) => one + (b[at] ?? 0));

/**
 * Pure. The least of all choices, one option of each cable; of alike ones that in which the first cable has its earliest.
 * Null where a cable has no option.
 * @param hole_m what a hole that is dug counts, in metres of new cable
 */
export function bestTogether(
  cables: readonly CableOptions[],
  { case_m, hole_m }: { readonly case_m: number; readonly hole_m: number },
): BestTogether | null {
  if (cables.some(({ options }) => options.length === 0)) return null;
  const mended = new Set(cables.map(({ cable_id }) => cable_id));
  // Lists in the order of what they cost: of alike ones the earlier.
  const sorted = cables.map(({ options }) =>
    options
      .map((option, index) => ({ option, index }))
      .sort((a, b) => compareCosts(a.option.cost, b.option.cost) || a.index - b.index),
  );
  const width = sorted[0]?.[0]?.option.cost.length ?? 0;
  const nothing = Array.from({ length: width }, () => 0);
  /** The least that the cables from here on can cost. */
  const least = [nothing];
  for (const own of sorted.toReversed()) least.unshift(added(least[0] ?? nothing, own[0]?.option.cost ?? nothing));
  let best: BestTogether | null = null;
  let steps = 0;
  const taken: Use[] = [];
  const dug = new Map<number, number>();

  const tooFull = (uses: readonly Use[], final: boolean): number =>
    [...Map.groupBy(uses, ({ place }) => place).values()].filter((own) => {
      const [long_m] = own.map((use) => use.long_m);
      if (long_m == null || own.length < 2) return false;
      // Coils of cables that may yet be mended there count for nothing before all is chosen.
      const all = own.map((use) =>
        final ? use.own : { ...use.own, there: use.own.there.filter(({ cable }) => !mended.has(cable)) },
      );
      return long_m < roomTogether(all, case_m) - 1e-9;
    }).length;
  const totalOf = (full: number, cost: readonly number[]): number[] => {
    const holes = [...dug.values()].filter((count) => count > 0).length;
    return [full, ...cost.map((one, at) => (at === width - 1 ? one + holes * hole_m : one))];
  };
  const tryFrom = (at: number, cost: readonly number[], chosen: readonly number[]): void => {
    if (at === cables.length) {
      const total = totalOf(tooFull(taken, true), cost);
      if (best === null || compareCosts(total, best.total) < 0) best = { chosen, total };
      return;
    }
    const { way } = cables[at] as CableOptions;
    for (const { option, index } of sorted[at] ?? []) {
      steps += 1;
      if (steps > MOST_STEPS && best !== null) return;
      const own = added(cost, option.cost);
      const before = dug.get(way) ?? 0;
      dug.set(way, before + (option.digs ? 1 : 0));
      taken.push(...option.uses);
      const bound = totalOf(tooFull(taken, false), added(own, least[at + 1] ?? nothing));
      if (best === null || compareCosts(bound, best.total) < 0) tryFrom(at + 1, own, [...chosen, index]);
      taken.length -= option.uses.length;
      dug.set(way, before);
    }
  };
  tryFrom(0, nothing, []);
  return best;
}
