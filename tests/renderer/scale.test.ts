/** Names along a line never lie on each other, and steps of axes are round. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { placeNames, roundStep, stepsTo } from "../../renderer/drawing/scale.ts";

const NAMES = fc.array(
  fc.record({
    x: fc.integer({ min: 0, max: 900 }),
    width: fc.integer({ min: 5, max: 160 }),
    rank: fc.integer({ min: 0, max: 2 }),
  }),
  { maxLength: 40 },
);

describe("names along a line", () => {
  it("don't touch each other and stay inside (any names, fixed seed)", () => {
    fc.assert(
      fc.property(NAMES, (drawn) => {
        const names = drawn.map((name, index) => ({ ...name, key: String(index) }));
        const placed = placeNames(names, 900, 2);
        const spans = placed.map(({ key, x, row }) => {
          const half = (names[Number(key)]?.width ?? 0) / 2;
          return { row, from: x - half, to: x + half };
        });
        for (const [at, one] of spans.entries()) {
          expect(one.from).toBeGreaterThanOrEqual(-0.001);
          expect(one.to).toBeLessThanOrEqual(900.001);
          for (const other of spans.slice(at + 1)) {
            if (other.row === one.row) expect(one.to <= other.from || other.to <= one.from).toBe(true);
          }
        }
      }),
      { seed: 7, numRuns: 300 },
    );
  });

  it("keep both ends when there isn't room for all", () => {
    const names = Array.from({ length: 30 }, (_, index) => ({
      key: String(index),
      x: index * 10,
      width: 60,
      rank: index === 0 || index === 29 ? 0 : 1,
    }));
    const keys = placeNames(names, 320, 1).map(({ key }) => key);
    expect(keys).toContain("0");
    expect(keys).toContain("29");
  });
});

describe("steps of an axis", () => {
  it("are 1, 2 or 5 times a power of ten, and not too many", () => {
    expect(roundStep(3136, 7)).toBe(500);
    expect(roundStep(284, 7)).toBe(50);
    expect(roundStep(17_980, 7)).toBe(5000);
    expect(roundStep(0, 7)).toBe(1);
  });

  it("begin at nothing and don't pass the end", () => {
    expect(stepsTo(3136, 500)).toEqual([0, 500, 1000, 1500, 2000, 2500, 3000]);
    expect(stepsTo(0.3, 0.1)).toHaveLength(4);
  });
});
