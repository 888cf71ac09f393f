/**
 * Cells that count on. What a number, a padded number or a day becomes is spreadsheet habit (common practice, no source);
 * ranges, `#` and `/` are the plant's own addresses (DEVELOPERS.md, "Addresses").
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { countOn, seedOf } from "../../renderer/grid/series.ts";

describe("counting on", () => {
  it.each([
    [["F-012"], ["F-013", "F-014"]],
    [["F-099"], ["F-100", "F-101"]],
    [["07"], ["08", "09"]],
    [["MH-9"], ["MH-10", "MH-11"]],
    [["LIB/2A/P1:09"], ["LIB/2A/P1:10", "LIB/2A/P1:11"]],
    [["LIB/2A/P1:09#2"], ["LIB/2A/P1:10#2", "LIB/2A/P1:11#2"]],
    [["F-014:25#1"], ["F-014:26#1", "F-014:27#1"]],
    [["MH-03/CL-3/T1"], ["MH-03/CL-3/T2", "MH-03/CL-3/T3"]],
    [["12"], ["13", "14"]],
    [["0.5"], ["1.5", "2.5"]],
    [["2026-02-27"], ["2026-02-28", "2026-03-01"]],
  ])("%j goes on as %j", (given, more) => expect(countOn(given, 2)).toEqual(more));

  it.each([
    [["1-12"], ["13-24", "25-36"]],
    [["F-012:25-36"], ["F-012:37-48", "F-012:49-60"]],
    [["P1:01-24"], ["P1:25-48", "P1:49-72"]],
  ])("a range %j goes on by its own width", (given, more) => expect(countOn(given, 2)).toEqual(more));

  it("takes its step from two or more cells, downward too", () => {
    expect(countOn(["F-10", "F-20"], 2)).toEqual(["F-30", "F-40"]);
    expect(countOn(["4", "2"], 2)).toEqual(["0", "-2"]);
    expect(countOn(["0.1", "0.15"], 2)).toEqual(["0.20", "0.25"]);
    expect(countOn(["2026-01-01", "2026-01-08"], 1)).toEqual(["2026-01-15"]);
    expect(countOn(["P1:01#1", "P1:01#2"], 1)).toEqual(["P1:01#3"]);
    expect(countOn(["A-1/7", "A-2/7"], 1)).toEqual(["A-3/7"]);
  });

  it("brings words that differ round again", () => {
    expect(countOn(["Tx", "Rx"], 3)).toEqual(["Tx", "Rx", "Tx"]);
  });

  it("guesses nothing: no number, uneven steps, a tag below nought", () => {
    expect(countOn(["spare"], 2)).toBeNull();
    expect(countOn(["F-1", "F-2", "F-4"], 2)).toBeNull();
    expect(countOn(["F-2", "F-1"], 2)).toBeNull();
    expect(countOn(["", "F-1"], 2)).toBeNull();
    expect(countOn(["F-9007199254740991"], 1)).toBeNull();
  });

  it("is the same however it is cut: what was counted on counts on as the rest would have", () => {
    fc.assert(
      fc.property(
        fc.constantFrom("F-", "P1:", "MH-03/CL-", ""),
        fc.integer({ min: 0, max: 5000 }),
        fc.integer({ min: 1, max: 40 }),
        fc.integer({ min: 1, max: 8 }),
        fc.integer({ min: 1, max: 8 }),
        (before, from, step, first, rest) => {
          const given = [`${before}${from}`, `${before}${from + step}`];
          const all = countOn(given, first + rest) ?? [];
          expect(all).toHaveLength(first + rest);
          expect(countOn([...given, ...all.slice(0, first)], rest)).toEqual(all.slice(first));
        },
      ),
      { seed: 5, numRuns: 200 },
    );
  });
});

describe("which cells are counted on from", () => {
  it("are the filled ones at the top; of a full column the first alone", () => {
    expect(seedOf(["F-1", "F-2", "", ""])).toBe(2);
    expect(seedOf(["F-1", "x", "y"])).toBe(1);
    expect(seedOf(["", "F-1"])).toBe(0);
  });
});
