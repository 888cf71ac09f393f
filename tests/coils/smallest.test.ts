/** The smallest set of coils: by hand, and against trying every set and every whole metre on small cables. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { mayHold } from "../../core/repair/coils/demands.ts";
import { openCourse } from "../../core/repair/coils/open.ts";
import { piecesOf } from "../../core/repair/coils/pieces.ts";
import { smallestSet } from "../../core/repair/coils/smallest.ts";
import { PROVEN } from "../../core/repair/coils/supply.ts";
import type { Course } from "../../core/repair/course.ts";
import { anyCourse, byTrying, course, cuts, type Given, POLICY, withMore } from "./courses.ts";

const lost = (metres: number) => ({ left_m: metres, right_m: metres });
const PLENTY_M = 400;
/** Two lengths nearer than this are one. */
const NOTHING_M = 0.001;

/** As much more as a stop is to hold. */
const full = ({ stops }: Course, stop: number): number => {
  const { coil_most_m = PLENTY_M, coil_left_m } = stops[stop] ?? {};
  return Math.max(0, Math.min(PLENTY_M, coil_most_m - (coil_left_m ?? 0)));
};

/**
 * Cuts that some coils would make mendable and none there is does; whole metres change nothing between two of them. Where
 * coils as long as they may be serve a single place and nothing on either side of it, there is no stretch to cure.
 */
function curable(one: Course, lost_m: number, holders: readonly number[]): number[] {
  const most = withMore(one, new Map(holders.map((stop) => [stop, full(one, stop)])));
  const good = (at_m: number): boolean => byTrying(most, at_m, lost_m) === "good";
  return cuts(one, 0.5).filter(
    (at_m) =>
      byTrying(one, at_m, lost_m) !== "good" &&
      good(at_m) &&
      (good(at_m - 4 * NOTHING_M) || good(at_m + 4 * NOTHING_M)),
  );
}

function* subsets(of: readonly number[], count: number, from = 0): Generator<number[]> {
  if (count === 0) yield [];
  else
    for (let at = from; at <= of.length - count; at++)
      for (const rest of subsets(of, count - 1, at + 1)) yield [of[at] as number, ...rest];
}

/**
 * The least sum of whole metres at these stops by trying, if it is less than `below`; what serves goes on serving with more
 * coil.
 */
function byTryingMetres(
  serves: (more: Map<number, number>) => boolean,
  stops: readonly number[],
  most: (stop: number) => number,
  below = Number.POSITIVE_INFINITY,
): number {
  const [first, ...rest] = stops;
  if (first === undefined) return serves(new Map()) ? 0 : Number.POSITIVE_INFINITY;
  // With all the others as long as they may be it takes at least so much here.
  const others = rest.map((stop): [number, number] => [stop, most(stop)]);
  const longest = Math.min(most(first), Math.ceil(below) - 1);
  let [low, high] = [0, longest];
  if (high < 0 || !serves(new Map([...others, [first, high]]))) return Number.POSITIVE_INFINITY;
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (serves(new Map([...others, [first, middle]]))) high = middle;
    else low = middle + 1;
  }
  if (rest.length === 0) return low;
  let best = Number.POSITIVE_INFINITY;
  for (let metres = low; metres <= longest && metres < best; metres++) {
    const here = (more: Map<number, number>): boolean => serves(new Map([...more, [first, metres]]));
    best = Math.min(best, metres + byTryingMetres(here, rest, most, Math.min(best, below) - metres));
  }
  return best;
}

describe("on any small cable", () => {
  it("no fewer coils do, and no fewer metres in as many", () => {
    let solved = 0;
    let weighed = 0;
    fc.assert(
      fc.property(anyCourse(5, true), fc.integer({ min: 0, max: 2 }), (one, lost_m) => {
        const holders = one.stops.flatMap((_, at) => (mayHold(one, at) ? [at] : []));
        const wanted = curable(one, lost_m, holders);
        const serves = (more: ReadonlyMap<number, number>): boolean => {
          const then = withMore(one, more);
          const bad = wanted.findIndex((at_m) => byTrying(then, at_m, lost_m) !== "good");
          // The cut that was hard to cure is tried first the next time: mostly it says no again.
          if (bad > 0) wanted.unshift(...wanted.splice(bad, 1));
          return bad < 0;
        };
        const { proven } = openCourse(one, lost(lost_m), POLICY);
        expect(proven.exact).toBe(true);
        const found = new Map(proven.coils.map(({ stop, more_m }) => [stop, more_m]));
        for (const [stop, more_m] of found) expect(more_m).toBeLessThan(full(one, stop) + 0.001);
        expect(serves(found)).toBe(true);
        let count = 0;
        let least: number[][] = [];
        while (least.length === 0 && count <= holders.length) {
          least = [...subsets(holders, count)].filter((stops) =>
            serves(new Map(stops.map((stop) => [stop, full(one, stop)]))),
          );
          count += 1;
        }
        expect(proven.coils).toHaveLength(count - 1);
        if (count > 1) solved += 1;
        if (count - 1 > 2) return;
        const metres = Math.min(...least.map((stops) => byTryingMetres(serves, stops, (stop) => full(one, stop))));
        const sum = proven.coils.reduce((total, { more_m }) => total + more_m, 0);
        // Lengths are whole metres and middles of holes half ones, so the least sum is one of halves: no more than tried.
        expect(sum).toBeLessThan(metres + 0.001);
        expect(sum).toBeGreaterThan(metres - 1.001);
        if (count > 1) weighed += 1;
      }),
      { seed: 11, numRuns: 120, endOnFailure: true },
    );
    // Most of them had something to cure.
    expect([solved > 60, weighed > 50]).toEqual([true, true]);
  });
});

describe("the smallest set", () => {
  const smallest = (...given: Given[]) => openCourse(course(...given), lost(1), POLICY).proven;

  it("adds up what coils lend one another", () => {
    // Each side of a cut wants 11 m; 3 m are there, and a metre serves both legs.
    expect(smallest({ coil_m: 3 }, { coil_m: 0 }, { coil_m: 20 }).coils).toEqual([{ stop: 0, more_m: 8 }]);
  });

  it("holds beside it what must stay", () => {
    const keep_m = 4;
    expect(smallest({ coil_m: 1, keep_m }, { keep_m }, { coil_m: 30, keep_m }).coils).toEqual([
      { stop: 0, more_m: 14 },
    ]);
  });

  it("never asks a place for coil that can't be reached or is opened", () => {
    const { coils, barred } = smallest({ usable: false }, {}, { coil_m: 20 });
    expect(coils.map(({ stop }) => stop)).toEqual([1]);
    // Nothing comes from the left: a new hole is dug 11 m back from the cut, for 1 m is lost and 10 m are wanted. Nearer to the
    // end there is no ground for it, nor in the hole, whose own coil is the left remain's from 102 m on.
    expect(barred).toEqual([
      { from_m: 1, to_m: expect.closeTo(11, 5) },
      { from_m: 100, to_m: 102 },
    ]);
  });

  it("makes no coil longer than its place is to hold, and leaves open what only a longer one would serve", () => {
    // Beyond the hole the cable slides towards it alone: a splice there draws all the way back from the far end's coil.
    const given = (more: Given): Given[] => [
      { coil_m: 11, ...more },
      { slides: "no", slides_back: "yes", ...more },
      { ...more },
    ];
    const free = openCourse(course(...given({})), lost(1), POLICY);
    expect([free.proven.barred, free.unbounded]).toEqual([[], null]);
    const [longest] = free.proven.coils.filter(({ stop }) => stop === 2);
    expect(longest?.more_m).toBeGreaterThan(100);
    const bound = openCourse(course(...given({ coil_most_m: 30 })), lost(1), POLICY);
    expect(bound.proven.coils).toEqual([{ stop: 2, more_m: 30 }]);
    expect(bound.unbounded?.coils).toEqual(free.proven.coils);
    const one = withMore(course(...given({ coil_most_m: 30 })), new Map([[2, 30]]));
    const long = bound.stretches.filter(({ too_long }) => too_long);
    expect(long).toHaveLength(1);
    for (const { from_m, to_m } of long) {
      expect(byTrying(one, from_m - 0.5, 1)).toBe("good");
      for (const at_m of [from_m + 0.01, (from_m + to_m) / 2, to_m - 0.01]) expect(byTrying(one, at_m, 1)).toBe("bad");
    }
  });

  it("says that it isn't proven where the search was ended", () => {
    const one = course({}, {}, {}, {});
    const { coils, exact } = smallestSet(one, piecesOf(one, lost(1), POLICY, PROVEN), 1);
    expect(exact).toBe(false);
    const then = withMore(one, new Map(coils.map(({ stop, more_m }) => [stop, more_m])));
    expect(openCourse(then, lost(1), POLICY).stretches).toEqual([]);
  });

  it("of a cable of twenty stops is proven", () => {
    const many = Array.from(
      { length: 20 },
      (_, at): Given => ({
        leg_m: 30 + ((at * 37) % 90),
        coil_m: (at * 13) % 17,
        keep_m: 6,
        work_m: 17.4,
        slides: at % 7 === 5 ? "no" : "yes",
      }),
    );
    const { coils, exact, barred } = smallest(...many);
    expect(exact).toBe(true);
    const then = withMore(course(...many), new Map(coils.map(({ stop, more_m }) => [stop, more_m])));
    expect(openCourse(then, lost(1), POLICY)).toMatchObject({ proven: { coils: [], barred } });
  });
});
