/**
 * Which strands of which units: a set of which every strand can be used where it ends comes first, then one that no other
 * job wants, then one that touches nothing kept for repair, then one that opens the fewest units with live circuits, then
 * the fewest units. Pure.
 */

export interface Offered {
  readonly number: number;
  /** Kept for repair by the plant's policy: taken last. */
  readonly kept: boolean;
  /** On the side wanted it ends at no port (1), or was cut on its way (2): it serves nobody before it is joined on. */
  readonly short?: number;
  /** Another job wants it: taken only where nothing else is left. */
  readonly promised?: unknown;
  readonly proven: boolean;
  /** Cut here before, with a stub: nothing more is cut for it. */
  readonly ready: boolean;
  /** The ribbon it is taken with, where ribbons aren't split. */
  readonly ribbon?: number | null;
}

export interface OfferedUnit {
  /** Circuits in service in it, here. */
  readonly live: number;
  /** Some of its strands are cut here already. */
  readonly opened_before: boolean;
  /** Strands that can be taken, by number. */
  readonly strands: readonly Offered[];
}

export interface Chosen {
  /** Units by their place in the list, with what is taken from each. */
  readonly units: readonly { readonly unit: number; readonly takes: readonly number[] }[];
  readonly kept: number;
  /** The worst reason for which one of its strands is taken after others; 0 where there is none. */
  readonly after: number;
  readonly live_units: number;
  /** Strands that are cut for it. */
  readonly cuts: number;
  readonly unproven: number;
}

/** Up to `most` sets, the best first; none where there are too few strands. Each opens other units than the rest. */
export function choose(units: readonly OfferedUnit[], wanted: number, most: number): Chosen[] {
  const all = units.map((unit, index): Numbered => ({ ...unit, index }));
  const reasons = new Set([0, ...all.flatMap(({ strands }) => strands.map(afterOthers))]);
  const found = new Map<string, Chosen>();
  const offer = (among: readonly Numbered[], mindLive: boolean): Chosen | null => {
    const set = fewest(among, wanted, mindLive);
    if (!set) return null;
    const chosen = taken(set, wanted);
    const key = chosen.units.map(({ unit }) => unit).join();
    if (!found.has(key)) found.set(key, chosen);
    return chosen;
  };
  for (const most_after of [...reasons].sort((a, b) => a - b)) {
    const among = all.map((unit) => ({
      ...unit,
      strands: unit.strands.filter((one) => afterOthers(one) <= most_after),
    }));
    const best = offer(among, true);
    offer(among, false);
    for (const { unit } of best?.units ?? []) {
      if (found.size < most + 2)
        offer(
          among.filter(({ index }) => index !== unit),
          true,
        );
    }
  }
  return [...found.values()].sort(better).slice(0, most);
}

/** Why a strand is taken after others, the worst reason counting alone. */
const afterOthers = ({ short = 0, promised = null, kept }: Offered): number =>
  short * 4 + Number(promised !== null) * 2 + Number(kept);

interface Numbered extends OfferedUnit {
  readonly index: number;
}

const sizeOf = (units: readonly Numbered[]): number => units.reduce((sum, { strands }) => sum + strands.length, 0);

/** The largest first; of equals one that is open already, then the one with more proven strands, then the first. */
const larger = (a: Numbered, b: Numbered): number =>
  b.strands.length - a.strands.length ||
  Number(b.opened_before) - Number(a.opened_before) ||
  provenIn(b) - provenIn(a) ||
  a.index - b.index;

/** The last one spares cuts, then is one that is open already, then the tightest, so that whole units stay free. */
const lastOne = (a: Numbered, b: Numbered, rest: number): number =>
  Math.min(rest, readyIn(b)) - Math.min(rest, readyIn(a)) ||
  Number(b.opened_before) - Number(a.opened_before) ||
  a.strands.length - b.strands.length ||
  larger(a, b);

const readyIn = ({ strands }: Numbered): number => strands.filter(({ ready }) => ready).length;
const provenIn = ({ strands }: Numbered): number => strands.filter(({ proven }) => proven).length;

/** The units of the best set; null where all of them together hold too few. */
function fewest(units: readonly Numbered[], wanted: number, mindLive: boolean): Numbered[] | null {
  const usable = units.filter(({ strands }) => strands.length > 0);
  if (sizeOf(usable) < wanted) return null;
  const isQuiet = ({ live }: Numbered) => !mindLive || live === 0;
  const quiet = usable.filter(isQuiet).sort(larger);
  const live = usable.filter((unit) => !isQuiet(unit)).sort(larger);
  // As few live units as make up for what the quiet ones lack: the largest, so that they also spare quiet ones.
  const used: Numbered[] = [];
  let lacks = wanted - sizeOf(quiet);
  for (const unit of live) {
    if (lacks <= 0) break;
    used.push(unit);
    lacks -= unit.strands.length;
  }
  let rest = wanted - sizeOf(used);
  for (const unit of quiet) {
    if (rest <= 0) break;
    if (unit.strands.length < rest) {
      used.push(unit);
      rest -= unit.strands.length;
      continue;
    }
    const enough = quiet.filter((one) => !used.includes(one) && one.strands.length >= rest);
    used.push(enough.sort((a, b) => lastOne(a, b, rest))[0] ?? unit);
    rest = 0;
  }
  return used;
}

/** Strands of some units: each in turn gives what it has, those taken gladly first, then those that are cut, then proven. */
function taken(units: readonly Numbered[], wanted: number): Chosen {
  let rest = wanted;
  // Units without live circuits give all they have before one that has some is touched.
  const inOrder = units.toSorted((a, b) => Number(a.live > 0) - Number(b.live > 0));
  const chosen = inOrder.map((unit) => {
    const own = pick(unit.strands, Math.min(rest, unit.strands.length));
    rest -= own.length;
    return { unit: unit.index, own, live: unit.live };
  });
  const all = chosen.flatMap(({ own }) => own);
  return {
    units: chosen
      .filter(({ own }) => own.length > 0)
      .map(({ unit, own }) => ({ unit, takes: own.map(({ number }) => number).sort((a, b) => a - b) }))
      .sort((a, b) => a.unit - b.unit),
    kept: all.filter(({ kept }) => kept).length,
    after: Math.max(0, ...all.map(afterOthers)),
    live_units: chosen.filter(({ live }) => live > 0).length,
    cuts: all.filter(({ ready }) => !ready).length,
    unproven: all.filter(({ proven }) => !proven).length,
  };
}

function pick(strands: readonly Offered[], count: number): readonly Offered[] {
  if (strands.some(({ ribbon }) => ribbon != null)) return pickRibbons(strands, count);
  const picked: Offered[] = [];
  for (const wanted of [...new Set(strands.map(rank))].sort((a, b) => a - b)) {
    const own = strands.filter((one) => rank(one) === wanted).sort((a, b) => a.number - b.number);
    const rest = count - picked.length;
    if (rest <= 0) break;
    picked.push(...(own.length <= rest ? own : neighbours(own, rest)));
  }
  return picked;
}

/** Whole ribbons, by the worst of their strands; of equals the first. */
function pickRibbons(strands: readonly Offered[], count: number): readonly Offered[] {
  const worst = (own: readonly Offered[]): number => Math.max(...own.map(rank));
  const ribbons = [...Map.groupBy(strands, ({ ribbon }) => ribbon).values()].sort((a, b) => worst(a) - worst(b));
  const picked: Offered[] = [];
  for (const own of ribbons) if (picked.length + own.length <= count) picked.push(...own);
  return picked;
}

const rank = (one: Offered): number => afterOthers(one) * 4 + Number(!one.ready) * 2 + Number(!one.proven);

/** The first so many that lie side by side by number; where none do, the first. */
function neighbours(strands: readonly Offered[], count: number): readonly Offered[] {
  for (let from = 0; from + count <= strands.length; from += 1) {
    const [first, last] = [strands[from], strands[from + count - 1]];
    if (first && last && last.number - first.number === count - 1) return strands.slice(from, from + count);
  }
  return strands.slice(0, count);
}

/** The order of sets; of equals the one found first. */
export const better = (a: Chosen, b: Chosen): number =>
  a.after - b.after ||
  a.live_units - b.live_units ||
  a.units.length - b.units.length ||
  a.cuts - b.cuts ||
  a.unproven - b.unproven;
