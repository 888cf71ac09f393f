/** The grammar of addresses, alone: no plant needed. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { escapeName, formatAddress, joinAddress, parseAddress, type Segment } from "../../core/model/address.ts";
import { Fault } from "../../core/model/clean-text.ts";
import { parseStrandList } from "../../core/model/strand-list.ts";

const read = (text: string): string => {
  const parsed = parseAddress(text);
  return parsed instanceof Fault
    ? parsed.reason
    : parsed.map(({ separator, name }) => `${separator}[${name}]`).join("");
};

describe("an address", () => {
  it.each([
    ["LIB", "[LIB]"],
    ["LIB/101/A", "[LIB]/[101]/[A]"],
    ["LIB/101/A:07#2", "[LIB]/[101]/[A]:[07]#[2]"],
    ["F-012:25#2", "[F-012]:[25]#[2]"],
    ["F-012@3", "[F-012]@[3]"],
    ["J-1#2", "[J-1]#[2]"],
    [" LIB / 101 ", "[LIB]/[101]"],
    ["MH  03/CL-1", "[MH 03]/[CL-1]"],
    ["B%2F12:3", "[B/12]:[3]"],
    ["50%25", "[50%]"],
    ["50%", "[50%]"],
    ["A%3a1", "[A:1]"],
    // After a colon stands a port's own name: nothing goes down from there but to a position.
    ["LIB/101/SW-2:1/0/24", "[LIB]/[101]/[SW-2]:[1/0/24]"],
    ["SW:eth@1:5#1", "[SW]:[eth@1:5]#[1]"],
  ])("%s reads %s", (text, expected) => expect(read(text)).toBe(expected));

  it.each([
    ["", "is empty"],
    ["   ", "is empty"],
    ["LIB//A", "has no name after “/”"],
    ["/LIB", "has no name before “/”"],
    ["F-012:", "has no name after “:”"],
    [":25", "has no name before “:”"],
    ["F-012@", "has no name after “@”"],
    ["x".repeat(401), "is longer than 400 characters"],
  ])("%s: %s", (text, expected) => expect(read(text)).toBe(expected));

  it("of any tags reads back to the same tags, whatever signs they hold", () => {
    const name = fc
      .string({ unit: fc.constantFrom(..."AZaz09 -_.%/:#@é字\u0301".split("")), minLength: 1, maxLength: 12 })
      .map((text) => text.normalize("NFC").replace(/\s+/g, " ").trim())
      .filter((text) => text !== "");
    fc.assert(
      fc.property(
        fc.array(name, { minLength: 1, maxLength: 4 }),
        fc.option(name),
        fc.option(fc.nat(99)),
        (path, port, at) => {
          const segments: Segment[] = path.map((each, index) => ({ separator: index === 0 ? "" : "/", name: each }));
          if (port !== null) segments.push({ separator: ":", name: port });
          if (at !== null) segments.push({ separator: "#", name: String(at) });
          expect(parseAddress(formatAddress(segments))).toEqual(segments);
        },
      ),
      { seed: 7, numRuns: 500 },
    );
  });

  it("is made from its parent's, escaping what would divide it", () => {
    expect(joinAddress(null, "/", "MH/03")).toBe("MH%2F03");
    expect(joinAddress("LIB/101", "/", "A#1")).toBe("LIB/101/A%231");
    expect(joinAddress("LIB/101/SW", ":", "1/0/24")).toBe("LIB/101/SW:1/0/24");
    expect(joinAddress("F-012", ":", 25)).toBe("F-012:25");
    expect(escapeName("100%", "")).toBe("100%25");
  });
});

describe("a list of strands", () => {
  const list = (text: string) => {
    const picks = parseStrandList(text);
    if (picks instanceof Fault) return picks.reason;
    return picks
      .map((pick) =>
        pick.kind === "numbers"
          ? `${pick.from}..${pick.to}${pick.section === null ? "" : `#${pick.section}`}`
          : `<${pick.readings.map((levels) => levels.join("|")).join(" or ")}>`,
      )
      .join(" ");
  };
  it.each([
    ["25-36,40", "25..36 40..40"],
    ["25–36; 40", "25..36 40..40"],
    ["25..36", "25..36"],
    ["25 to 36", "25..36"],
    ["007", "7..7"],
    ["25#2", "25..25#2"],
    ["25-36 #2", "25..36#2"],
    ["GR/BL-BR", "<GR|BL-BR>"],
    ["GR / BL - BR", "<GR|BL-BR>"],
    ["or bl", "<or|bl or or bl>"],
    ["GR/R3/BL", "<GR|R3|BL>"],
    ["GR 1-12", "<GR|1-12 or GR 1-12>"],
    ["light green", "<light|green or light green>"],
  ])("%s reads %s", (text, expected) => expect(list(text)).toBe(expected));
  it.each([
    ["", /names no strand/],
    [",", /names no strand/],
    ["0", /strand 0; strands count from 1/],
    ["0-4", /strand 0/],
    ["36-25", /runs backwards; write 25-36/],
    ["1-999999", /goes beyond 100000/],
    ["25#0", /section 0/],
    ["GR//BL", /nothing between two/],
  ])("%s is refused", (text, reason) => expect(list(text)).toMatch(reason));
});
