import { describe, expect, it } from "vitest";
import { emptyYard, enterF012, newYard, ROUTE, type Yard } from "./yard.ts";

const two = [{ space: "LIB/101" }, { space: "SCI/B01" }];

describe("a cable entered from its type", () => {
  it("has its units, its strands numbered over the sheath, and one section a strand from end to end", async () => {
    const yard = await newYard();
    const { answer, summary } = await enterF012(yard);
    expect(answer).toMatchObject({ tag: "F-012", units: 4, strands: 48, stops: 5, legs: 4, differs: [] });
    expect(summary).toBe("Enter cable F-012, 48 strands, from LIB/101 to SCI/B01");
    const cable_id = answer.id;
    const stops = await yard.find("stop", { cable_id });
    expect(stops.map(({ ordinal, kind }) => `${ordinal} ${kind}`)).toEqual([
      "1 end",
      "2 passing",
      "3 passing",
      "4 passing",
      "5 end",
    ]);
    const units = await yard.find("unit", { cable_id });
    expect(units.map(({ ordinal, kind, coating_um }) => `${ordinal} ${kind} ${coating_um}`)).toEqual([
      "1 tube 250",
      "2 tube 250",
      "3 tube 250",
      "4 tube 250",
    ]);
    const strands = await yard.find("strand", { cable_id });
    expect(strands.map(({ number }) => number)).toEqual(Array.from({ length: 48 }, (_, i) => i + 1));
    // Strand 31 is the seventh of the third tube.
    expect(strands[30]).toMatchObject({ unit_id: units[2]?.id, place: 7 });
    const sections = await yard.find("section");
    expect(sections).toHaveLength(48);
    expect(sections.every((s) => s.a_stop_id === stops[0]?.id && s.b_stop_id === stops[4]?.id && s.ordinal === 1)).toBe(
      true,
    );
  });

  it("lies on the ways named, a pipe telling its pathway", async () => {
    const yard = await newYard();
    await enterF012(yard);
    const legs = await yard.find("leg");
    const [be1] = await yard.find("pathway", { tag: "BE-1" });
    const [db1] = await yard.find("pathway", { tag: "DB-1" });
    const [pipe] = await yard.find("conduit", { pathway_id: db1?.id ?? 0, tag: "1" });
    expect(legs[0]).toMatchObject({ pathway_id: be1?.id, conduit_id: null });
    expect(legs[1]).toMatchObject({ pathway_id: db1?.id, conduit_id: pipe?.id, held: "loose", slides: "yes" });
  });

  it("is gone again after an undo, to the last record, and back after a redo", async () => {
    const yard = await newYard();
    const before = await yard.content();
    await enterF012(yard);
    const after = await yard.content();
    await yard.run("history.undo", {});
    expect(await yard.content()).toEqual(before);
    await yard.run("history.redo", {});
    expect(await yard.content()).toEqual(after);
  });

  it("is shown by a rehearsal and not written", async () => {
    const yard = await newYard();
    const before = await yard.content();
    const shown = await yard.rehearse<{ counts: { kind: string; added: number }[] }>("cable.enter", {
      tag: "F-012",
      type: "LOOSE-48",
      stops: two,
    });
    expect(shown.counts.find(({ kind }) => kind === "strand")?.added).toBe(48);
    expect(await yard.content()).toEqual(before);
  });
});

describe("the inside of a cable", () => {
  const inside = async (yard: Yard, input: Record<string, unknown>) => {
    const { answer } = await yard.act<{ id: number; strands: number }>("cable.enter", { stops: two, ...input });
    const units = await yard.find("unit", { cable_id: answer.id });
    const strands = await yard.find("strand", { cable_id: answer.id });
    return { answer, units, strands };
  };

  it("nests: 864 strands are tubes of ribbons of twelve, ribbons counted in each tube", async () => {
    const yard = await newYard();
    const { answer, units, strands } = await inside(yard, { tag: "F-864", type: "RIBBON-864" });
    expect(answer.strands).toBe(864);
    const tubes = units.filter(({ parent_id }) => parent_id === null);
    expect(tubes.map(({ ordinal }) => ordinal)).toEqual([1, 2, 3, 4, 5, 6]);
    const ribbons = units.filter(({ parent_id }) => parent_id === tubes[2]?.id);
    expect(ribbons.map(({ ordinal }) => ordinal)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]);
    // Two tubes hold 288; the second ribbon of the third begins at 288 + 12 + 1.
    expect(strands.find(({ number }) => number === 301)).toMatchObject({ unit_id: ribbons[1]?.id, place: 1 });
  });

  it("keeps class and coating by unit; what lies in the sheath itself doesn't shift the colours of tubes", async () => {
    const yard = await newYard();
    const { units, strands } = await inside(yard, { tag: "F-020", type: "MIXED-20" });
    expect(units.map(({ kind, ordinal, fibre_class, coating_um }) => [kind, ordinal, fibre_class, coating_um])).toEqual(
      [
        ["tube", 1, "os2", null],
        ["sheath", 3, null, "900"],
        ["tube", 2, "om3", null],
      ],
    );
    expect(strands).toHaveLength(20);
    expect(strands[12]).toMatchObject({ number: 13, unit_id: units[1]?.id, place: 1 });
    expect(strands[14]).toMatchObject({ number: 15, unit_id: units[2]?.id, place: 1 });
  });

  it("may be typed without a type, or otherwise than the type says, which is then said", async () => {
    const yard = await newYard();
    const typed = await inside(yard, { tag: "F-006", units: [{ kind: "tube", repeats: 1, strands: 6 }] });
    expect(typed.answer.strands).toBe(6);
    const { notices } = await yard.act("cable.enter", {
      tag: "F-042",
      type: "LOOSE-48",
      stops: two,
      units: [
        { kind: "tube", repeats: 3, strands: 12 },
        { kind: "tube", repeats: 1, strands: 6 },
      ],
    });
    expect(notices).toContain("F-042 has 42 strands; type LOOSE-48 says 48.");
  });

  it("may be unknown: a foreign sheath is on record without strands, and that is said", async () => {
    const yard = await newYard();
    const { notices, answer } = await yard.act<{ strands: number }>("cable.enter", {
      tag: "X-1",
      type: "FOREIGN",
      stops: [{ space: "MH-01" }, {}],
    });
    expect(answer.strands).toBe(0);
    expect(notices.join()).toMatch(/X-1 is on record without strands: type FOREIGN lists none/);
  });

  it("of more strands than any cable holds is refused", async () => {
    const yard = await newYard();
    const error = await yard.refused("cable.enter", {
      tag: "F-1",
      stops: two,
      units: [{ kind: "tube", repeats: 1000, strands: 10_000 }],
    });
    expect(error).toMatchObject({ code: "bad_input", problems: [{ record: "F-1", field: "units" }] });
  });
});

describe("what differs from the type", () => {
  it("is kept and named as differing; what equals the type is not", async () => {
    const yard = await newYard();
    const { answer, notices } = await enterF012(yard, {
      colour_sequence: "tia_598",
      differs: { outer_diameter_mm: 12.5, fibre_class: "os2", armour: "metallic" },
    });
    expect(answer.differs.sort()).toEqual(["armour", "outer diameter"]);
    expect(notices.join(" ")).toMatch(/fibre class is as type LOOSE-48 says/);
    const [cable] = await yard.find("cable");
    expect(JSON.parse(String(cable?.differs))).toEqual({ outer_diameter_mm: 12.5, armour: "metallic" });
    expect(cable?.colour_sequence).toBeNull();
  });

  it("a colour sequence or a typed list of its own goes to the cable", async () => {
    const yard = await newYard();
    const { answer } = await enterF012(yard, {
      colour_sequence: "french",
      unit_colours: ["red", "BL", "white", "natural"],
    });
    expect(answer.differs.sort()).toEqual(["colours", "unit colours"]);
    const [cable] = await yard.find("cable");
    expect(cable?.colour_sequence).toBe("french");
    expect(JSON.parse(String(cable?.unit_colours))).toEqual(["red", "BL", "white", "natural"]);
    expect(cable?.differs).toBeNull();
  });

  it("tubes coloured by their fibre are listed as such", async () => {
    const yard = await newYard();
    await enterF012(yard, { colour_sequence: "iec_60304", tubes_by_fibre: true });
    const [cable] = await yard.find("cable");
    expect(JSON.parse(String(cable?.unit_colours))).toEqual(["red", "green", "white", "white"]);
  });

  it("is refused where the type has no such field, the value is none, or there is no type", async () => {
    const yard = await newYard();
    const unknown = await yard.refused("cable.enter", {
      tag: "F-1",
      type: "LOOSE-48",
      stops: two,
      differs: { size: 3 },
    });
    expect(unknown.problems[0]).toMatchObject({ record: "F-1", field: "size" });
    const wrong = await yard.refused("cable.enter", {
      tag: "F-1",
      type: "LOOSE-48",
      stops: two,
      differs: { outer_diameter_mm: "thick" },
    });
    expect(wrong.problems[0]).toMatchObject({ field: "outer diameter" });
    const without = await yard.refused("cable.enter", { tag: "F-1", stops: two, differs: { armour: "none" } });
    expect(without.message).toMatch(/has no type/);
  });
});

describe("marks", () => {
  const stops = (...marks: (number | string | null)[][]) =>
    marks.map(([mark_in, mark_out], index) => ({
      space: ["LIB/101", "MH-01", "MH-02", "MH-03", "SCI/B01"][index],
      mark_in,
      mark_out,
    }));

  it("stay as printed, and a coil is kept in metres", async () => {
    const yard = await newYard();
    const { answer } = await yard.act<{ id: number; sheath_m: number }>("cable.enter", {
      tag: "F-1",
      type: "LOOSE-48",
      stops: [
        { space: "LIB/101", mark_out: "1 234 ft", slack_m: "30 ft", storage: "coil", coil_diameter_mm: 600 },
        { space: "SCI/B01", mark_in: "1,734.5" },
      ],
    });
    const [first] = await yard.find("stop", { cable_id: answer.id });
    expect(first).toMatchObject({ mark_out: 1234, marks_basis: "read", storage: "coil", coil_diameter_mm: 600 });
    expect(first?.slack_m).toBeCloseTo(9.144, 9);
    const [cable] = await yard.find("cable");
    expect(cable?.mark_unit).toBe("ft");
    // 500.5 ft of 0.3048 m.
    expect(answer.sheath_m).toBeCloseTo(152.5524, 9);
  });

  it("may fall along the cable, and may jump where the print rolls over", async () => {
    const yard = await newYard();
    await yard.act("cable.enter", { tag: "F-1", mark_unit: "m", stops: stops([null, 900], [800, 790], [700, null]) });
    const { answer } = await yard.act<{ sheath_m: number }>("cable.enter", {
      tag: "F-2",
      mark_unit: "m",
      mark_breaks: [{ at_mark: 9999, jumps_to: 0 }],
      stops: stops([null, 9950], [9990, 50], [150, null]),
    });
    expect(answer.sheath_m).toBe(199);
  });

  it("that run backwards are refused by stop and field, or recorded when that is meant", async () => {
    const yard = await newYard();
    const input = { tag: "F-1", mark_unit: "m", stops: stops([null, 100], [200, 190], [300, null]) };
    const error = await yard.refused("cable.enter", input);
    expect(error).toMatchObject({
      code: "not_possible",
      problems: [
        { row: 2, record: "MH-01", field: "mark out", reason: expect.stringMatching(/is 190 between 200 and 300/) },
      ],
    });
    const { notices } = await yard.act("cable.enter", { ...input, even_if_marks_disagree: true });
    expect(notices.join()).toMatch(/marks of F-1 run backwards/);
  });

  it("that can't be read are refused by stop and field, all at once", async () => {
    const yard = await newYard();
    const error = await yard.refused("cable.enter", {
      tag: "F-1",
      mark_unit: "ft",
      stops: stops([null, "37 m"], [-5, "1,234"], ["soon", null]),
    });
    expect(error.problems.map(({ row, field }) => `${row} ${field}`)).toEqual([
      "1 mark out",
      "2 mark in",
      "2 mark out",
      "3 mark in",
    ]);
  });

  it("in feet and in metres on one sheath are refused", async () => {
    const yard = await newYard();
    const error = await yard.refused("cable.enter", { tag: "F-1", stops: stops([null, "37 m"], ["500 ft", null]) });
    expect(error.message).toMatch(/typed in feet and in metres/);
  });

  it("without a unit, or absurdly far apart, are recorded and said", async () => {
    const yard = await newYard();
    const none = await yard.act("cable.enter", { tag: "F-1", stops: stops([null, 100], [200, null]) });
    expect(none.notices.join()).toMatch(/Say in which unit/);
    const far = await yard.act("cable.enter", {
      tag: "F-2",
      mark_unit: "m",
      stops: stops([null, 100], [50_100, null]),
    });
    expect(far.notices.join()).toMatch(/50\u2009000\u2009m of sheath/);
  });
});

describe("stops", () => {
  const enter = (yard: Yard, stops: unknown, more: Record<string, unknown> = {}) =>
    yard.refused("cable.enter", { tag: "F-1", type: "LOOSE-48", stops, ...more });

  it("are at least two, unless the cable is in stock", async () => {
    const yard = await newYard();
    expect((await enter(yard, [])).problems[0]).toMatchObject({ record: "F-1", field: "stops" });
    expect((await enter(yard, [{ space: "LIB/101" }])).code).toBe("bad_input");
    const { summary, answer } = await yard.act<{ strands: number }>("cable.enter", {
      tag: "REEL-7",
      type: "LOOSE-48",
      life: "in_stock",
    });
    expect(summary).toBe("Enter cable REEL-7, 48 strands, in stock");
    expect(answer.strands).toBe(48);
  });

  it("out of order, counted from 0 or with a gap are refused by row", async () => {
    const yard = await newYard();
    const swapped = await enter(yard, [
      { space: "LIB/101", order: 1 },
      { space: "MH-02", order: 3 },
      { space: "MH-01", order: 2 },
      { space: "SCI/B01", order: 4 },
    ]);
    expect(swapped.message).toMatch(/out of order/);
    expect(swapped.problems.map(({ row }) => row)).toEqual([2, 3]);
    const gap = await enter(yard, [
      { space: "LIB/101", order: 1 },
      { space: "SCI/B01", order: 3 },
    ]);
    expect(gap.problems).toMatchObject([{ row: 2, field: "order" }]);
    const zero = await enter(yard, [
      { space: "LIB/101", order: 0 },
      { space: "SCI/B01", order: 1 },
    ]);
    expect(zero.problems[0]?.reason).toMatch(/count from 1/);
  });

  it("at unknown places of the record are refused by row, with what comes close", async () => {
    const yard = await newYard();
    const error = await enter(yard, [
      { space: "LIB/101" },
      { space: "MH-04" },
      { space: "LIB/999" },
      { space: "SCI/B01" },
    ]);
    expect(error.code).toBe("not_found");
    expect(error.problems.map(({ row, field, record }) => `${row} ${field} ${record}`)).toEqual([
      "2 space MH-04",
      "3 space LIB/999",
    ]);
    expect(error.problems[0]?.reason).toMatch(/MH-01/);
  });

  it("on ways that are unknown, or in a pipe of another way, are refused by row", async () => {
    const yard = await newYard();
    const unknown = await enter(yard, [{ space: "LIB/101", way: { pathway: "DB-9" } }, { space: "SCI/B01" }]);
    expect(unknown.problems[0]).toMatchObject({ row: 1, field: "pathway", record: "DB-9" });
    const pipe = await enter(yard, [{ space: "MH-01", way: { conduit: "DB-1/7" } }, { space: "MH-02" }]);
    expect(pipe.problems[0]).toMatchObject({ row: 1, field: "conduit" });
    const other = await enter(yard, [
      { space: "MH-01", way: { pathway: "DB-2", conduit: "DB-1/1" } },
      { space: "MH-02" },
    ]);
    expect(other.problems[0]).toMatchObject({ row: 1, field: "conduit", reason: "is a pipe of DB-1, not of DB-2" });
  });

  it("on ways that don't reach them are recorded, and said", async () => {
    const yard = await newYard();
    const { notices } = await yard.act("cable.enter", {
      tag: "F-1",
      stops: [{ space: "LIB/101", way: { pathway: "DB-2" } }, { space: "MH-02" }],
    });
    expect(notices.join()).toMatch(/DB-2 doesn't reach LIB\/101; the cable's way there doesn't meet the pathway/);
  });

  it("at unknown places, on unknown ways, and with none any more between two cuts are recorded", async () => {
    const yard = await newYard();
    const { answer } = await yard.act<{ id: number; legs: number }>("cable.enter", {
      tag: "F-1",
      type: "LOOSE-48",
      stops: [{ space: "LIB/101" }, { kind: "severed", way: null }, { kind: "severed" }, {}],
    });
    expect(answer.legs).toBe(2);
    const stops = await yard.find("stop", { cable_id: answer.id });
    expect(stops.map(({ space_id }) => space_id === null)).toEqual([false, true, true, true]);
  });

  it("that end in the middle, or lead on from the last, are refused", async () => {
    const yard = await newYard();
    const middle = await enter(yard, [{ space: "LIB/101" }, { space: "MH-01", kind: "end" }, { space: "SCI/B01" }]);
    expect(middle.problems[0]).toMatchObject({ row: 2, field: "kind" });
    const passing = await enter(yard, [{ space: "LIB/101", kind: "passing" }, { space: "SCI/B01" }]);
    expect(passing.problems[0]).toMatchObject({ row: 1, field: "kind" });
    const onward = await enter(yard, [{ space: "LIB/101" }, { space: "SCI/B01", way: { pathway: "BE-2" } }]);
    expect(onward.problems[0]).toMatchObject({ row: 2, field: "way" });
  });

  it("into a case elsewhere are recorded, and said", async () => {
    const yard = await newYard();
    const { notices } = await yard.act("cable.enter", {
      tag: "F-1",
      stops: [{ space: "LIB/101" }, { space: "MH-01", closure: "MH-02/CL-1" }, { space: "SCI/B01" }],
    });
    expect(notices.join()).toMatch(/MH-02\/CL-1 is on record elsewhere than this stop, which is in MH-01/);
  });
});

describe("a cable is refused, and nothing is written,", () => {
  it.each([
    ["for a tag that is taken", { tag: "F-012" }, "duplicate", /F-012/],
    ["for a type not on record", { type: "LOOSE-49" }, "not_found", /LOOSE-48/],
    ["for a name of 400 characters", { name: "n".repeat(400) }, "bad_input", /longer than/],
    ["for a tag of 400 characters", { tag: "t".repeat(400) }, "bad_input", /longer than/],
    ["for control characters", { name: "a\u0007b" }, "bad_input", /control character/],
    [
      "for an absurd length",
      { stops: [{ space: "LIB/101", slack_m: 1e9 }, { space: "SCI/B01" }] },
      "bad_input",
      /slack/,
    ],
    [
      "for a negative length",
      { stops: [{ space: "LIB/101", slack_m: "-4 m" }, { space: "SCI/B01" }] },
      "bad_input",
      /negative/,
    ],
    ["for a field nobody knows", { lenght: 5 }, "bad_input", /can't be read/],
    ["for a day that isn't one", { installed_on: "2020-02-31" }, "bad_input", /installed on/],
  ])("%s", async (_what, more, code, sentence) => {
    const yard = await newYard();
    await enterF012(yard);
    const before = await yard.content();
    const error = await yard.refused("cable.enter", { tag: "F-013", type: "LOOSE-48", stops: two, ...more });
    expect(error.code).toBe(code);
    expect(`${error.message} ${JSON.stringify(error.problems)}`).toMatch(sentence);
    expect(await yard.content()).toEqual(before);
  });

  it("unless its text only reads from right to left or combines", async () => {
    const yard = await newYard();
    await yard.act("cable.enter", { tag: "כבל-7", name: "Cafe\u0301 ", stops: [{}, {}] });
    const [cable] = await yard.find("cable");
    expect(cable).toMatchObject({ tag: "כבל-7", name: "Caf\u00e9" });
  });
});

describe("a large cable", () => {
  it("of 864 strands is entered in well under two seconds", async () => {
    const yard = await newYard();
    const begun = performance.now();
    await yard.act("cable.enter", { tag: "F-864", type: "RIBBON-864", mark_unit: "m", stops: ROUTE });
    expect(performance.now() - begun).toBeLessThan(2000);
  });
});

describe("an empty plant", () => {
  it("takes a cable of unknown ends", async () => {
    const yard = await emptyYard();
    const { summary } = await yard.act("cable.enter", { tag: "F-1", stops: [{}, {}] });
    expect(summary).toBe("Enter cable F-1, no strands on record, from an unknown place to an unknown place");
  });
});
