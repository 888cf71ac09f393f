/** Whether case and coils fit into a hole: turns and bundles by hand, and what hangs there already, from the record. */
import { describe, expect, it } from "vitest";
import type { MendWhole } from "../../core/repair/answer.ts";
import type { CourseStop } from "../../core/repair/course.ts";
import { bundleOf, noRoom, roomFor, turnsOf } from "../../core/repair/room.ts";
import { course } from "./courses.ts";
import { line } from "./line.ts";

const POLICY = { case_m: 0.5 };
const sized = (more: Partial<CourseStop>) => {
  const one = { ...course({}, { inner_m: 1.2, ...more }, {}), coil_radius_m: 0.25, diameter_m: 0.012 };
  return { one, stop: one.stops[1] as CourseStop };
};

describe("a coil", () => {
  it("has as many turns as its length goes round, a turn begun being one", () => {
    // 2 × 3.1416 × 0.25 = 1.5708 m a turn.
    expect([0, 1, 1.5707, 1.58, 15.7].map((length_m) => turnsOf(length_m, 0.25))).toEqual([0, 1, 1, 2, 10]);
  });

  it("is a bundle as wide as it is high", () => {
    expect(bundleOf(15.7, 0.25, 0.012)).toBeCloseTo(4 * 0.012, 9);
    expect(bundleOf(14, 0.25, 0.012)).toBeCloseTo(3 * 0.012, 9);
    expect(bundleOf(0, 0.25, 0.012)).toBe(0);
  });
});

describe("a place", () => {
  it("takes the widest coil and a case across it", () => {
    const { one, stop } = sized({ inner_m: 1.09 });
    // 2 × (0.25 + 0.048) + 0.5 = 1.096 m.
    expect(noRoom(one, stop, 15.7, POLICY)).toBe("it is 1.09 m wide, and case and coils at their radius need 1.1 m");
    expect(noRoom(one, { ...stop, inner_m: 1.1 }, 15.7, POLICY)).toBe(null);
  });

  it("takes along it what hangs there already as well", () => {
    const taken = { cases: 1, coils_m: 0.1, unknown: 0 };
    const { one, stop } = sized({ inner_long_m: 1.65, taken });
    // 1.096 + 0.1 + 0.5 = 1.696 m.
    expect(noRoom(one, stop, 15.7, POLICY)).toBe(
      "it is 1.65 m long, and case and coils at their radius need 1.7 m with 1 case and other cables' coils that are there already",
    );
    expect(noRoom(one, { ...stop, inner_long_m: 1.7 }, 15.7, POLICY)).toBe(null);
  });

  it("of a size that nobody knows never refuses, and says so; a room of a building isn't asked", () => {
    const { one, stop } = sized({ inner_m: null });
    expect(roomFor(one, stop, 90, POLICY)).toMatchObject({ has_m: null, unproven: ["whether case and coils fit"] });
    const others = sized({ inner_m: 3, taken: { cases: 0, coils_m: 0, unknown: 2 } });
    expect(roomFor(others.one, others.stop, 9, POLICY).unproven).toEqual([
      "what room the coils of 2 other cables leave",
    ]);
    expect(roomFor(one, { ...stop, indoors: true }, 90, POLICY).unproven).toEqual([]);
  });
});

describe("a hole on record", () => {
  it("is too small once other cases hang in it, and the refusal has both numbers", async () => {
    const plant = await line();
    const refused = async () => {
      const answer = await plant.run<MendWhole>("mend.plans", { cable: "F-100", mark: 1200 });
      return answer.refused.find(({ place }) => place?.tag === "H-1")?.reason ?? null;
    };
    await plant.edit("space", "H-1", { inner_length_m: 2.6, inner_width_m: 2 });
    expect(await refused()).not.toMatch(/long/);
    for (const tag of ["C-1", "C-2", "C-3"]) await plant.add("closure", { tag, space_id: "H-1", kind: "dome" });
    // F-100's 14.8 m of 12 mm at 0.24 m are 10 turns: 2 × (0.24 + 0.048) + 4 × 0.5 = 2.576 m; F-101 has no coil there.
    expect(await refused()).not.toMatch(/long/);
    // 9 m of F-101 are 6 turns, 3 by 3 of 12 mm: 36 mm more.
    await plant.edit("stop", "F-101@2", { mark_in: 493 });
    expect(await refused()).toBe(
      "it is 2.6 m long, and case and coils at their radius need 2.61 m with 3 cases and other cables' coils that are there already",
    );
    await plant.edit("closure", "H-1/C-3", { life: "removed" });
    expect(await refused()).not.toMatch(/long/);
  });
});
