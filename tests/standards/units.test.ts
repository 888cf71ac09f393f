/** Lengths as typed and shown. The foot is 0.3048 m exactly and the inch 0.0254 m (NIST SP 811, appendix B). */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Fault } from "../../core/model/clean-text.ts";
import { alongSheath, marksBackwards, sheathAlong_m } from "../../core/model/marks.ts";
import {
  formatLength,
  formatMark,
  formatNumber,
  metresAs,
  metresIn,
  parseLength,
  parseMark,
} from "../../core/model/units.ts";

const metres = (text: string | number, bare?: "m" | "ft") => {
  const read = parseLength(text, bare);
  return read instanceof Fault ? read.reason : read;
};

describe("a length typed", () => {
  it.each([
    ["12.5 ft", 3.81],
    ["12'6\"", 3.81],
    ["12′ 6″", 3.81],
    ["12 ft 6 in", 3.81],
    ["12.5ft", 3.81],
    ["3.8 m", 3.8],
    ["3,8 m", 3.8],
    ["1 234 ft", 376.1232],
    ["1\u202f234 ft", 376.1232],
    ["1,234.5 ft", 376.2756],
    ["1.234,5 m", 1234.5],
    ["0.4 km", 400],
    ['18"', 0.4572],
    ["250 cm", 2.5],
    ["40 FEET", 12.192],
  ])("%s", (text, expected) => expect(metres(text)).toBeCloseTo(expected, 9));

  it("without a unit counts in the unit that is asked for", () => {
    expect(metres("100")).toBe(100);
    expect(metres("100", "ft")).toBeCloseTo(30.48, 9);
    expect(metres(100, "ft")).toBeCloseTo(30.48, 9);
  });
  it("one foot is exactly 0.3048 m, there and back", () => {
    expect(metresIn(1, "ft")).toBe(0.3048);
    expect(metresAs(304.8, "ft")).toBeCloseTo(1000, 9);
  });
  it("with a comma before three digits is refused with both readings", () => {
    expect(metres("1,234 ft")).toMatch(/may be 1234 or 1\.234/);
  });
  it.each([
    ["-3 m", /must not be negative/],
    ["−3 m", /must not be negative/],
    [-3, /0 or more/],
    [Number.NaN, /0 or more/],
    ["", /is empty/],
    ["far", /must be a length/],
    ["12 miles", /must be in m, km, ft or inches/],
    ["1 23 m", /must be a number/],
    ["3 m 5", /must be a length/],
    ["5' 14\"", /fewer than 12 inches/],
    ["1e5 m", /must be a length/],
  ])("%s is refused in words", (text, reason) => expect(metres(text)).toMatch(reason));
});

describe("a mark typed", () => {
  it("stays as printed", () => {
    expect(parseMark("1 234 ft", "ft")).toBe(1234);
    expect(parseMark(1234.5, "m")).toBe(1234.5);
    expect(parseMark("0871", null)).toBe(871);
  });
  it("in the other unit is refused, not converted", () => {
    const read = parseMark("376 m", "ft");
    expect(read instanceof Fault && read.reason).toMatch(/in metres: the cable's marks are in feet/);
  });
  it("in inches or kilometres is no print", () => {
    expect(parseMark("1.2 km", "m")).toBeInstanceOf(Fault);
  });
});

describe("a length shown", () => {
  it("groups thousands with a narrow space and ends with its unit", () => {
    expect(formatLength(12_345.6, "m")).toBe("12\u202f346\u202fm");
    expect(formatLength(1234, "m")).toBe("1\u202f234\u202fm");
    expect(formatLength(3.81, "ft")).toBe("12.5\u202fft");
    expect(formatLength(100, "m")).toBe("100\u202fm");
    expect(formatMark(1234, "ft")).toBe("1\u202f234\u00a0ft");
    expect(formatMark(1234.25, null)).toBe("1\u202f234.25");
    expect(formatNumber(-1234.5, 1)).toBe("-1\u202f234.5");
    expect(formatNumber(-0.001, 1)).toBe("0");
  });
  it("is read again as what it was, to the last digit shown (any length)", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 10_000_000 }), fc.constantFrom("m" as const, "ft" as const), (n, unit) => {
        const length = metresIn(n / 1000, unit);
        expect(metres(formatLength(length, unit, 3))).toBeCloseTo(length, 6);
      }),
      { seed: 11, numRuns: 300 },
    );
  });
});

describe("marks along a sheath", () => {
  it("rise or fall; the sheath between is their difference in the printed unit", () => {
    expect(sheathAlong_m([100, 250], "m")).toBe(150);
    expect(sheathAlong_m([250, null, 100], "ft")).toBeCloseTo(45.72, 9);
  });
  it("say nothing without a unit or with one mark", () => {
    expect(sheathAlong_m([100, 250], null)).toBeNull();
    expect(sheathAlong_m([null, 250], "m")).toBeNull();
  });
  it("run on over a roll-over", () => {
    // From 9 990 to the roll-over at 9 999 are 9, from 0 to 50 are 50.
    const breaks = [{ at_mark: 9999, jumps_to: 0 }];
    expect(sheathAlong_m([9990, 50], "m", breaks)).toBe(59);
    expect(marksBackwards([9900, 9990, 50, 120], breaks)).toEqual([]);
    expect(marksBackwards([9900, 9990, 50, 120])).toEqual([2, 3]);
    // The same read from the other end.
    expect(sheathAlong_m([50, 9990], "m", [{ at_mark: 0, jumps_to: 9999 }])).toBe(59);
  });
  it("run on over two jumps", () => {
    const breaks = [
      { at_mark: 500, jumps_to: 2000 },
      { at_mark: 2300, jumps_to: 10 },
    ];
    // 400→500, 2000→2300, 10→60.
    expect(alongSheath([400, 2100, 60], breaks).map((at) => (at ?? 0) + 100)).toEqual([0, 200, 450]);
    expect(sheathAlong_m([400, 60], "m", breaks)).toBe(450);
  });
  it("that turn round are named", () => {
    expect(marksBackwards([100, 200, 150, 300])).toEqual([2]);
    expect(marksBackwards([300, 200, 250, 100])).toEqual([2]);
    expect(marksBackwards([100, null, 100, 90, 200])).toEqual([3]);
    expect(marksBackwards([100, 200, 300, 50])).toEqual([3]);
  });
  it("that are off by one slip name the slip, not all that follow it", () => {
    expect(marksBackwards([1000, 1100, 9999, 1112, 1212, 1224])).toEqual([2]);
    expect(marksBackwards([1000, 1100, 11, 1112, 1212, 1224])).toEqual([2]);
    expect(marksBackwards([50, 40, 90, 30, 20])).toEqual([2]);
    expect(marksBackwards([null, 5, null])).toEqual([]);
    expect(marksBackwards([])).toEqual([]);
  });
});
