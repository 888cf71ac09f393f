import { beforeAll, describe, expect, it } from "vitest";
import { seeded } from "../../core/synthetic/random.ts";
import type { MadePlant } from "../glass/made.ts";
import { type Located, located, type Reading, route } from "./route.ts";
import { type Drawn, draw, type HiddenRoute, inventRoute, shown } from "./truth.ts";

const SEEDS = Array.from({ length: 24 }, (_, at) => 1000 + at);
const PER_ROUTE = 60;
/** What the instrument is set to, which is nobody's true index. */
const INDEX = 1.4675;

const plantOf = ({ reels, pigtails }: HiddenRoute): Promise<MadePlant> => {
  const [a, z] = pigtails.map((pigtail) => ({ method: pigtail ? "pigtail" : "splice_on" }));
  const holes = [...new Set(reels.flatMap(({ reel }) => reel.stops.map(({ space }) => space)))];
  return route(
    reels.map(({ reel }) => reel),
    {
      lands: [a ?? null, z ?? null],
      spaces: Object.fromEntries(holes.map((hole) => [hole, { crossing_m: 4 }])),
    },
  );
};

interface Break {
  /** Metres from port A, as on record. */
  readonly x: number;
  readonly travel: number;
}

/** Somewhere in the sheath, each metre alike. */
function breakIn({ legs }: Drawn, at: number): Break {
  const sheath = legs.filter((leg) => leg.sheath);
  let left = at * sheath.reduce((sum, { length }) => sum + length, 0);
  for (const leg of sheath) {
    if (left <= leg.length) {
      const share = leg.length === 0 ? 0 : left / leg.length;
      return { x: leg.x + share * leg.length, travel: leg.travel(share) };
    }
    left -= leg.length;
  }
  throw new Error("the share lies outside the route");
}

interface Trial {
  readonly off: number;
  readonly likely: number;
  /** At most, on the side on which it is off. */
  readonly bound: number;
  /** One standard deviation by the terms. */
  readonly sigma: number;
}

const trialOf = ({ where, band }: Located, x: number): Trial => ({
  off: where.at_m - x,
  likely: band.likely_m,
  bound: where.at_m > x ? band.nearer_m : band.farther_m,
  sigma: Math.sqrt(band.terms.reduce((sum, { metres }) => sum + metres ** 2 / 3, 0)),
});

/** Breaks on generated routes, each with a truth of its own; `ask` says what is read of it. */
async function trials(ask: (drawn: Drawn, broken: Break, random: ReturnType<typeof seeded>) => Reading[]) {
  const done: Trial[] = [];
  for (const seed of SEEDS) {
    const hidden = inventRoute(seed);
    const plant = await plantOf(hidden);
    const random = seeded(seed * 7919);
    for (let n = 0; n < PER_ROUTE; n += 1) {
      const drawn = draw(hidden, random);
      const broken = breakIn(drawn, random.next());
      done.push(trialOf(await located(plant, ...ask(drawn, broken, random)), broken.x));
    }
  }
  return done;
}

const TIMEOUT = 120_000;

const settings = { index: INDEX, spacing_m: 0.5 };
const fromA = ({ travel }: Break, random: ReturnType<typeof seeded>): Reading => ({
  from: "A/PA:01",
  distance_m: Math.max(0.1, shown(travel, INDEX, random)),
  ...settings,
});

/** Shares of trials that lie within the likely band and within the bound, and how their scatter compares with the terms'. */
function summary(done: readonly Trial[]) {
  const within = (of: "likely" | "bound") =>
    done.filter((trial) => Math.abs(trial.off) <= trial[of] + 0.02).length / done.length;
  const scatter = Math.sqrt(done.reduce((sum, { off, sigma }) => sum + (off / sigma) ** 2, 0) / done.length);
  return { likely: within("likely"), bound: within("bound"), scatter };
}

/** Every band is made of its terms: the bound is their sum, the likely band their root of squares, never more. */
function expectMadeOfTerms({ band }: Located) {
  const sum = band.terms.reduce((total, { metres }) => total + metres, 0);
  const likely = 1.96 * Math.sqrt(band.terms.reduce((total, { metres }) => total + metres ** 2 / 3, 0));
  expect(Math.abs(band.all_m - sum)).toBeLessThan(0.001 * (band.terms.length + 4));
  expect(Math.abs(band.likely_m - Math.min(likely, sum))).toBeLessThan(0.01);
}

/** What is claimed of bands must hold of the trials: as often as they claim, and no wider than their terms. */
function expectHonest(done: readonly Trial[]) {
  const { likely, bound, scatter } = summary(done);
  expect(done.length).toBe(SEEDS.length * PER_ROUTE);
  expect(likely).toBeGreaterThanOrEqual(0.95);
  expect(bound).toBe(1);
  // 1 where the terms say exactly how far places scatter; a band twice too wide would make it a half.
  expect(scatter).toBeGreaterThan(0.96);
  expect(scatter).toBeLessThan(1.04);
}

const meanBand = (done: readonly Trial[]): number => done.reduce((sum, { likely }) => sum + likely, 0) / done.length;

describe("breaks on routes whose index, excess, marks, stubs and pigtails are hidden", () => {
  let plain: readonly Trial[] = [];
  beforeAll(async () => {
    plain = await trials((_, broken, random) => [fromA(broken, random)]);
  }, TIMEOUT);
  it("lie within the likely band as often as it claims and never outside the bound, which is no wider than its terms", () => {
    expectHonest(plain);
  });
  it(
    "do so with the far end known, too, and the band is narrower",
    async () => {
      const done = await trials(({ whole }, broken, random) => [
        { ...fromA(broken, random), known: [{ at: "end", distance_m: shown(whole, INDEX, random) }] },
      ]);
      expectHonest(done);
      expect(meanBand(done)).toBeLessThan(0.75 * meanBand(plain));
    },
    TIMEOUT,
  );
  it(
    "do so between every joint known, and the band is narrower still",
    async () => {
      const done = await trials(({ whole, joints }, broken, random) => [
        {
          ...fromA(broken, random),
          known: [...joints, { tray: "end", travel: whole }].map(({ tray, travel }) => ({
            at: tray,
            distance_m: shown(travel, INDEX, random),
          })),
        },
      ]);
      expectHonest(done);
      expect(meanBand(done)).toBeLessThan(0.6 * meanBand(plain));
    },
    TIMEOUT,
  );
  it(
    "do so read from both ends, and the band is narrower",
    async () => {
      const done = await trials(({ whole }, broken, random) => [
        fromA(broken, random),
        { from: "Z/PZ:01", distance_m: Math.max(0.1, shown(whole - broken.travel, INDEX, random)), ...settings },
      ]);
      expectHonest(done);
      expect(meanBand(done)).toBeLessThan(0.75 * meanBand(plain));
    },
    TIMEOUT,
  );
  it(
    "name the joint among the first candidates where the break is at one",
    async () => {
      for (const seed of SEEDS.slice(0, 12)) {
        const hidden = inventRoute(seed);
        const plant = await plantOf(hidden);
        const random = seeded(seed);
        const drawn = draw(hidden, random);
        // The joint between two reels lies where one stub ends and the next begins.
        const joints = drawn.legs.flatMap((leg, at) =>
          !leg.sheath && at > 1 && at < drawn.legs.length - 3 && drawn.legs[at + 1]?.sheath === false ? [leg] : [],
        );
        for (const leg of joints) {
          const answer = await located(plant, fromA({ x: 0, travel: leg.travel(1) }, random));
          const [first] = answer.candidates.filter(({ kind }) => kind === "splice");
          expect(answer.candidates[0]?.kind).toBe("splice");
          expect(Math.abs((first?.off_m ?? 0) + answer.where.at_m - leg.x - leg.length)).toBeLessThan(0.01);
          expectMadeOfTerms(answer);
        }
      }
    },
    TIMEOUT,
  );
});

describe("with nothing hidden", () => {
  it(
    "a reading from A at x and one from Z at what is left agree on the mark",
    async () => {
      for (const seed of SEEDS) {
        const hidden = inventRoute(seed);
        const plant = await plantOf(hidden);
        const random = seeded(seed);
        const drawn = draw(hidden, random, 0);
        for (let n = 0; n < 6; n += 1) {
          const { x, travel } = breakIn(drawn, random.next());
          const one = await located(plant, { from: "A/PA:01", distance_m: travel / INDEX, ...settings });
          const other = await located(plant, {
            from: "Z/PZ:01",
            distance_m: (drawn.whole - travel) / INDEX,
            ...settings,
          });
          expect(one.where.at_m).toBeCloseTo(x, 2);
          expect(other.where.at_m).toBeCloseTo(drawn.length - x, 2);
          expect([other.where.kind, other.where.cable]).toEqual([one.where.kind, one.where.cable]);
          expect(Math.abs((other.where.mark?.value ?? 0) - (one.where.mark?.value ?? 0))).toBeLessThan(0.02);
          expectMadeOfTerms(one);
          const both = await located(
            plant,
            { from: "A/PA:01", distance_m: travel / INDEX, ...settings },
            { from: "Z/PZ:01", distance_m: (drawn.whole - travel) / INDEX, ...settings },
          );
          expect(both.where.at_m).toBeCloseTo(x, 2);
          expect(both.band.likely_m).toBeLessThanOrEqual(Math.min(one.band.likely_m, other.band.likely_m) + 0.001);
        }
      }
    },
    TIMEOUT,
  );
});
