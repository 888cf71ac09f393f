/** A cable's line laid to scale. */
import { describe, expect, it } from "vitest";
import { layLine, packLabels } from "../../core/paper/line.ts";

const stop = (name: string, coil_m: number | null = 0) => ({ name, mark: null, coil_m, spliced: false });

describe("a line of known lengths", () => {
  const laid = layLine({
    cable: "F-1",
    stops: [stop("A"), stop("B", 20), stop("C")],
    legs: [
      { metres: 100, pathway: "W-1" },
      { metres: 80, pathway: null },
    ],
    breaks: [{ leg: 0, at_m: 50, destroyed_m: 4, words: "dug up" }],
  });
  it("gives every metre the same room, coils included", () => {
    expect(laid.to_scale).toBe(true);
    expect(laid.legs.map(({ from, to }) => (to - from) * 200)).toEqual([expect.closeTo(100), expect.closeTo(80)]);
    expect(laid.stops.map(({ from, to }) => (to - from) * 200)).toEqual([0, expect.closeTo(20), 0]);
  });
  it("shows a break where it is and as long as it is", () => {
    const [one] = laid.breaks;
    expect(one?.exact).toBe(true);
    expect((one?.from ?? 0) * 200).toBeCloseTo(48);
    expect((one?.to ?? 0) * 200).toBeCloseTo(52);
  });
});

describe("a line with something unknown", () => {
  it("isn't to scale, and says which leg", () => {
    const legs = [
      { metres: 100, pathway: null },
      { metres: null, pathway: null },
    ];
    const laid = layLine({
      cable: "F-1",
      stops: [stop("A"), stop("B"), stop("C")],
      legs,
      breaks: [{ leg: 1, at_m: 5, destroyed_m: null, words: "" }],
    });
    expect(laid.to_scale).toBe(false);
    expect(laid.legs.map(({ exact }) => exact)).toEqual([true, false]);
    expect(laid.breaks[0]).toMatchObject({ exact: false, from: laid.legs[1]?.from, to: laid.legs[1]?.to });
  });
  it("is not to scale when a coil's metres are unknown", () => {
    const laid = layLine({
      cable: "F",
      stops: [stop("A", null), stop("B")],
      legs: [{ metres: 9, pathway: null }],
      breaks: [],
    });
    expect(laid.to_scale).toBe(false);
  });
  it("refuses a break on a leg that isn't there", () => {
    const breaks = [{ leg: 3, at_m: null, destroyed_m: null, words: "" }];
    expect(() =>
      layLine({ cable: "F", stops: [stop("A"), stop("B")], legs: [{ metres: 9, pathway: null }], breaks }),
    ).toThrow(RangeError);
  });
});

describe("labels side by side", () => {
  it("take a further row where they would meet, and stay within", () => {
    const labels = [
      { at: 0, width: 40 },
      { at: 30, width: 40 },
      { at: 100, width: 40 },
    ];
    expect(packLabels(labels, 100, 4)).toEqual([
      { from: 0, row: 0 },
      { from: 10, row: 1 },
      { from: 60, row: 0 },
    ]);
  });
});
