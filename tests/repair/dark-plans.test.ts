/** Ways to take dark strands alone out of a sheath in which others shine, of courses of our own invention. */
import { describe, expect, it } from "vitest";
import type { Course } from "../../core/repair/course.ts";
import { darkPlans } from "../../core/repair/dark-plans.ts";
import { UNPROVEN_AS_M } from "../../core/standards/limits/repair.ts";
import { coil, course, cut, POLICY } from "./courses.ts";

/** A loop takes a window of 6 m and twice a reach of 4 m. */
const LOOPS = { window_m: 6, preparation_m: 6 };
const found = (one: Course, at_m: number) => darkPlans(one, cut(at_m), POLICY, LOOPS).plans;
const ways = (one: Course, at_m: number) =>
  found(one, at_m).map(({ points, landed }) =>
    [landed, ...points.map(({ at, loop }) => `${at} ${loop?.reaches}`)].join(" / "),
  );

/**
 * An end; a hole with 30 m of coil; so far from it one in which next to nothing is coiled and nobody lends; then the cut, and
 * a hole with 30 m. Nothing slides. The ends can't be reached.
 */
const far = (leg_m: number): Course =>
  course(
    { usable: false },
    coil(30, { leg_m, slides: "no" }),
    coil(1, { leg_m: 40, slides: "no" }),
    coil(30, { slides: "no" }),
    { usable: false },
  );

describe("a place at which the sheath can be opened in place only", () => {
  const cutOf = (leg_m: number): number => 100 + 2 + leg_m + 2 + 20;
  // Beside what is to be proven of either way: how large the places are.
  const penalty_m = UNPROVEN_AS_M;

  it("comes before one farther off at which the loop comes out, where that costs more than what is to be proven counts", () => {
    const leg_m = 2 * penalty_m;
    expect(ways(far(leg_m), cutOf(leg_m))).toEqual([" / 2 in_place / 3 yes", " / 1 yes / 3 yes"]);
  });

  it("comes after it, where that costs less", () => {
    const leg_m = penalty_m / 2;
    expect(ways(far(leg_m), cutOf(leg_m))).toEqual([" / 1 yes / 3 yes", " / 2 in_place / 3 yes"]);
  });
});

describe("a place at which the cable is opened already", () => {
  const opened = (more = {}) =>
    course({ usable: false }, coil(30), coil(0, { kind: "opened", window_m: 6, ...more }), coil(30), { usable: false });

  it("needs no loop, and the piece is measured from the case in the middle of it", () => {
    const [best] = found(opened(), 224);
    expect(best?.points).toMatchObject([{ at: 2, loop: { reaches: "opened", lent: [] } }, { at: 3 }]);
    // From the middle of the place, 1 m, the leg of 100 m, 10 m to work with at each end; a tenth is waste.
    expect(best?.new_cable_m).toBeCloseTo((1 + 100 + 20) * 1.1, 6);
  });

  it("is none where it can't be reached, and nothing beyond it is taken out either", () => {
    const { plans, refused } = darkPlans(opened({ usable: false }), cut(224), POLICY, LOOPS);
    expect(plans).toEqual([]);
    expect(refused.map(({ at, reason }) => `${at} ${reason}`)).toEqual([
      "0 the cable can't be reached there",
      "1 between it and the cut the cable is opened",
      "2 the cable can't be reached there",
      "4 the cable can't be reached there",
    ]);
  });
});

describe("the end of the cable", () => {
  it("takes the piece in the place of the dark strands, from whichever place before the cut", () => {
    const one = course({}, coil(30), {});
    expect(ways(one, 150)).toEqual(["right / 1 yes"]);
    expect(ways(one, 50)).toEqual(["left / 1 yes"]);
  });

  it("and the other end are no way to mend by themselves: that is a new run", () => {
    const { plans, refused } = darkPlans(course({}, {}), cut(50), POLICY, LOOPS);
    expect(plans).toEqual([]);
    expect(refused.map(({ reason }) => reason).join()).toContain("that is a new run, and no mend");
  });
});
