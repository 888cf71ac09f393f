/** Worked examples of the sources, with the arithmetic answer where a print is wrong or silent. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  bendsOf,
  fillOf,
  jamRatio,
  type RoutePart,
  routeParts,
  Senseless,
  tensionAfter,
} from "../../core/fitness/reckon.ts";
import { PUBLISHED } from "../../core/standards/limits/published.ts";

const limit = (tag: string): number => PUBLISHED.find((one) => one.tag === tag)?.value as number;
const turn = (degrees: number): RoutePart => ({ bend: (degrees * Math.PI) / 180 });

describe("fill of a pipe", () => {
  // A technician's course, second-hand: 0.2043 + 0.4418 = 0.6461 of 3.356 square inches.
  it("is 19.25 % for cables of 0.51 and 0.75 in in a bore of 2.067 in", () => {
    expect(fillOf(2.067, [0.51, 0.75]) * 100).toBeCloseTo(19.25, 1);
    expect(fillOf(2.067, [0.51, 0.75]) * 3.356).toBeCloseTo(0.6461, 3);
  });

  // Pipe data give that pipe 2.067 in, the NEC table 2.047 in: 2 % of area apart.
  it("is 19.6 % of the same pipe by the bore of the NEC table", () => {
    expect(fillOf(2.047, [0.51, 0.75]) * 100).toBeCloseTo(19.6, 1);
  });

  // The same course: 34.8 %, "passes 40 %"; of the jam ratio the lesson says nothing.
  it("passes with three cables of 0.47 in in 1.380 in, which all the same jam", () => {
    const fill = fillOf(1.38, [0.47, 0.47, 0.47]);
    expect(fill * 100).toBeCloseTo(34.8, 1);
    expect(fill).toBeLessThan(limit("fill.more"));
    const jam = jamRatio(1.38, [0.47, 0.47, 0.47], limit("jam.alike")) as number;
    expect(jam).toBeCloseTo(2.94, 2);
    expect(jam).toBeGreaterThan(limit("jam.from"));
    expect(jam).toBeLessThan(limit("jam.to"));
  });

  // NEC chapter 9 table 4, as printed in the open: 40 % of a 2-inch tube of 2.067 in is 1.342 square inches.
  it("allows 1.342 square inches at 40 % of 2.067 in", () => {
    expect(limit("fill.more") * (Math.PI / 4) * 2.067 ** 2).toBeCloseTo(1.342, 3);
  });

  it("is above 1 for a pipe smaller than its cable, and refuses a pipe or cable without a size", () => {
    expect(fillOf(10, [12])).toBeCloseTo(1.44, 10);
    expect(() => fillOf(0, [12])).toThrow(Senseless);
    expect(() => fillOf(10, [0])).toThrow("a diameter is 0: must be above 0");
    expect(() => fillOf(Number.NaN, [1])).toThrow(Senseless);
  });
});

describe("the jam ratio", () => {
  it("says nothing of one, two or four cables, nor of three unlike ones", () => {
    for (const few of [[10], [10, 10], [10, 10, 10, 10], [10, 10, 14]]) expect(jamRatio(30, few, 0.1)).toBeNull();
    expect(jamRatio(30, [10, 10, 10], 0.1)).toBe(3);
    expect(jamRatio(30, [10, 10.5, 9.8], 0.1)).toBeCloseTo(2.97, 2);
  });
});

describe("the tension of a pull", () => {
  const straight = { length: 450 };
  const bends = [turn(90), turn(45), turn(90)];

  // A technician's course, second-hand, prints 288.8 lbf by a rounded multiplier of 7.13; arithmetic gives 288.5.
  it("is 40.5 lbf after 450 ft and 288.5 lbf after bends of 90, 45 and 90 degrees", () => {
    expect(tensionAfter([straight], 0.18, 0.5)).toBeCloseTo(40.5, 6);
    const end = tensionAfter([straight, ...bends], 0.18, 0.5);
    expect(end / 40.5).toBeCloseTo(7.12, 2);
    expect(Math.abs(end - 288.5) / 288.5).toBeLessThan(0.002);
  });

  // The example puts all straights before all bends, the worst order: its number is not that of a route.
  it("is 137 lbf where the same bends lie between four equal lengths", () => {
    const quarter = { length: 112.5 };
    const route = [quarter, turn(90), quarter, turn(45), quarter, turn(90), quarter];
    expect(tensionAfter(route, 0.18, 0.5)).toBeCloseTo(137, 0);
  });

  it("differs by direction where a bend lies nearer to one end", () => {
    const route = [{ length: 300 }, turn(90), { length: 20 }];
    expect(tensionAfter(route, 2, 0.5)).toBeCloseTo(677.98, 1);
    expect(tensionAfter(route.toReversed(), 2, 0.5)).toBeCloseTo(343.87, 1);
  });

  it("never falls with length, weight, friction or a bend", () => {
    const of = (length: number, weight: number, friction: number, more: RoutePart[] = []) =>
      tensionAfter([{ length }, turn(30), ...more], weight, friction);
    expect(of(101, 2, 0.3)).toBeGreaterThan(of(100, 2, 0.3));
    expect(of(100, 2.1, 0.3)).toBeGreaterThan(of(100, 2, 0.3));
    expect(of(100, 2, 0.31)).toBeGreaterThan(of(100, 2, 0.3));
    expect(of(100, 2, 0.3, [turn(1)])).toBeGreaterThan(of(100, 2, 0.3));
  });

  it("is the hanging weight upright, and no less than what was pulled before", () => {
    expect(tensionAfter([{ upright: 12 }], 2, 0.5)).toBe(24);
    expect(tensionAfter([{ length: 100 }, { upright: 12 }], 2, 0.5)).toBe(100);
    expect(tensionAfter([{ length: 10 }, { upright: 12 }], 2, 0.5)).toBe(24);
    expect(tensionAfter([{ upright: 12 }, turn(30), { upright: 12 }], 2, 0.5)).toBe(48);
    expect(tensionAfter([{ upright: 12 }, { length: 1 }, { upright: 12 }], 2, 0.5)).toBe(25);
    expect(() => tensionAfter([{ upright: -1 }], 2, 0.5)).toThrow("a length is -1");
  });

  it("refuses a negative length", () => {
    expect(() => tensionAfter([{ length: -1 }], 2, 0.3)).toThrow("a length is -1: can't be below 0");
  });
});

describe("the parts of a way on the map", () => {
  it("are straights of the recorded length and the bends between them", () => {
    const parts = routeParts(
      [
        [0, 0],
        [0.001, 0],
        [0.001, 0.001],
      ],
      300,
    );
    expect(parts).toHaveLength(3);
    expect(parts.reduce((sum, part) => sum + ("length" in part ? part.length : 0), 0)).toBeCloseTo(300, 9);
    expect(bendsOf(parts)).toBeCloseTo(90, 6);
  });

  it("don't turn at a point that lies on the line, nor at one drawn twice", () => {
    const line = [
      [0, 0],
      [0, 0.001],
      [0, 0.001],
      [0, 0.002],
    ] as const;
    expect(bendsOf(routeParts(line, 100))).toBe(0);
  });
});

describe("fill and pulls of any size", () => {
  const size = fc.double({ min: 0.1, max: 500, noNaN: true });
  const part = fc.oneof(
    fc.record({ length: fc.double({ min: 0, max: 2000, noNaN: true }) }),
    fc.record({ bend: fc.double({ min: 0, max: Math.PI, noNaN: true }) }),
  );

  it("grow with each cable laid, and don't depend on the order of cables", () => {
    fc.assert(
      fc.property(size, fc.array(size, { maxLength: 12 }), size, (bore, cables, further) => {
        const fill = fillOf(bore, cables);
        expect(fillOf(bore, [...cables, further])).toBeGreaterThan(fill);
        expect(fillOf(bore, cables.toReversed())).toBeCloseTo(fill, 6);
      }),
    );
  });

  it("are alike from both ends where nothing bends, and never fall with a further part", () => {
    fc.assert(
      fc.property(fc.array(part, { maxLength: 8 }), part, (route, further) => {
        const straight = route.filter((one) => "length" in one);
        expect(tensionAfter(straight.toReversed(), 2, 0.3)).toBeCloseTo(tensionAfter(straight, 2, 0.3), 6);
        const pull = tensionAfter(route, 2, 0.3);
        expect(tensionAfter([...route, further], 2, 0.3)).toBeGreaterThanOrEqual(pull);
        expect(tensionAfter([further, ...route], 2, 0.3)).toBeGreaterThanOrEqual(pull);
      }),
    );
  });
});
