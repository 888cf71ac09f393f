/** The least number of stops that must hold more coil, whatever the length: every set of that number. */
import { type Coils, filledUp, gapsIn, LEAST_M, type Stretch, servedBy } from "./cover.ts";
import type { Demand, Group } from "./demands.ts";

/** Counts the work and says when it is too much; shared by both searches of a cable. */
export class Effort {
  #left: number;
  constructor(most: number) {
    this.#left = most;
  }
  /** @returns false once the work is more than was meant */
  spend(): boolean {
    this.#left -= 1;
    return this.#left >= 0;
  }
  get spent(): boolean {
    return this.#left < 0;
  }
}

/** What of a demand stays open where these stops hold as much as they are to. */
export const openWith = (demand: Demand, coils: Coils, more: ReadonlySet<number>): Stretch[] => {
  const then = filledUp(coils, (stop) => more.has(stop));
  return gapsIn(
    demand,
    demand.options.map((option) => servedBy(option, then, LEAST_M)),
  );
};

/** Stops of which one more must be chosen so that a place can be served. */
function wantedAt(at_m: number, { options }: Demand, group: Group, coils: Coils, more: ReadonlySet<number>): number[] {
  const may = new Set(group.stops);
  const then = filledUp(coils, (stop) => more.has(stop));
  const most = filledUp(coils, (stop) => may.has(stop));
  const wanted = new Set<number>();
  for (const option of options) {
    const { from_m, to_m } = servedBy(option, then, LEAST_M);
    // What all coils together don't help rules the splice out here.
    const best = servedBy(option, most, LEAST_M);
    if (best.from_m > at_m || best.to_m < at_m) continue;
    // Of a new hole that both reach only together, either side's coil helps.
    const lacking = [from_m <= at_m ? null : option.left, to_m >= at_m ? null : option.right];
    for (const side of lacking)
      for (const stop of side ? [...side.whole, ...side.spare] : [])
        if (may.has(stop) && !more.has(stop)) wanted.add(stop);
  }
  return [...wanted];
}

/** Places whose wanted stops have none in common need one each, so at least so many more. */
function atLeast(group: Group, coils: Coils, more: ReadonlySet<number>): { least: number; branch: number[] | null } {
  const taken = new Set<number>();
  let least = 0;
  let branch: number[] | null = null;
  for (const demand of group.demands) {
    for (const { from_m, to_m } of openWith(demand, coils, more)) {
      const wanted = wantedAt((from_m + to_m) / 2, demand, group, coils, more);
      if (branch === null || wanted.length < branch.length) branch = wanted;
      if (wanted.some((stop) => taken.has(stop))) continue;
      least += 1;
      for (const stop of wanted) taken.add(stop);
    }
  }
  return { least, branch };
}

/** Every set of the least number; of those found when the effort is spent, some. */
export function fewestStops(group: Group, coils: Coils, effort: Effort): number[][] {
  for (let count = 1; count <= group.stops.length; count++) {
    const found = new Map<string, number[]>();
    const seen = new Set<string>();
    const search = (more: ReadonlySet<number>): void => {
      const key = [...more].sort((a, b) => a - b).join(" ");
      if (seen.has(key) || !effort.spend()) return;
      seen.add(key);
      const { least, branch } = atLeast(group, coils, more);
      if (branch === null)
        found.set(
          key,
          [...more].sort((a, b) => a - b),
        );
      else if (more.size + least <= count) for (const stop of branch) search(new Set([...more, stop]));
    };
    search(new Set());
    if (found.size > 0 || effort.spent) return [...found.values()];
  }
  return [];
}

/** A set that serves, not surely the smallest: all stops, and then without each that is not missed. */
export function enoughStops(group: Group, coils: Coils): number[] {
  const more = new Set(group.stops);
  for (const stop of group.stops) {
    more.delete(stop);
    if (group.demands.some((demand) => openWith(demand, coils, more).length > 0)) more.add(stop);
  }
  return [...more];
}
