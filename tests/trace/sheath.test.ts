/** Sheath between stops. Marks are read at the duct mouths; one foot is 0.3048 m exactly (NIST SP 811, appendix B). */
import { describe, expect, it } from "vitest";
import { crossingOf, Sheath, type SheathStop } from "../../core/trace/sheath.ts";

const FOOT = 0.3048;
const NO_MARKS = {
  mark_in: null,
  mark_open_from: null,
  mark_open_to: null,
  mark_out: null,
  slack_m: null,
  storage: null,
  crossing_m: null,
};

/** A cable of stops in order; `ways` are the lengths of the legs, undefined where none is on record. */
function sheath(
  stops: readonly Partial<SheathStop>[],
  {
    ways = [],
    unit = "m",
    breaks = [],
  }: {
    ways?: readonly (number | null | undefined)[];
    unit?: "m" | "ft" | null;
    breaks?: { at_mark: number; jumps_to: number }[];
  } = {},
): Sheath {
  const last = stops.length - 1;
  const full = stops.map(
    (stop, i): SheathStop => ({
      id: i + 1,
      ordinal: i + 1,
      kind: i === 0 || i === last ? "end" : "passing",
      place: `P${i + 1}`,
      ...NO_MARKS,
      ...stop,
    }),
  );
  const legs = ways.flatMap((length_m, i) =>
    length_m === undefined
      ? []
      : [{ from_stop_id: i + 1, to_stop_id: i + 2, pathway_id: i + 1, pathway: `W${i + 1}`, length_m }],
  );
  return new Sheath(full, legs, unit, breaks);
}
const length = (cable: Sheath, a: number, b: number) => {
  const { length_m, ...rest } = cable.length(a, b);
  return { length_m: length_m === null ? null : Math.round(length_m * 1000) / 1000, ...rest };
};
const marks = (length_m: number) => ({ length_m: Math.round(length_m * 1000) / 1000, from: "marks", lacks: [] });

describe("sheath by its marks", () => {
  it("is the difference of the marks that face each other", () => {
    expect(length(sheath([{ mark_out: 100 }, { mark_in: 350 }]), 1, 2)).toEqual(marks(250));
  });
  it("is the same whichever way the marks run, and whichever end one begins at", () => {
    const cable = sheath([{ mark_out: 350 }, { mark_in: 100 }]);
    expect(length(cable, 1, 2)).toEqual(marks(250));
    expect(length(cable, 2, 1)).toEqual(marks(250));
  });
  it("counts feet as feet", () => {
    expect(length(sheath([{ mark_out: 3104 }, { mark_in: 6800 }], { unit: "ft" }), 1, 2)).toEqual(marks(3696 * FOOT));
  });
  it("adds what lies in a place that it passes: crossing and coil", () => {
    const cable = sheath([{ mark_out: 0 }, { mark_in: 100, mark_out: 130 }, { mark_in: 200 }]);
    expect(length(cable, 1, 3)).toEqual(marks(200));
  });
  it("adds an end up to its tip, where that was read", () => {
    const cable = sheath([
      { mark_open_to: 80, mark_out: 100 },
      { mark_in: 350, mark_open_from: 362 },
    ]);
    expect(length(cable, 1, 2)).toEqual(marks(282));
  });
  it("leaves the window of an opening out for glass cut there, and not for glass that runs on in it", () => {
    const cable = sheath([
      { mark_out: 0 },
      { kind: "opened", mark_in: 100, mark_open_from: 110, mark_open_to: 112, mark_out: 120 },
      { mark_in: 200 },
    ]);
    expect(length(cable, 1, 2)).toEqual(marks(110));
    expect(length(cable, 2, 3)).toEqual(marks(88));
    expect(length(cable, 1, 3)).toEqual(marks(200));
  });
  it("gives each half of cut glass half of an opening whose edges were not read", () => {
    const cable = sheath([{ mark_out: 0 }, { kind: "opened", mark_in: 100, mark_out: 120 }, { mark_in: 200 }]);
    expect(length(cable, 1, 2)).toEqual(marks(110));
    expect(length(cable, 2, 3)).toEqual(marks(90));
  });
  it("loses what a cut took away", () => {
    const cable = sheath([
      { mark_out: 0 },
      { kind: "severed", mark_in: 100, mark_open_from: 104, mark_open_to: 131, mark_out: 140 },
      { mark_in: 200 },
    ]);
    expect(length(cable, 1, 2)).toEqual(marks(104));
    expect(length(cable, 2, 3)).toEqual(marks(69));
  });
  it("of which one side alone is left lies from its mouth to its tip", () => {
    const left = sheath([{ mark_out: 0 }, { kind: "severed", mark_in: 100, mark_open_from: 119 }, { mark_in: 200 }]);
    const right = sheath([{ mark_out: 0 }, { kind: "severed", mark_open_to: 131, mark_out: 140 }, { mark_in: 200 }]);
    const inside = (cable: Sheath) => cable.stopsBetween(1, 3).map((stop) => cable.inside(stop).length_m)[1];
    expect([inside(left), inside(right)]).toEqual([19, 9]);
  });
  it("takes nothing from glass that a cut left whole", () => {
    const between = sheath([
      { mark_out: 0 },
      { kind: "severed", mark_open_from: 104, mark_open_to: 131 },
      { mark_in: 200 },
    ]);
    expect(length(between, 1, 2)).toEqual(marks(104));
    expect(length(between, 1, 3)).toEqual(marks(200));
    const inside = sheath([
      { mark_out: 0 },
      { kind: "severed", mark_in: 100, mark_open_from: 104, mark_open_to: 131, mark_out: 140 },
      { mark_in: 200 },
    ]);
    expect(length(inside, 1, 3)).toEqual(marks(200));
  });
  it("goes over a jump of the print: a roll-over, and a second print", () => {
    const over = sheath([{ mark_out: 9990 }, { mark_in: 20 }], { breaks: [{ at_mark: 9999, jumps_to: 0 }] });
    expect(length(over, 1, 2)).toEqual(marks(29));
    const second = sheath([{ mark_out: 480 }, { mark_in: 5030 }], { breaks: [{ at_mark: 500, jumps_to: 5000 }] });
    expect(length(second, 1, 2)).toEqual(marks(50));
    const falling = sheath([{ mark_out: 20 }, { mark_in: 9990 }], { breaks: [{ at_mark: 0, jumps_to: 9999 }] });
    expect(length(falling, 1, 2)).toEqual(marks(29));
  });
  it("is not told by marks whose unit nobody knows", () => {
    const cable = sheath([{ mark_out: 100 }, { mark_in: 350 }], { unit: null, ways: [240] });
    expect(length(cable, 1, 2)).toEqual({ length_m: 240, from: "pathway", lacks: [] });
  });
});

describe("sheath without marks", () => {
  it("is the way, with slack and crossing in each place passed, and the slack of its ends", () => {
    const cable = sheath([{ slack_m: 5 }, { slack_m: 12, crossing_m: 4 }, { slack_m: 3 }], { ways: [100, 200] });
    expect(length(cable, 1, 3)).toEqual({ length_m: 324, from: "pathway", lacks: [] });
  });
  it("says what it lacks instead of counting it as nothing", () => {
    const cable = sheath([{}, {}, {}, {}], { ways: [100, null, undefined] });
    expect(length(cable, 1, 4)).toEqual({
      length_m: 100,
      from: "pathway",
      lacks: [
        "the slack at P2 is not on record",
        "the crossing at P2 is not on record",
        "the length of W2 is not on record",
        "the slack at P3 is not on record",
        "the crossing at P3 is not on record",
        "the way from P3 to P4 is not on record",
      ],
    });
  });
  it("is not known where nothing is on record", () => {
    expect(length(sheath([{}, {}]), 1, 2)).toMatchObject({ length_m: null, from: null });
    expect(length(sheath([{}, {}]), 1, 9)).toEqual({
      length_m: null,
      from: null,
      lacks: ["where it ends is not on record"],
    });
  });
  it("mixes marks and ways, and says so", () => {
    const cable = sheath([{ mark_out: 0 }, { mark_in: 100, mark_out: 110 }, {}], { ways: [99, 200] });
    expect(length(cable, 1, 3)).toEqual({ length_m: 310, from: "mixed", lacks: [] });
  });
  it("counts a pathway once though two pipes of it are on record", () => {
    const leg = { from_stop_id: 1, to_stop_id: 2, pathway_id: 1, pathway: "W1", length_m: 100 };
    const stops = [1, 2].map((id) => ({ id, ordinal: id, kind: "end" as const, place: `P${id}`, ...NO_MARKS }));
    expect(new Sheath(stops, [leg, leg], "m", []).length(1, 2).length_m).toBe(100);
  });
  it("has no slack where none is stored", () => {
    const cable = sheath([{}, { storage: "none", crossing_m: 4 }, {}], { ways: [100, 200] });
    expect(length(cable, 1, 3)).toEqual({ length_m: 304, from: "pathway", lacks: [] });
  });
});

describe("the crossing of a place", () => {
  const unknown = { crossing_m: null, inner_length_m: null, inner_width_m: null };
  it("is what was measured, else three quarters of the perimeter (MIL-HDBK-1012/3), else the plant's own value", () => {
    // A hole of 2.0 by 1.3 m: 0.75 x 2 x 3.3 = 4.95 m.
    const sized = { crossing_m: null, inner_length_m: 2.0, inner_width_m: 1.3 };
    expect(crossingOf({ ...sized, crossing_m: 4.2 }, 5)).toBe(4.2);
    expect(crossingOf(sized, 5)).toBeCloseTo(4.95, 10);
    expect(crossingOf(unknown, 5)).toBe(5);
    expect(crossingOf(unknown, null)).toBeNull();
  });
});
