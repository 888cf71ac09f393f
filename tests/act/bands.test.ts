import { describe, expect, it } from "vitest";
import { bandsShare, periodsShare, readBands } from "../../core/model/bands.ts";

describe("wavelength bands", () => {
  it("are single lines, ranges and lists in nanometres", () => {
    expect(readBands("1310")).toEqual([[1310, 1310]]);
    expect(readBands("1530-1565, 1270 nm")).toEqual([
      [1530, 1565],
      [1270, 1270],
    ]);
    expect(readBands("C band")).toBeNull();
    expect(readBands("1565-1530")).toBeNull();
  });
  it("share light where they overlap, and differ where they only touch", () => {
    expect(bandsShare("1530-1565", "1550")).toBe(true);
    expect(bandsShare("1530-1565", "1565-1625")).toBe(false);
    expect(bandsShare("1310", "1550")).toBe(false);
    expect(bandsShare("1310", "1310")).toBe(true);
    expect(bandsShare("1310,1550", "1490,1550")).toBe(true);
  });
  it("are the whole strand where none is said or none can be read", () => {
    expect(bandsShare(null, "1310")).toBe(true);
    expect(bandsShare("red", "1310")).toBe(true);
  });
});

describe("two periods", () => {
  const period = (from_on: string | null, until_on: string | null) => ({ from_on, until_on });
  it("share no day when one ends the day the other begins", () => {
    expect(periodsShare(period(null, "2031-06-01"), period("2031-06-01", null))).toBe(false);
    expect(periodsShare(period(null, "2031-06-02"), period("2031-06-01", null))).toBe(true);
    expect(periodsShare(period(null, null), period("2031-06-01", "2031-07-01"))).toBe(true);
  });
});
