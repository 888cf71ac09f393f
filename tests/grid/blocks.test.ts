/** The clipboard's form: tab-separated values, quoted as RFC 4180 quotes (the registry's csv reader is the other side). */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readBlock, writeBlock } from "../../renderer/grid/blocks.ts";
import { planFill, planPaste } from "../../renderer/grid/paste.ts";

describe("a block on the clipboard", () => {
  it("reads what spreadsheets write", () => {
    expect(readBlock("F-014\t31\r\nF-021\t7\r\n")).toEqual([
      ["F-014", "31"],
      ["F-021", "7"],
    ]);
    expect(readBlock('one\t"two\nlines"\t"say ""so"""')).toEqual([["one", "two\nlines", 'say "so"']]);
  });

  it("keeps a quote that is never closed as an inch", () => {
    expect(readBlock('"4\ta\nb\tc')).toEqual([
      ['"4', "a"],
      ["b", "c"],
    ]);
    expect(readBlock('4"\ta')).toEqual([['4"', "a"]]);
  });

  it("keeps empty cells and a lone value", () => {
    expect(readBlock("\ta\t")).toEqual([["", "a", ""]]);
    expect(readBlock("a")).toEqual([["a"]]);
  });

  it("gives back every block it wrote", () => {
    const cell = fc.string({ unit: fc.constantFrom("a", '"', "\t", "\n", ",", " ", "é", "=", "-", "'"), maxLength: 6 });
    const block = fc
      .integer({ min: 1, max: 4 })
      .chain((wide) => fc.array(fc.array(cell, { minLength: wide, maxLength: wide }), { minLength: 1, maxLength: 4 }));
    fc.assert(
      fc.property(block, (cells) => {
        // A last row of nothing can't be told from the line end before it.
        fc.pre(cells.length === 1 || cells.at(-1)?.some((text) => text !== "") === true);
        fc.pre(!(cells.length === 1 && cells[0]?.length === 1 && cells[0][0] === ""));
        expect(readBlock(writeBlock(cells))).toEqual(cells);
      }),
      { seed: 2, numRuns: 400 },
    );
  });
});

const block = (top: number, left: number, bottom = top, right = left) => ({ top, bottom, left, right });

describe("pasting", () => {
  it("goes down and right from one cell", () => {
    const plan = planPaste(
      [
        ["a", "b"],
        ["c", "d"],
      ],
      block(2, 1),
      5,
    );
    expect(plan.cells).toHaveLength(4);
    expect(plan.cells.at(-1)).toEqual({ spot: { row: 3, column: 2 }, text: "d" });
    expect(plan.covers).toEqual(block(2, 1, 3, 2));
  });

  it("fills the whole selection with one value", () => {
    const plan = planPaste([["x"]], block(0, 0, 2, 1), 5);
    expect(plan.cells).toHaveLength(6);
    expect(new Set(plan.cells.map((cell) => cell.text))).toEqual(new Set(["x"]));
  });

  it("repeats a block where the selection is a whole number of it", () => {
    const plan = planPaste([["a"], ["b"]], block(0, 0, 3, 0), 5);
    expect(plan.cells.map((cell) => cell.text)).toEqual(["a", "b", "a", "b"]);
  });

  it("is pasted once where the selection is no whole number of it", () => {
    const plan = planPaste([["a"], ["b"]], block(0, 0, 2, 0), 5);
    expect(plan.cells.map((cell) => cell.text)).toEqual(["a", "b"]);
    expect(plan.covers).toEqual(block(0, 0, 1, 0));
  });

  it("counts what would stand right of the last column", () => {
    const plan = planPaste([["a", "b", "c"]], block(0, 3), 5);
    expect(plan.dropped).toBe(1);
    expect(plan.cells).toHaveLength(2);
    expect(plan.covers).toEqual(block(0, 3, 0, 4));
  });
});

describe("filling down", () => {
  it("takes the first row of the selection to the others", () =>
    expect(planFill(block(2, 1, 5, 2))).toEqual({ from: 2, block: block(3, 1, 5, 2) }));
  it("takes the cell above where one cell is selected", () =>
    expect(planFill(block(2, 1))).toEqual({ from: 1, block: block(2, 1) }));
  it("has nothing above the first row", () => expect(planFill(block(0, 1))).toBeNull());
});
