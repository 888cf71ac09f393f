import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { checkChange, checkNew, checkValue, isDay, type ValueIssue } from "../../core/model/check-values.ts";
import { Fault } from "../../core/model/clean-text.ts";
import type { KindName } from "../../core/model/dictionary.ts";

const reasonOf = (kind: KindName, field: string, value: unknown): string | null => {
  const checked = checkValue(kind, field, value);
  return checked instanceof Fault ? checked.reason : null;
};
const stored = (kind: KindName, field: string, value: unknown) => {
  const checked = checkValue(kind, field, value);
  if (checked instanceof Fault) throw new Error(checked.reason);
  return checked;
};

describe("text", () => {
  it.each([
    ["  F-012 ", "F-012"],
    // Composed form, Unicode Standard Annex 15.
    ["e\u0301", "\u00e9"],
    ["مبنى 4", "مبنى 4"],
    ["בניין א\u200f", "בניין א\u200f"],
    ["q\u0323\u0307", "q\u0323\u0307"],
    ["👩‍🔧", "👩‍🔧"],
    ["=1+1", "=1+1"],
  ])("keeps %j as %j", (given, kept) => {
    expect(stored("cable", "name", given)).toBe(kept);
  });

  it.each([
    ["a\u0000b", "a control character (U+0000)"],
    ["a\u001bb", "a control character (U+001B)"],
    ["a\u007fb", "a control character (U+007F)"],
    ["a\u0085b", "a control character (U+0085)"],
    ["a\tb", "a tab (U+0009)"],
    ["a\u202eb", "a character that turns the reading direction (U+202E)"],
    ["a\u202ab", "a character that turns the reading direction (U+202A)"],
    ["a\u2066b", "a character that turns the reading direction (U+2066)"],
    ["a\u2069b", "a character that turns the reading direction (U+2069)"],
    ["a\ud800b", "half a character (U+D800)"],
    ["a\udc00b", "half a character (U+DC00)"],
    ["a\ufffdb", "the mark of a character that was lost in a wrong encoding (U+FFFD)"],
    ["a\u200bb", "an invisible character (U+200B)"],
  ])("refuses %j", (given, what) => {
    expect(reasonOf("cable", "name", given)).toBe(`holds ${what}: must be taken out`);
  });

  it("may have line breaks only where the field has lines, kept as one kind of break", () => {
    expect(reasonOf("cable", "name", "a\nb")).toBe("holds a line break: must be on one line");
    expect(stored("cable", "notes", "a\r\nb\rc\u2028d\n")).toBe("a\nb\nc\nd");
    expect(reasonOf("cable", "notes", "a\tb")).toMatch(/a tab/);
  });

  it("counts characters, not code units, against the greatest length", () => {
    expect(stored("cable", "tag", "𝔽".repeat(60))).toHaveLength(120);
    expect(reasonOf("cable", "tag", "x".repeat(61))).toBe("is longer than 60 characters");
    expect(reasonOf("cable", "tag", "x".repeat(400))).toBe("is longer than 60 characters");
  });

  it("is not known when nothing but blanks is given, and must be given where the record needs it", () => {
    expect(stored("cable", "name", " \u00a0 ")).toBeNull();
    expect(reasonOf("cable", "tag", " ")).toBe("is missing");
    expect(reasonOf("cable", "tag", null)).toBe("is missing");
    expect(reasonOf("cable", "name", 5)).toBe("is 5: must be text");
  });

  it("that is kept is kept the same when it is checked again", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary", maxLength: 80 }), (text) => {
        const once = checkValue("cable", "notes", text);
        if (once instanceof Fault || once === null) return;
        expect(checkValue("cable", "notes", once)).toBe(once);
        // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what it looks for
        expect(once).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069\ufffd]/);
        expect(String(once).isWellFormed()).toBe(true);
      }),
      { seed: 7, numRuns: 3000 },
    );
  });
});

describe("numbers", () => {
  it.each([
    ["strand", "number", 12.5, "is 12.5: must be a whole number from 1 to 100000"],
    ["strand", "number", 0, "is 0: must be a whole number from 1 to 100000"],
    ["strand", "number", 100_001, "is 100001: must be a whole number from 1 to 100000"],
    ["strand", "number", "12", "is “12”: must be a whole number from 1 to 100000"],
    ["space", "reach_m", -0.1, "is -0.1: must be a number from 0 to 1000"],
    ["space", "reach_m", Number.NaN, "is NaN: must be a number from 0 to 1000"],
    ["space", "reach_m", Number.POSITIVE_INFINITY, "is Infinity: must be a number from 0 to 1000"],
    ["space", "longitude", 180.01, "is 180.01: must be a number from -180 to 180"],
  ] as const)("%s.%s refuses %j", (kind, field, value, reason) => {
    expect(reasonOf(kind, field, value)).toBe(reason);
  });

  it("are kept at their limits, and zero has no sign", () => {
    expect(stored("strand", "number", 1)).toBe(1);
    expect(stored("strand", "number", 100_000)).toBe(100_000);
    expect(Object.is(stored("space", "reach_m", -0), 0)).toBe(true);
    expect(stored("splice", "loss_ab_db", -0.03)).toBe(-0.03);
  });
});

describe("days", () => {
  // The Gregorian rule: every fourth year, but of the hundreds only every fourth (ISO 8601-1:2019, 4.2.1).
  it.each(["2024-02-29", "2000-02-29", "1999-12-31", "2026-04-30"])("%s is one", (day) => {
    expect(isDay(day)).toBe(true);
  });
  it.each([
    "2023-02-29",
    "1900-02-29",
    "2026-04-31",
    "2026-13-01",
    "2026-00-10",
    "2026-01-00",
    "26-01-01",
    "2026-1-1",
    "0202-01-01",
    "2026-01-01T00:00",
  ])("%s is none", (day) => {
    expect(reasonOf("cable", "installed_on", day)).toBe(
      `is “${day}”: must be a day of the calendar, written YYYY-MM-DD`,
    );
  });
  it("agree with the language's own calendar on every day of four hundred years", () => {
    for (let day = Date.UTC(1850, 0, 1); day < Date.UTC(2250, 0, 1); day += 86_400_000)
      expect(isDay(new Date(day).toISOString().slice(0, 10))).toBe(true);
  });
});

describe("closed lists", () => {
  it("take keys only", () => {
    expect(stored("cable", "life", "in_stock")).toBe("in_stock");
    expect(reasonOf("cable", "life", "in stock")).toMatch(/^is “in stock”: must be one of planned, in stock, in place/);
    expect(reasonOf("cable", "life", "constructor")).toMatch(/must be one of/);
    expect(reasonOf("cable", "life", 1)).toMatch(/must be one of/);
  });
  it("that allow several keep them once, in declared order", () => {
    expect(stored("space", "hazards", "water gas  water")).toBe("gas water");
    expect(stored("space", "hazards", ["laser", "gas"])).toBe("gas laser");
    expect(stored("space", "hazards", [])).toBeNull();
    expect(reasonOf("space", "hazards", "gas fire")).toMatch(/^has “fire”: must be any of gas, water/);
  });
  it("of kinds know the dictionary", () => {
    expect(stored("label", "subject_kind", "module_join")).toBe("module_join");
    expect(reasonOf("label", "subject_kind", "toString")).toMatch(/must be one of plant, party/);
  });
});

describe("references", () => {
  it.each([0, -1, 1.5, "7", 2 ** 60, Number.NaN])("refuse %j", (value) => {
    expect(reasonOf("space", "building_id", value)).toMatch(/must be the id of a record$/);
  });
});

describe("structured content", () => {
  it.each([
    [
      "pathway",
      "geometry",
      [
        [4.35, 52.01],
        [4.36, 52.02],
      ],
    ],
    [
      "building",
      "outline",
      [
        [0, 0],
        [0, 1],
        [1, 1],
      ],
    ],
    ["cable_type", "unit_colours", ["blue", "orange"]],
    ["cable", "mark_breaks", [{ at_mark: 9999, jumps_to: 0 }]],
    ["cable", "differs", { armour: "metallic", outer_diameter_mm: 11.5, unit_colours: ["red"] }],
    ["panel", "former_tags", ["A", "PP-1"]],
    ["plant", "tag_patterns", { cable: ["F-###"], panel: ["@"] }],
    ["exception", "facts", { ends: [1, 2], why: null, deep: [{ x: "é" }] }],
  ] as const)("%s.%s keeps %j", (kind, field, content) => {
    expect(JSON.parse(String(stored(kind, field, JSON.stringify(content))))).toEqual(content);
    expect(stored(kind, field, content)).toBe(stored(kind, field, JSON.stringify(content)));
  });

  it.each([
    ["pathway", "geometry", "no", "is “no”: must be JSON"],
    ["pathway", "geometry", "[[4.35,52.01]]", "must have at least 2 points"],
    ["pathway", "geometry", "[[4.35,52.01],[200,52]]", "point 2 has longitude 200: must be from -180 to 180"],
    ["pathway", "geometry", "[[4.35,52.01],[52,91]]", "point 2 has latitude 91: must be from -90 to 90"],
    ["pathway", "geometry", "[[4.35,-90.5],[4.36,52]]", "point 1 has latitude -90.5: must be from -90 to 90"],
    ["pathway", "geometry", "[[-181,1],[4.36,52]]", "point 1 has longitude -181: must be from -180 to 180"],
    ["pathway", "geometry", "[[4.35,52.01],[4.36]]", "point 2 must be a pair of longitude and latitude"],
    ["building", "outline", "[[0,0],[1,1]]", "must have at least 3 points"],
    ["cable_type", "unit_colours", '["blue",3]', "has 3 as number 2: must be text"],
    ["cable_type", "unit_colours", '["blue"," "]', "has nothing as number 2"],
    ["cable_type", "unit_colours", '"blue"', "must be a list of colours"],
    [
      "cable",
      "mark_breaks",
      '[{"at_mark":-1,"jumps_to":0}]',
      "break 1 has at_mark -1: must be a mark from 0 to 10000000",
    ],
    [
      "cable",
      "mark_breaks",
      '[{"at_mark":1}]',
      "break 1 must say the mark before the jump, at_mark, and the one after it, jumps_to",
    ],
    ["cable", "differs", '{"armour":"steel"}', "armour is “steel”: must be one of none, metallic, dielectric"],
    ["cable", "differs", '{"tag":"X"}', "tag is not a field of a cable type that a cable can have otherwise"],
    ["cable", "differs", "[1]", "must name fields of the cable type with their values"],
    ["plant", "tag_patterns", '{"wire":["#"]}', "names “wire”: must be a record kind"],
    ["plant", "tag_patterns", '{"cable":"#"}', "for cable must be a list of patterns"],
    ["exception", "facts", "3", "must be a list or an object"],
    [
      "exception",
      "facts",
      '{"a":"x\\u202ey"}',
      "holds a character that turns the reading direction (U+202E): must be taken out",
    ],
  ] as const)("%s.%s refuses %s", (kind, field, content, reason) => {
    expect(reasonOf(kind, field, content)).toBe(reason);
  });
});

describe("a record's values", () => {
  it("of a new one are complete, in declared order, with initial values", () => {
    const issues: ValueIssue[] = [];
    const row = checkNew("splice", { b_side: "A", a_section_id: 1, a_side: "B", b_section_id: 2, life: null }, issues);
    expect(issues).toEqual([]);
    expect(Object.keys(row).slice(0, 6)).toEqual([
      "tray_id",
      "place",
      "a_section_id",
      "a_side",
      "b_section_id",
      "b_side",
    ]);
    expect(row).toMatchObject({ life: "in_place", tray_id: null, loss_ab_db: null });
  });
  it("of a change are only those given", () => {
    const issues: ValueIssue[] = [];
    expect(checkChange("cable", { name: "x", run: undefined }, issues)).toEqual({ name: "x" });
    expect(issues).toEqual([]);
  });
  it("report every fault with the field's label, and fields that are none", () => {
    const issues: ValueIssue[] = [];
    checkNew("strand", { number: 0, id: 4, __proto__x: 1 }, issues);
    checkChange("strand", { rev: 1 }, issues);
    expect(issues.map(({ label, reason }) => `${label} ${reason}`)).toEqual([
      "cable is missing",
      "number is 0: must be a whole number from 1 to 100000",
      "id is not a field of a strand",
      "__proto__x is not a field of a strand",
      "rev is not a field of a strand",
    ]);
  });
});
