/** The best choice for several cut cables together, held against every choice there is. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { roomTogether } from "../../core/repair/in-hole.ts";
import { bestTogether, type CableOptions, compareCosts, type WayOption } from "../../core/repair/several-best.ts";

const CASE_M = 0.5;
const HOLE_M = 150;

const use = (place: number, long_m: number | null, thick_m: number, cable_id: number): WayOption["uses"][number] => ({
  place,
  long_m,
  own: { radius_m: 0.2, thick_m, cases: 0, cable_id, there: [] },
});

/** Up to four cables in two ways, up to four options each, which meet in three places of which two are small. */
const cables: fc.Arbitrary<CableOptions[]> = fc
  .array(
    fc.record({
      way: fc.integer({ min: 1, max: 2 }),
      options: fc.array(
        fc.record({
          severs: fc.integer({ min: 0, max: 1 }),
          anew: fc.integer({ min: 0, max: 1 }),
          metres: fc.integer({ min: 0, max: 400 }),
          digs: fc.boolean(),
          places: fc.uniqueArray(fc.integer({ min: 1, max: 3 }), { maxLength: 2 }),
          thick_m: fc.integer({ min: 0, max: 4 }).map((tenths) => tenths / 10),
        }),
        { minLength: 1, maxLength: 4 },
      ),
    }),
    { minLength: 1, maxLength: 4 },
  )
  .map((all) =>
    all.map(({ way, options }, index) => ({
      cable_id: index + 1,
      way,
      options: options.map(({ severs, anew, metres, digs, places, thick_m }) => ({
        cost: [severs, 0, anew, metres],
        digs,
        uses: places.map((place) => use(place, place === 3 ? null : 1 + place / 2, thick_m, index + 1)),
      })),
    })),
  );

/** Places too full, then the costs, each way's hole once. */
function totalOf(all: readonly CableOptions[], chosen: readonly number[]): number[] {
  const taken = all.flatMap(({ options }, at) => options[chosen[at] ?? 0]?.uses ?? []);
  const full = [...Map.groupBy(taken, ({ place }) => place).values()].filter(
    (own) =>
      own.length > 1 &&
      own[0]?.long_m != null &&
      own[0].long_m <
        roomTogether(
          own.map((one) => one.own),
          CASE_M,
        ),
  ).length;
  const digging = new Set(all.flatMap(({ options, way }, at) => (options[chosen[at] ?? 0]?.digs ? [way] : [])));
  const cost = [0, 1, 2, 3].map((place) =>
    all.reduce((sum, { options }, at) => sum + (options[chosen[at] ?? 0]?.cost[place] ?? 0), 0),
  );
  return [full, ...cost.slice(0, 3), (cost[3] ?? 0) + digging.size * HOLE_M];
}

/** Every choice, the first cable's options changing least often. */
const everyChoice = (all: readonly CableOptions[]): number[][] =>
  all.reduce<number[][]>(
    (found, { options }) => found.flatMap((one) => options.map((_, index) => [...one, index])),
    [[]],
  );

describe("the best for several cables together", () => {
  it("is the least of every choice there is", () => {
    fc.assert(
      fc.property(cables, (all) => {
        const best = bestTogether(all, { case_m: CASE_M, hole_m: HOLE_M });
        const least = everyChoice(all)
          .map((chosen) => totalOf(all, chosen))
          .sort(compareCosts)[0];
        expect(best?.total).toEqual(least);
        expect(totalOf(all, best?.chosen ?? [])).toEqual(least);
      }),
      { seed: 20260314, numRuns: 400 },
    );
  });

  it("digs one hole for all where that is less than what each needs by itself without one", () => {
    const one = (cable_id: number): CableOptions => ({
      cable_id,
      way: 1,
      options: [
        { cost: [0, 0, 0, 200], digs: false, uses: [] },
        { cost: [0, 0, 0, 150], digs: true, uses: [] },
      ],
    });
    // Each by itself 200 or 300; two together 400 or 450; four together 800 or 750.
    const chosen = (count: number) =>
      bestTogether(
        Array.from({ length: count }, (_, index) => one(index + 1)),
        { case_m: CASE_M, hole_m: HOLE_M },
      )?.chosen;
    expect(chosen(1)).toEqual([0]);
    expect(chosen(2)).toEqual([0, 0]);
    expect(chosen(4)).toEqual([1, 1, 1, 1]);
  });

  it("leaves a place to the cable that loses most without it, whichever comes first", () => {
    const wants = (cable_id: number, else_m: number): CableOptions => ({
      cable_id,
      way: 1,
      options: [
        { cost: [0, 0, 0, 100], digs: false, uses: [use(1, 1.2, 0.1, cable_id)] },
        { cost: [0, 0, 0, else_m], digs: false, uses: [] },
      ],
    });
    const policy = { case_m: CASE_M, hole_m: HOLE_M };
    expect(bestTogether([wants(1, 150), wants(2, 900)], policy)?.chosen).toEqual([1, 0]);
    // Of alike ones the first has its best.
    expect(bestTogether([wants(1, 150), wants(2, 150)], policy)?.chosen).toEqual([0, 1]);
  });

  it("is none where a cable has no way at all", () => {
    expect(bestTogether([{ cable_id: 1, way: 1, options: [] }], { case_m: CASE_M, hole_m: HOLE_M })).toBeNull();
  });
});
