/** Figures as they are read. One foot is 0.3048 m exactly (NIST SP 811, appendix B). */
import { describe, expect, it } from "vitest";
import { formatMark } from "../../core/model/units.ts";
import { counted } from "../../core/words/counted.ts";
import { count, decimal, inUnit, lengthIn } from "../../renderer/controls/numbers.ts";

const THIN = "\u202f";

describe("figures", () => {
  it("part thousands by a narrow space and keep their digits", () => {
    expect(count(17_980)).toBe(`17${THIN}980`);
    expect(decimal(1126.54)).toBe(`1${THIN}126.5`);
    expect(decimal(418)).toBe("418.0");
    expect(counted(1, "strand", "strands")).toBe("1 strand");
    expect(counted(0, "strand", "strands")).toBe("0 strands");
  });

  it("carry their unit", () => {
    expect(lengthIn(304.8, "ft")).toBe(`1${THIN}000${THIN}ft`);
    expect(lengthIn(304.8, "m")).toBe(`304.8${THIN}m`);
  });
});

describe("a sentence in another unit", () => {
  const told = `7 hops, at least 1${THIN}219${THIN}m of sheath, 3${THIN}m of cord at MH-03, 14.9${THIN}m coiled`;

  it("has each of its lengths in that unit, and nothing else changed", () => {
    expect(inUnit(told, "ft")).toBe(
      `7 hops, at least 3${THIN}999${THIN}ft of sheath, 10${THIN}ft of cord at MH-03, 48.9${THIN}ft coiled`,
    );
  });

  it("is left alone when it is in that unit already", () => {
    expect(inUnit(told, "m")).toBe(told);
  });

  it("keeps a sheath mark as it is printed on the sheath", () => {
    const marked = `48.0${THIN}m from MH-02, near mark ${formatMark(1362, "ft")}`;
    expect(inUnit(marked, "m")).toBe(marked);
    expect(inUnit(marked, "ft")).toBe(`157.5${THIN}ft from MH-02, near mark ${formatMark(1362, "ft")}`);
  });
});
