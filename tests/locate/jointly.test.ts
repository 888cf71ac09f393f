/** Several readings of one break: never wider than the narrowest of them, and said how. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { LocateAnswer } from "../../core/locate/answer.ts";
import { boundOf } from "../../core/locate/band.ts";
import { jointly } from "../../core/locate/jointly.ts";
import type { Parameter } from "../../core/locate/layout.ts";
import { newSample } from "../support/made.ts";

const FACT: Omit<Parameter, "bound"> = { key: "", kind: "stub", words: "", basis: "usual", source: "", record: null };

/** Readings of one truth: each place is off by what its parameters are off, and those are off by no more than their bounds. */
const readings = fc
  .record({
    bounds: fc.array(fc.double({ min: 0.01, max: 5, noNaN: true }), { minLength: 4, maxLength: 4 }),
    off: fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 4, maxLength: 4 }),
    slopes: fc.array(fc.array(fc.double({ min: -2, max: 2, noNaN: true }), { minLength: 4, maxLength: 4 }), {
      minLength: 2,
      maxLength: 4,
    }),
    weights: fc.array(fc.double({ min: 0.01, max: 1, noNaN: true }), { minLength: 4, maxLength: 4 }),
  })
  .map(({ bounds, off, slopes, weights }) => {
    const parameters = new Map(bounds.map((bound, at) => [`p${at}`, { ...FACT, bound }] as const));
    const sum = weights.slice(0, slopes.length).reduce((all, one) => all + one, 0);
    const ones = slopes.map((own, index) => ({
      x: 1000 + own.reduce((all, slope, at) => all + slope * (off[at] ?? 0) * (bounds[at] ?? 0), 0),
      slopes: new Map(own.map((slope, at) => [`p${at}`, slope] as const)),
      weight: (weights[index] ?? 0) / sum,
    }));
    return { parameters, ones };
  });

describe("readings of one place", () => {
  it("leave no more than the narrowest of them by itself, and the break is always within", () => {
    fc.assert(
      fc.property(readings, ({ parameters, ones }) => {
        const { x, band } = jointly(ones, parameters);
        const narrowest = Math.min(...ones.map(({ slopes }) => boundOf(slopes, parameters)));
        expect(band.bound_m).toBeLessThanOrEqual(narrowest + 0.001);
        expect(1000 - x).toBeGreaterThanOrEqual(-band.nearer_m - 0.001);
        expect(1000 - x).toBeLessThanOrEqual(band.farther_m + 0.001);
        expect(Math.abs(band.nearer_m + band.farther_m - 2 * band.bound_m)).toBeLessThan(0.003);
        expect(band.likely_m).toBeLessThanOrEqual(Math.max(band.nearer_m, band.farther_m) + 0.001);
      }),
    );
  });

  it("that only touch leave the point at which they do, whatever rounding makes of it", () => {
    // 0.4 - 0.1 and 0.3: the same place, and not the same number.
    const parameters = new Map([
      ["a", { ...FACT, bound: 0.1 }],
      ["b", { ...FACT, bound: 0.3 }],
    ]);
    const ones = [
      { x: 0, slopes: new Map([["b", 1]]), weight: 0.5 },
      { x: 0.4, slopes: new Map([["a", 1]]), weight: 0.5 },
    ];
    const { band } = jointly(ones, parameters);
    expect(band.bound_m).toBe(0);
    expect([band.nearer_m, band.farther_m]).toEqual([0, 0]);
  });

  it("that agree and share nothing are averaged where they are, and narrower than either", () => {
    const parameters = new Map([
      ["a", { ...FACT, bound: 3 }],
      ["b", { ...FACT, bound: 4 }],
    ]);
    const ones = [
      { x: 50, slopes: new Map([["a", 1]]), weight: 0.64 },
      { x: 52, slopes: new Map([["b", 1]]), weight: 0.36 },
    ];
    const { x, band } = jointly(ones, parameters);
    // 47 to 53 and 48 to 56 leave 48 to 53; the average is off by at most 0.64 × 3 + 0.36 × 4 = 3.36, from 47.36 to 54.08.
    expect(x).toBeCloseTo(50.72, 6);
    expect(band).toMatchObject({ nearer_m: 2.72, farther_m: 2.28, bound_m: 2.5 });
    expect(band.all_m).toBeCloseTo(3.36, 3);
    // By hand: 1.96 × √((1.92² + 1.44²) ÷ 3).
    expect(band.likely_m).toBeCloseTo(2.716, 3);
  });

  it("on the demo campus are no wider than the one from the near end, and the answer says how that follows", async () => {
    const plant = await newSample();
    const near = { from: "LMP/ER/C:03", distance_m: 300, index: 1.4682 };
    const far = { from: "REF/ER/A:03", distance_m: 520, index: 1.4682 };
    const ask = (...all: object[]) => plant.run<LocateAnswer>("locate.of", { readings: all });
    const [one, both] = [await ask(near), await ask(near, far)];
    expect(both.places).toHaveLength(1);
    expect(both.band?.bound_m).toBeLessThanOrEqual(one.band?.bound_m ?? 0);
    expect(both.band?.likely_m).toBeLessThan(one.band?.likely_m ?? 0);
    // The average alone would be farther off: the far reading goes over a way without marks.
    expect(both.band?.all_m).toBeGreaterThan(one.band?.bound_m ?? 0);
    expect([one.band?.how, both.band?.how?.replaceAll("\u202f", " ")]).toEqual([
      null,
      expect.stringMatching(/average of 2 readings.*By each reading alone the break lies within ± 8.5 m and ± 22.4 m/),
    ]);
  });
});
