import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { naturalKey } from "../../core/model/natural-key.ts";

const sorted = (tags: readonly string[]): string[] =>
  tags.toSorted((a, b) => {
    const [one, other] = [naturalKey(a), naturalKey(b)];
    return one < other ? -1 : one > other ? 1 : 0;
  });

describe("the sort key of tags", () => {
  it("puts numbers in tags in the order of numbers", () => {
    const tags = ["F-2", "F-2A", "F-10", "F-10/1", "F-10/9", "F-10/10", "F-100", "f-200", "G-1"];
    expect(sorted(tags.toReversed())).toEqual(tags);
  });
  it("sets case and leading zeros aside", () => {
    expect(naturalKey("F-007")).toBe(naturalKey("f-7"));
    expect(naturalKey("R000")).toBe(naturalKey("r0"));
  });
  it("orders any two whole numbers of any length as numbers", () => {
    const digits = fc.string({ unit: fc.constantFrom(..."0123456789"), minLength: 1, maxLength: 40 });
    fc.assert(
      fc.property(digits, digits, (a, b) => {
        const [one, other] = [naturalKey(`X${a}`), naturalKey(`X${b}`)];
        expect(one < other).toBe(BigInt(a) < BigInt(b));
        expect(one === other).toBe(BigInt(a) === BigInt(b));
      }),
      { seed: 3, numRuns: 2000 },
    );
  });
});
