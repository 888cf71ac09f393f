import { describe, expect, it } from "vitest";
import { markAt } from "../../core/locate/geometry.ts";
import { distanceOf, roundTrip } from "../../core/locate/reading.ts";
import { Values } from "../../core/locate/values.ts";
import { limitsInUse } from "../../core/standards/limits/in-use.ts";
import { newPlant } from "../support/plant.ts";
import { located, type Reel, route } from "./route.ts";

/** One reel of 2,000 m between two rooms, without excess: glass and sheath agree, and marks say metres. */
const straight: Reel = {
  tag: "F-1",
  type: { excess_ratio: 0, index_1550: 1.468 },
  stops: [
    { space: "A", from: 0, out: 0 },
    { space: "Z", in: 2000, to: 2000 },
  ],
};
const noStubs = { "locate.stub_m": 0, "locate.stub.error_m": 0 };

describe("published check values", () => {
  it("10.000 µs of round trip at index 1.468 are 1021.09 m (a calculator's worked example, printed 1021.1)", async () => {
    expect(distanceOf(10, 1.468)).toBeCloseTo(1021.09, 2);
    const plant = await route([straight], { limits: noStubs });
    const { where } = await located(plant, { from: "A/PA:01", time_us: 10 });
    expect(where.mark?.value).toBeCloseTo(1021.09, 2);
  });
  it("one microsecond of round trip at index 1.4682 is 102.095 m (c ÷ 2n)", () => {
    expect(distanceOf(1, 1.4682)).toBeCloseTo(102.095, 3);
    expect(roundTrip(102.0952 * 1.4682)).toBeCloseTo(1, 5);
  });
  it("an instrument at 2000 m with 0.161 m between samples is good to ± 1.28 m (an instrument's guide)", async () => {
    const plant = await newPlant();
    const values = new Values(await plant.store.read((reader) => limitsInUse(reader)));
    expect(values.instrument(2000, 0.161).bound).toBeCloseTo(1.28, 2);
  });
  it("a rough index of 1.5 in the place of 1.4682 puts a place 2.12 % too near, unless the walk corrects it", async () => {
    const plant = await route([{ ...straight, type: { excess_ratio: 0, index_1550: 1.4682 } }], { limits: noStubs });
    // Glass of 1000 m shows as 1000 × 1.4682 ÷ 1.5.
    const shown = (1000 * 1.4682) / 1.5;
    expect(1 - shown / 1000).toBeCloseTo(0.0212, 4);
    const { where } = await located(plant, { from: "A/PA:01", distance_m: shown, index: 1.5 });
    expect(where.mark?.value).toBeCloseTo(1000, 2);
  });
  it.each([
    [1.2, true],
    [1.4682, false],
    [1.5, false],
    [1.6482, true],
  ])(
    "an instrument's index of %s is questioned where no glass has it, and used as it was given",
    async (index, odd) => {
      const plant = await route([straight], { limits: noStubs });
      const { doubts, where } = await located(plant, { from: "A/PA:01", distance_m: 500, index });
      expect(doubts).toEqual(
        odd ? [expect.stringContaining(`Index ${index} is outside what glass has, 1.45 to 1.51`)] : [],
      );
      expect(where.mark?.value).toBeCloseTo((500 * index) / 1.468, 2);
    },
  );
  it("excess is glass over sheath: at 2 % a shown kilometre is 980.39 m of cable, not 980 (1 km ÷ 1.02)", async () => {
    const plant = await route([{ ...straight, type: { excess_ratio: 0.02, index_1550: 1.468 } }], { limits: noStubs });
    const { where } = await located(plant, { from: "A/PA:01", distance_m: 1000, index: 1.468 });
    expect(where.mark?.value).toBeCloseTo(980.392, 2);
  });
});

describe("a mark between two marks", () => {
  it("lies in proportion, whichever way the print runs", () => {
    expect(markAt([100, 200], 100, 0.25, [])).toBe(125);
    expect(markAt([200, 100], 100, 0.25, [])).toBe(175);
  });
  it("follows the print over a jump, from both ends", () => {
    const breaks = [{ at_mark: 9999, jumps_to: 0 }];
    expect(markAt([9990, 20], 29, 5 / 29, breaks)).toBeCloseTo(9995);
    expect(markAt([9990, 20], 29, 19 / 29, breaks)).toBeCloseTo(10);
    expect(markAt([20, 9990], 29, 25 / 29, breaks)).toBeCloseTo(9994);
  });
  it("is not told where no jump on record explains it", () => {
    expect(markAt([100, 200], 40, 0.5, [{ at_mark: 500, jumps_to: 5 }])).toBeNull();
  });
});
