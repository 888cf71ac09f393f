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

  it("said in the numbers of its type has the coating and class of its type, and differs in nothing", async () => {
    const yard = await newYard();
    const { notices, answer } = await yard.act<{ id: number }>("cable.enter", {
      tag: "F-048",
      type: "LOOSE-48",
      stops: two,
      units: [{ kind: "tube", repeats: 4, strands: 12 }],
    });
    expect(notices).toEqual([]);
    const units = await yard.find("unit", { cable_id: answer.id });
    expect(units.map(({ coating_um }) => coating_um)).toEqual(["250", "250", "250", "250"]);
  });

  it("with a coating of its own says in what it differs", async () => {
    const yard = await newYard();
    const { notices } = await yard.act("cable.enter", {
      tag: "F-048",
      type: "LOOSE-48",
      stops: two,
      units: [{ kind: "tube", repeats: 4, strands: 12, coating_um: "200" }],
    });
    expect(notices).toEqual(["F-048 has other glass or coating than type LOOSE-48 says."]);
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
