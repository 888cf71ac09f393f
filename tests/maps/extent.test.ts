/** Where a campus lies, and when a spot is astray. */
import { describe, expect, it } from "vitest";
import { astray, extentOf, outsideBy } from "../../core/maps/extent.ts";

describe("a campus and a spot", () => {
  const campus = extentOf([
    [10, 50],
    [10.02, 50.01],
    [10.01, 49.99],
  ]);
  it("has the extent of its places", () => {
    expect(campus).toEqual([10, 49.99, 10.02, 50.01]);
    expect(extentOf([])).toBeNull();
  });
  it("is left by a spot a degree of latitude further north by 111.2 km", () => {
    // A degree of a great circle of 6371.0088 km: 111.195 km.
    expect(outsideBy(campus as never, [10.01, 51.01])).toBeCloseTo(111_195, -1);
    expect(outsideBy(campus as never, [10.01, 50])).toBe(0);
  });
  it("tells what is far, what is swapped and what is near", () => {
    expect(astray(campus as never, [[10.05, 50.02]])).toBeNull();
    expect(astray(campus as never, [[12, 50]])).toBe("far");
    expect(astray(campus as never, [[50.005, 10.01]])).toBe("swapped");
    expect(astray(campus as never, [])).toBeNull();
    // One end here and the other across the sea is not a swap.
    expect(
      astray(campus as never, [
        [10.01, 50],
        [50.005, 10.01],
      ]),
    ).toBe("far");
  });
});
