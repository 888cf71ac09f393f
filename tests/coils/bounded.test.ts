/**
 * The longest coil a place is to hold: the policy's, or what there is room for. Across a hole lie the coil from edge to edge
 * and a case, along it what hangs there already as well: reading 8 of the project. These holes are as long as wide.
 */
import { describe, expect, it } from "vitest";
import { bounded } from "../../core/repair/coils/study.ts";
import { course, type Given, POLICY } from "./courses.ts";

const most = (hole: Given, more: object = { coil_radius_m: 0.2, diameter_m: 0.02 }): number | undefined =>
  bounded({ ...course({}, hole, {}), ...more }, POLICY, 30).stops[1]?.coil_most_m;

describe("a hole of known size", () => {
  // 2 x 0.2 m of coil and 0.5 m of case leave 0.1 m: a bundle of two turns by two of 20 mm on each side of the ring.
  it("holds so many turns as lie across it beside a case", () => {
    expect(most({ inner_m: 1 })).toBe(5);
    expect(4 * 2 * Math.PI * 0.2).toBeCloseTo(5.03, 2);
    expect(most({ inner_m: 3 })).toBe(30);
  });
  it("holds less beside what hangs there: another case, other cables' coils", () => {
    expect(most({ inner_m: 1.5, taken: { cases: 1, coils_m: 0, unknown: 0 } })).toBe(5);
    expect(most({ inner_m: 1, taken: { cases: 1, coils_m: 0, unknown: 0 } })).toBe(0);
    expect(most({ inner_m: 1.1, taken: { cases: 0, coils_m: 0.1, unknown: 0 } })).toBe(5);
  });
});

describe("a room of a building", () => {
  const indoors = (room: Given, most_m?: number): number | undefined =>
    bounded({ ...course({}, { indoors: true, ...room }, {}), coil_radius_m: 0.2, diameter_m: 0.02 }, POLICY, 30, most_m)
      .stops[1]?.coil_most_m;

  it("holds no more than the policy for rooms says, and never more than any place", () => {
    expect(indoors({}, 15)).toBe(15);
    expect(indoors({}, 40)).toBe(30);
    expect(bounded(course({}, {}, {}), POLICY, 30, 15).stops[1]?.coil_most_m).toBe(30);
  });
  it("of known size holds no more than there is room for", () => {
    expect(indoors({ inner_m: 1 }, 15)).toBe(5);
  });
});

describe("a place whose size nobody knows", () => {
  it("is bound by the policy alone", () => {
    expect(most({})).toBe(30);
    expect(most({ inner_m: 1 }, { coil_radius_m: null })).toBe(30);
  });
});
