/** What people type into cells. The foot is exactly 0.3048 m (NIST, U.S. Survey Foot page, and 85 FR 62698, 5 Oct 2020). */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fieldOf, type KindName, type Value } from "../../core/model/dictionary.ts";
import type { LengthUnit } from "../../core/model/units.ts";
import { type Reading, readCell } from "../../renderer/grid/reading.ts";
import { shownNumber } from "../../renderer/grid/reading-numbers.ts";
import { cellText, copyText } from "../../renderer/grid/showing.ts";

const fieldNamed = (kind: KindName, name: string) => {
  const field = fieldOf(kind, name);
  if (!field) throw new Error(`${kind} has no ${name}`);
  return field;
};
const read = (kind: KindName, name: string, text: string, lengths: LengthUnit = "m"): Reading =>
  readCell(kind, name, fieldNamed(kind, name), text, { today: "2026-04-07", lengths });
const asRead = (...given: Parameters<typeof read>): Value | string => {
  const reading = read(...given);
  return reading.is === "value" ? reading.value : reading.is === "record" ? `record ${reading.text}` : reading.reason;
};

describe("lengths", () => {
  it.each([
    ["12.5", 12.5],
    ["12.5 m", 12.5],
    ["12,5", 12.5],
    ["1 220", 1220],
    ["40 ft", 12.192],
    ["12' 6\"", 3.81],
    ["12 ft 6 in", 3.81],
    ["350 cm", 3.5],
    ["0.3 km", 300],
    [".5", 0.5],
  ])("reads %s as metres", (text, metres) => expect(asRead("stop", "slack_m", text)).toBe(metres));

  it("takes a bare number as feet where feet are shown", () => {
    expect(asRead("stop", "slack_m", "40", "ft")).toBe(12.192);
    expect(asRead("stop", "slack_m", "40 m", "ft")).toBe(40);
  });

  it("does not convert a sheath mark, which is kept as printed", () =>
    expect(asRead("stop", "mark_in", "2084", "ft")).toBe(2084));

  it("refuses what may mean two numbers, with both", () =>
    expect(asRead("stop", "slack_m", "1,234")).toMatch(/1234 or 1.234/));

  it.each(["abc", "12 parsecs", "1.2.3", "--4", "1e999"])("refuses %s in words", (text) =>
    expect(read("stop", "slack_m", text).is).toBe("refused"),
  );

  it("refuses what is out of the field's range, naming the range", () =>
    expect(asRead("stop", "slack_m", "-3")).toMatch(/from 0 to 10000/));

  it("copies a length so that it reads back as the same length, in metres and in feet", () => {
    const field = fieldNamed("stop", "slack_m");
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 9_999_999 }), fc.constantFrom<LengthUnit>("m", "ft"), (mm, lengths) => {
        const metres = mm / 1000;
        expect(asRead("stop", "slack_m", copyText(field, metres, null, lengths), lengths)).toBe(metres);
      }),
      { seed: 3, numRuns: 500 },
    );
  });
});

describe("days", () => {
  it.each([
    ["2026-04-03", "2026-04-03"],
    ["3.4.26", "2026-04-03"],
    ["3 Apr 2026", "2026-04-03"],
    ["April 3, 2026", "2026-04-03"],
    ["13/4/2026", "2026-04-13"],
    ["4/13/2026", "2026-04-13"],
    ["4/4/2026", "2026-04-04"],
    ["3.4.98", "1998-04-03"],
    ["today", "2026-04-07"],
    ["yesterday", "2026-04-06"],
  ])("reads %s", (text, day) => expect(asRead("splice", "made_on", text)).toBe(day));

  it("refuses a day that may be two, with both", () =>
    expect(asRead("splice", "made_on", "3/4/2026")).toMatch(/3 Apr 2026 or 4 Mar 2026/));
  it("refuses a day that isn't", () => expect(asRead("splice", "made_on", "30.2.2026")).toMatch(/no such day/));
});

describe("closed lists", () => {
  it.each([
    ["fusion", "fusion"],
    ["FUSION", "fusion"],
    ["fus", "fusion"],
  ])("reads %s", (text, key) => expect(asRead("splice", "method", text)).toBe(key));
  it("reads the word people see", () => expect(asRead("splice", "loss_basis", "measured both ways")).toBe("both_ways"));
  it("asks where the beginning may mean several", () =>
    expect(asRead("splice", "loss_basis", "measured")).toMatch(/may mean measured one way, measured both ways/));
  it("names the list where nothing fits", () =>
    expect(asRead("splice", "method", "glue")).toMatch(/fusion, mechanical/));
  it("keeps a set in its declared order", () => expect(asRead("space", "hazards", "traffic, gas")).toBe("gas traffic"));
});

describe("records and everything else", () => {
  it("only names a record", () => expect(asRead("splice", "tray_id", " MH-03/CL-1/T2 ")).toBe("record MH-03/CL-1/T2"));
  it("reads an empty cell as not known", () => expect(asRead("splice", "made_by", "  ")).toBeNull());
  it("refuses emptiness where something is needed", () => expect(asRead("cable", "tag", "")).toBe("is missing"));
  it("refuses control characters and reading-direction tricks", () =>
    expect(asRead("splice", "made_by", "crew\u202e2")).toMatch(/turns the reading direction/));
  it("keeps a formula as the text it is", () => expect(asRead("splice", "made_by", "=1+1")).toBe("=1+1"));
  it("reads a list of colours", () =>
    expect(asRead("cable", "strand_colours", "blue, orange")).toBe('["blue","orange"]'));
  it("reads mark breaks", () =>
    expect(asRead("cable", "mark_breaks", "9999 > 0")).toBe('[{"at_mark":9999,"jumps_to":0}]'));
});

describe("numbers on screen", () => {
  it("has a narrow space between thousands from five digits on, and a real minus", () => {
    expect(shownNumber(1234)).toBe("1234");
    expect(shownNumber(12345.5)).toBe("12\u202f345.5");
    expect(shownNumber(-0.03)).toBe("−0.03");
  });
  it("shows feet where feet are chosen", () =>
    expect(cellText(fieldNamed("stop", "slack_m"), 12.192, null, "ft")).toBe("40"));
});
