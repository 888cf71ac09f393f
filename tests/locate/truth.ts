/**
 * Routes with a hidden truth, and what an instrument would show of a break in them. The arithmetic here is its own: it
 * knows nothing of how places are worked out, only how light travels. Bounds are those the program publishes, typed again.
 */
import { type Random, seeded } from "../../core/synthetic/random.ts";
import type { Reel, StopGiven } from "./route.ts";

const FOOT = 0.3048;
export const STUB = { usual: 1.25, off: 0.25 };
export const PIGTAIL = { usual: 1.5, off: 0.5 };

/** A stretch of sheath as it is on record: between two marks, or by a length that may be off by a part of it. */
export interface Stretch {
  readonly what: "leg" | "place" | "tail";
  /** Metres on record. */
  readonly length: number;
  /** Numbers of the marks at its two ends among those of its reel; null where its length doesn't come from marks. */
  readonly marks: readonly [number, number] | null;
  /** Bounds of independent errors of its length, in metres. */
  readonly off: readonly number[];
}

export interface HiddenReel {
  readonly reel: Reel;
  readonly stretches: readonly Stretch[];
  readonly marks: number;
  readonly index: { readonly usual: number; readonly off: number };
  readonly excess: { readonly usual: number; readonly off: number };
}

export interface HiddenRoute {
  readonly reels: readonly HiddenReel[];
  readonly pigtails: readonly [boolean, boolean];
}

/** A route of one to four reels, invented; the same for the same seed. */
export function inventRoute(seed: number): HiddenRoute {
  const random = seeded(seed);
  const count = random.whole(1, 4);
  let hole = 0;
  const reels = Array.from({ length: count }, (_, at): HiddenReel => {
    const places = [hole, ...Array.from({ length: random.whole(1, 4) }, () => ++hole)];
    const first = at === 0 ? "A" : `H${places[0]}`;
    return inventReel(random, at, [
      first,
      ...places.slice(1, -1).map((place) => `H${place}`),
      at === count - 1 ? "Z" : `H${hole}`,
    ]);
  });
  return { reels, pigtails: [random.oneIn(2), random.oneIn(2)] };
}

function inventReel(random: Random, at: number, places: readonly string[]): HiddenReel {
  const unit = random.oneIn(3) ? "ft" : "m";
  const metres = unit === "ft" ? FOOT : 1;
  const direction = random.oneIn(3) ? -1 : 1;
  const markless = random.oneIn(5);
  let mark = 50_000 + random.whole(0, 5000);
  let marks = 0;
  const stops: StopGiven[] = [];
  const ways: (number | null)[] = [];
  const stretches: Stretch[] = [];
  /** Whole units of print on from here, as metres. */
  const run = (units: number): number => {
    mark += units * direction;
    return units * metres;
  };
  const last = places.length - 1;
  let before = !markless;
  for (const [index, space] of places.entries()) {
    const outer = index === 0 || index === last;
    const marked = !markless && (outer || !random.oneIn(6));
    if (index > 0) {
      const units = random.whole(60, 400);
      const length = units * metres;
      run(units);
      ways.push(marked && before ? null : length);
      if (marked && before) stretches.push({ what: "leg", length, marks: [marks - 1, marks++], off: [] });
      else stretches.push({ what: "leg", length, marks: null, off: [0.05 * length] });
    }
    if (outer) {
      const units = random.whole(4, 12);
      const edge = index === 0 ? "from" : "to";
      if (marked) {
        const [one, length, other] = [mark, run(units), mark];
        stops.push(index === 0 ? { space, from: one, out: other } : { space, in: one, [edge]: other });
        // Behind a leg without marks the run of marks begins anew.
        const begin = index === 0 || !before ? marks++ : marks - 1;
        stretches.push({ what: "tail", length, marks: [begin, marks++], off: [] });
      } else {
        const slack_m = random.whole(3, 9);
        stops.push({ space, more: { slack_m } });
        stretches.push({ what: "tail", length: slack_m, marks: null, off: [0.2 * slack_m] });
      }
    } else if (marked) {
      const [one, length, other] = [mark, run(random.whole(3, 30)), mark];
      stops.push({ space, in: one, out: other });
      const begin = before ? marks - 1 : marks++;
      stretches.push({ what: "place", length, marks: [begin, marks++], off: [] });
    } else {
      const slack_m = random.whole(0, 20);
      stops.push({ space, more: { slack_m } });
      // The crossing of these holes is 4 m as measured.
      run((slack_m + 4) / metres);
      stretches.push({ what: "place", length: slack_m + 4, marks: null, off: [0.2 * slack_m, 0.2 * 4] });
    }
    before = marked;
  }
  const own = !random.oneIn(3);
  const sheet = !random.oneIn(3);
  return {
    reel: {
      tag: `F-${at + 1}`,
      unit,
      stops,
      ways,
      type: { excess_ratio: sheet ? 0.021 : undefined, index_1550: own ? 1.469 : undefined },
    },
    stretches,
    marks,
    index: own ? { usual: 1.469, off: 0.0003 } : { usual: 1.4682, off: 0.0014 },
    excess: sheet ? { usual: 0.021, off: 0.005 } : { usual: 0.024, off: 0.006 },
  };
}

interface Leg {
  /** Metres from port A as on record, at its beginning, and its length there. */
  readonly x: number;
  readonly length: number;
  /** Travel in vacuum, one way, from port A to a share of it. */
  readonly travel: (share: number) => number;
  readonly sheath: boolean;
}

/** One drawing of everything hidden: what light takes to each stretch of the route. */
export interface Drawn {
  readonly legs: readonly Leg[];
  /** Splices between reels, by their tray, with the travel up to them. */
  readonly joints: readonly { readonly tray: string; readonly travel: number }[];
  /** Travel from port A to port Z. */
  readonly whole: number;
  /** Metres from port A to port Z, as on record. */
  readonly length: number;
}

/** @param scatter 0 hides nothing: everything is as on record */
export function draw(route: HiddenRoute, random: Random, scatter = 1): Drawn {
  const off = (bound: number): number => scatter * bound * (2 * random.next() - 1);
  const legs: Leg[] = [];
  const joints: Drawn["joints"][number][] = [];
  let travel = 0;
  let x = 0;
  const add = (recorded: number, pace: number, sheath: boolean, from: number, to: number): void => {
    const begun = travel;
    legs.push({ x, length: recorded, sheath, travel: (share) => begun + (from + share * (to - from)) * pace });
    travel += to * pace;
    x += recorded;
  };
  const loose = ({ usual, off: bound }: typeof STUB, index: number): void => {
    const length = usual + off(bound);
    add(usual, index, false, 0, length);
  };
  const patching = 1.4682 * (1 + off(0.0014));
  for (const [at, { reel, stretches, marks, index, excess }] of route.reels.entries()) {
    const glass = index.usual * (1 + off(index.off));
    const pace = glass * (1 + excess.usual + off(excess.off));
    const scale = 1 + off(0.01);
    /** Where each mark stands on the print beyond where it was read, in metres towards Z. */
    const slips = Array.from({ length: marks }, () => off(0.3));
    if (at === 0 && route.pigtails[0]) loose(PIGTAIL, patching);
    loose(STUB, glass);
    for (const stretch of stretches) {
      if (stretch.marks === null) {
        const length = stretch.length + stretch.off.reduce((sum, bound) => sum + off(bound), 0);
        add(stretch.length, pace, true, 0, length);
        continue;
      }
      const [one = 0, other = 0] = stretch.marks.map((mark) => slips[mark] as number);
      // A share of it is meant on the print: marks on record stand a slip off, the print itself doesn't.
      const begun = travel;
      const [from, to] = [-one * scale, (stretch.length - one) * scale];
      legs.push({
        x,
        length: stretch.length,
        sheath: true,
        travel: (share) => begun + (from + share * (to - from)) * pace,
      });
      travel += (stretch.length + other - one) * scale * pace;
      x += stretch.length;
    }
    loose(STUB, glass);
    if (at < route.reels.length - 1) joints.push({ tray: `${reel.stops.at(-1)?.space}/CL/T`, travel });
    else if (route.pigtails[1]) loose(PIGTAIL, patching);
  }
  return { legs, joints, whole: travel, length: x };
}

/** What an instrument set to an index shows, its own error of 1 part in 10,000, 1 m and half of 0.5 m between samples in it. */
export function shown(travel: number, index: number, random: Random, scatter = 1): number {
  const true_m = travel / index;
  const bound = true_m * 0.0001 + 1 + 0.25;
  return true_m + scatter * bound * (2 * random.next() - 1);
}
