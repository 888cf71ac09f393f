/** Finding and replacing plain text in cells. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { holdsText, replaced, type Sought } from "../../renderer/grid/replacing.ts";

const sought = (text: string, more: Partial<Sought> = {}): Sought => ({ text, whole: false, exact: false, ...more });

describe("a cell that holds a text", () => {
  it.each([
    ["F-014", sought("f-0"), true],
    ["F-014", sought("f-0", { exact: true }), false],
    ["F-014", sought("F-014", { whole: true }), true],
    ["F-0141", sought("F-014", { whole: true }), false],
    ["anything", sought(""), false],
  ])("%s, %j: %s", (cell, asked, holds) => expect(holdsText(cell, asked)).toBe(holds));
});

describe("replacing", () => {
  it("takes every sign as itself, in what is sought and in what comes instead", () => {
    expect(replaced("a.b (c)", sought("."), "$&")).toBe("a$&b (c)");
    expect(replaced("P1:01 (east)", sought("(EAST)"), "(west)")).toBe("P1:01 (west)");
    expect(replaced("F-014, F-014", sought("f-014"), "F-15")).toBe("F-15, F-15");
    expect(replaced("north ring", sought("NORTH RING", { whole: true }), "south")).toBe("south");
  });

  it("leaves nothing of what was sought, and all the rest", () => {
    const word = fc.string({ unit: fc.constantFrom("a", "b", ".", "-", "1", "(", "$"), minLength: 1, maxLength: 3 });
    fc.assert(
      fc.property(fc.array(word, { maxLength: 5 }), word, (words, text) => {
        const cell = words.join(text);
        const pieces = cell.split(text);
        expect(replaced(cell, sought(text, { exact: true }), "Z")).toBe(pieces.join("Z"));
      }),
      { seed: 3, numRuns: 300 },
    );
  });
});
