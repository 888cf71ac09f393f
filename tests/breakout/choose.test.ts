/**
 * Which strands are taken, held against a search over every set of strands of small cables. The order (nothing kept for
 * repair, then units without live circuits, then the fewest units) is the plant's own rule: common practice, no source.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Chosen, choose, type OfferedUnit } from "../../core/breakout/choose.ts";

const unit = (live: number, numbers: readonly number[], more: Partial<OfferedUnit> = {}): OfferedUnit => ({
  live,
  opened_before: false,
  strands: numbers.map((number) => ({ number, kept: false, proven: true, ready: false })),
  ...more,
});
const taken = (sets: readonly Chosen[]): (readonly number[])[] =>
  sets.map(({ units }) => units.flatMap(({ takes }) => takes));

describe("a choice of strands", () => {
  it("takes one dark unit before fewer strands beside live ones", () => {
    const [best] = choose([unit(1, [1, 2, 3, 4]), unit(0, [13, 14, 15, 16])], 4, 3);
    expect(best?.units).toEqual([{ unit: 1, takes: [13, 14, 15, 16] }]);
  });
  it("opens two dark units rather than one with a live circuit, and offers that one as well", () => {
    const sets = choose([unit(1, [1, 2, 3, 4]), unit(0, [13, 14]), unit(0, [25, 26])], 4, 3);
    expect(taken(sets)[0]).toEqual([13, 14, 25, 26]);
    expect(taken(sets)).toContainEqual([1, 2, 3, 4]);
  });
  it("takes a live unit only for what dark ones lack", () => {
    const [best] = choose([unit(1, [1, 2, 3, 4]), unit(0, [13, 14, 15])], 5, 3);
    expect(best?.units).toEqual([
      { unit: 0, takes: [1, 2] },
      { unit: 1, takes: [13, 14, 15] },
    ]);
  });
  it("leaves whole units free where a smaller one suffices", () => {
    const [best] = choose([unit(0, [1, 2, 3, 4, 5, 6]), unit(0, [13, 14])], 2, 3);
    expect(best?.units).toEqual([{ unit: 1, takes: [13, 14] }]);
  });
  it("takes neighbours, proven ones before others, and a unit that is open already before one that isn't", () => {
    const strands = [1, 3, 4, 5, 9].map((number) => ({ number, kept: false, proven: number !== 4, ready: false }));
    expect(taken(choose([unit(0, [], { strands })], 3, 1))).toEqual([[1, 3, 5]]);
    expect(taken(choose([unit(0, [1, 4, 6, 7, 8])], 3, 1))).toEqual([[6, 7, 8]]);
    const [best] = choose([unit(0, [1, 2]), unit(0, [13, 14], { opened_before: true })], 2, 1);
    expect(best?.units[0]?.unit).toBe(1);
  });
  it("takes strands that are cut already before it cuts others", () => {
    const strands = [1, 2, 3, 4].map((number) => ({ number, kept: false, proven: true, ready: number > 2 }));
    const [best] = choose([unit(0, [13, 14]), unit(0, [], { strands })], 2, 1);
    expect(best).toMatchObject({ units: [{ unit: 1, takes: [3, 4] }], cuts: 0 });
  });
  it("touches what is kept for repair only where nothing else is left, and last", () => {
    const kept = [11, 12].map((number) => ({ number, kept: true, proven: true, ready: false }));
    const free = [1, 2].map((number) => ({ number, kept: false, proven: true, ready: false }));
    expect(choose([unit(0, [], { strands: [...free, ...kept] })], 2, 1)[0]).toMatchObject({ kept: 0 });
    expect(choose([unit(0, [], { strands: [...free, ...kept] })], 3, 1)[0]).toMatchObject({ kept: 1 });
    expect(choose([unit(1, [5, 6]), unit(0, [], { strands: kept })], 2, 2).map((one) => one.kept)).toEqual([0, 2]);
  });
  it("takes a strand that leads nowhere after one that another job wants, that after one kept for repair", () => {
    const own = (number: number, more: object) => ({ number, kept: false, proven: true, ready: false, ...more });
    const strands = [own(1, { short: 2 }), own(2, { short: 1 }), own(3, { promised: "J-1" }), own(4, { kept: true })];
    const order = [1, 2, 3, 4].map((wanted) => taken(choose([unit(0, [], { strands })], wanted, 1))[0]);
    expect(order).toEqual([[4], [3, 4], [2, 3, 4], [1, 2, 3, 4]]);
    // Rather a live unit opened than glass that leads nowhere.
    const dead = [own(13, { short: 2 }), own(14, { short: 2 })];
    expect(taken(choose([unit(0, [], { strands: dead }), unit(1, [1, 2])], 2, 2))).toEqual([
      [1, 2],
      [13, 14],
    ]);
  });
  it("is none where there are too few", () => {
    expect(choose([unit(0, [1, 2])], 3, 5)).toEqual([]);
    expect(choose([], 1, 5)).toEqual([]);
  });
});

/** Every set of so many strands, and what is best among them, without any idea of how a choice is made. */
function bruteForce(units: readonly OfferedUnit[], wanted: number): readonly number[] | null {
  const all = units.flatMap((one, index) => one.strands.map((strand) => ({ ...strand, index, live: one.live > 0 })));
  let best: readonly number[] | null = null;
  for (let bits = 0; bits < 2 ** all.length; bits += 1) {
    const set = all.filter((_, index) => (bits >> index) % 2 === 1);
    if (set.length !== wanted) continue;
    const opened = new Set(set.map(({ index }) => index));
    const live = new Set(set.flatMap((one) => (one.live ? [one.index] : [])));
    const cost = [set.some(({ kept }) => kept) ? 1 : 0, live.size, opened.size];
    if (best === null || lower(cost, best)) best = cost;
  }
  return best;
}
const lower = (a: readonly number[], b: readonly number[]): boolean => {
  const at = a.findIndex((value, index) => value !== b[index]);
  return at >= 0 && (a[at] ?? 0) < (b[at] ?? 0);
};

describe("on any small cable", () => {
  it("no other set touches less kept glass, fewer live units or fewer units", () => {
    const strand = fc.record({ kept: fc.boolean(), proven: fc.boolean(), ready: fc.boolean() });
    const units = fc.array(
      fc.record({
        live: fc.integer({ min: 0, max: 2 }),
        opened_before: fc.boolean(),
        strands: fc.array(strand, { maxLength: 4 }),
      }),
      { maxLength: 4 },
    );
    let found = 0;
    fc.assert(
      fc.property(units, fc.integer({ min: 1, max: 6 }), (given, wanted) => {
        const cable = given
          .map((one, index) => ({
            ...one,
            strands: one.strands.map((own, place) => ({ ...own, number: index * 10 + place + 1 })),
          }))
          .filter((_, index, all) => all.slice(0, index + 1).reduce((sum, one) => sum + one.strands.length, 0) <= 12);
        const sets = choose(cable, wanted, 5);
        const expected = bruteForce(cable, wanted);
        const [best] = sets;
        expect(best === undefined).toBe(expected === null);
        if (!best) return;
        found += 1;
        expect([best.kept > 0 ? 1 : 0, best.live_units, best.units.length]).toEqual(expected);
        for (const set of sets) {
          const numbers = set.units.flatMap(({ takes }) => takes);
          expect(new Set(numbers).size).toBe(wanted);
          for (const { unit: at, takes } of set.units) {
            expect(takes.length).toBeGreaterThan(0);
            for (const number of takes) expect(cable[at]?.strands.map((one) => one.number)).toContain(number);
          }
        }
        expect(new Set(sets.map((set) => set.units.map((one) => one.unit).join())).size).toBe(sets.length);
      }),
      { seed: 20_260_301, numRuns: 600 },
    );
    expect(found).toBeGreaterThan(100);
  });
});
