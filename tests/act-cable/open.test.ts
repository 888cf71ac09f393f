import { describe, expect, it } from "vitest";
import { enterF012, newYard, type Values, type Yard } from "./yard.ts";

interface Opened {
  stop: number;
  tag: string;
  cut: number[];
  express: number;
}
const open = (yard: Yard, more: Record<string, unknown>) =>
  yard.act<Opened>("cable.open", { cable: "F-012", stop: "MH-02", ...more });

/** Id of the one row. */
const only = async (yard: Yard, kind: Parameters<Yard["find"]>[0], values: Values) => {
  const rows = await yard.find(kind, values);
  if (rows.length !== 1) throw new Error(`${rows.length} rows of ${kind} have ${JSON.stringify(values)}`);
  return rows[0] as (typeof rows)[number];
};

async function withF012(): Promise<
  Yard & { sectionsOf(number: number): ReturnType<Yard["find"]>; at(place: string): Promise<number> }
> {
  const yard = await newYard();
  await enterF012(yard);
  const cable = (await only(yard, "cable", { tag: "F-012" })).id;
  return {
    ...yard,
    sectionsOf: async (number) => {
      const strand = await only(yard, "strand", { cable_id: cable, number });
      const sections = await yard.find("section", { strand_id: strand.id });
      return sections.sort((a, b) => Number(a.ordinal) - Number(b.ordinal));
    },
    at: async (tag) => {
      const space = await only(yard, "space", { tag });
      return (await only(yard, "stop", { cable_id: cable, space_id: space.id })).id;
    },
  };
}

describe("a cable opened at a hole with some strands cut", () => {
  it("splits the cut ones there; the half on the A side keeps its id; all others run on", async () => {
    const yard = await withF012();
    const before = await yard.sectionsOf(25);
    const { answer, summary } = await open(yard, {
      closure: "MH-02/CL-1",
      mark_open_from: 1216,
      mark_open_to: "1 219 m",
      cut: "25-36",
      stub_a: "yes",
      stub_b: "no",
    });
    const mh2 = await yard.at("MH-02");
    expect(answer).toMatchObject({ stop: mh2, tag: "F-012@3", express: 36 });
    expect(answer.cut).toEqual([25, 26, 27, 28, 29, 30, 31, 32, 33, 34, 35, 36]);
    expect(summary).toBe("Open F-012 at MH-02, 12 strands cut (25-36)");
    const [a, b] = await yard.sectionsOf(25);
    expect(a).toMatchObject({
      id: before[0]?.id,
      ordinal: 1,
      a_stop_id: before[0]?.a_stop_id,
      b_stop_id: mh2,
      b_stub: "yes",
    });
    expect(b).toMatchObject({
      ordinal: 2,
      a_stop_id: mh2,
      b_stop_id: before[0]?.b_stop_id,
      a_stub: "no",
      b_stub: null,
    });
    expect(await yard.sectionsOf(24)).toHaveLength(1);
    expect(await yard.sectionsOf(37)).toHaveLength(1);
    const stop = await only(yard, "stop", { id: mh2 });
    const closure = await only(yard, "closure", { tag: "CL-1" });
    expect(stop).toMatchObject({ kind: "opened", mark_open_from: 1216, mark_open_to: 1219, closure_id: closure.id });
  });

  it("says the caution of cutting, but not when it records old work", async () => {
    const yard = await withF012();
    const now = await open(yard, { cut: "1" });
    expect(now.notices.join()).toMatch(/two independent signs/);
    const old = await yard.act(
      "cable.open",
      { cable: "F-012", stop: "MH-03", cut: "2" },
      { author: "Test Person", day: "2019-05-01" },
    );
    expect(old.notices.join()).not.toMatch(/two independent signs/);
  });

  it("moves what was joined at B to the new half, and leaves what was joined at A", async () => {
    const yard = await withF012();
    const other = await yard.act<{ id: number }>("cable.enter", {
      tag: "F-090",
      units: [{ kind: "tube", repeats: 1, strands: 6 }],
      stops: [{ space: "SCI/B01" }, { space: "LIB/101" }],
    });
    const strands = await yard.find("strand", { cable_id: other.answer.id });
    const far = async (number: number) => (await only(yard, "section", { strand_id: strands[number - 1]?.id ?? 0 })).id;
    const old = async (number: number) => (await yard.sectionsOf(number))[0]?.id ?? 0;
    const [panel] = await yard.put("panel", { tag: "A" });
    const [port] = await yard.put("port", { tag: "1", panel_id: panel ?? 0 });
    const [near, p2] = await yard.put(
      "position",
      { port_id: port ?? 0, ordinal: 1 },
      { port_id: port ?? 0, ordinal: 2 },
    );
    const [atA, atB] = await yard.put(
      "termination",
      { section_id: await old(25), side: "A", position_id: near ?? 0 },
      { section_id: await old(25), side: "B", position_id: p2 ?? 0, life: "planned" },
    );
    const [asA, asB, loop] = await yard.put(
      "splice",
      { a_section_id: await old(26), a_side: "B", b_section_id: await far(1), b_side: "A" },
      { a_section_id: await far(2), a_side: "A", b_section_id: await old(27), b_side: "B" },
      { a_section_id: await old(28), a_side: "B", b_section_id: await old(29), b_side: "B" },
    );
    await open(yard, { cut: "25-29" });
    const half = async (number: number) => (await yard.sectionsOf(number))[1]?.id;
    expect(await only(yard, "termination", { id: atA ?? 0 })).toMatchObject({ section_id: await old(25), side: "A" });
    expect(await only(yard, "termination", { id: atB ?? 0 })).toMatchObject({ section_id: await half(25), side: "B" });
    expect(await only(yard, "splice", { id: asA ?? 0 })).toMatchObject({
      a_section_id: await half(26),
      a_side: "B",
      b_section_id: await far(1),
    });
    expect(await only(yard, "splice", { id: asB ?? 0 })).toMatchObject({
      a_section_id: await far(2),
      b_section_id: await half(27),
      b_side: "B",
    });
    expect(await only(yard, "splice", { id: loop ?? 0 })).toMatchObject({
      a_section_id: await half(28),
      b_section_id: await half(29),
    });
  });

  it("gives both halves the assignments of the whole, and names the services it interrupts", async () => {
    const yard = await withF012();
    const [live, planned, ended] = await yard.put(
      "circuit",
      { tag: "K-1", state: "in_service" },
      { tag: "K-2", state: "planned" },
      { tag: "K-3", state: "in_service" },
    );
    const section_id = (await yard.sectionsOf(30))[0]?.id ?? 0;
    await yard.put(
      "assignment",
      { circuit_id: live ?? 0, section_id, ordinal: 3, role: "transmit", band: "1310", from_on: "2020-01-01" },
      { circuit_id: planned ?? 0, section_id },
      { circuit_id: ended ?? 0, section_id, until_on: "2021-01-01" },
    );
    const { notices } = await open(yard, { cut: "30,31" });
    const [a, b] = await yard.sectionsOf(30);
    const both = await yard.find("assignment", { circuit_id: live ?? 0 });
    expect(both.map((row) => row.section_id)).toEqual([a?.id, b?.id]);
    expect(both[1]).toMatchObject({ ordinal: 3, role: "transmit", band: "1310", from_on: "2020-01-01" });
    expect(await yard.find("assignment")).toHaveLength(6);
    expect(notices).toContain("F-012:30 carries K-1, in service; cutting it interrupts that service.");
    expect(notices.join()).not.toMatch(/K-2|K-3/);
  });

  it("moves up the order of sections beyond: cut at the far hole first, then before it", async () => {
    const yard = await withF012();
    await open(yard, { stop: "MH-03", cut: "1" });
    await open(yard, { stop: "MH-01", cut: "1" });
    await open(yard, { stop: "MH-02", cut: "1" });
    const sections = await yard.sectionsOf(1);
    const stops = await Promise.all(["101", "MH-01", "MH-02", "MH-03", "B01"].map(yard.at));
    expect(sections.map(({ ordinal, a_stop_id, b_stop_id }) => [ordinal, a_stop_id, b_stop_id])).toEqual([
      [1, stops[0], stops[1]],
      [2, stops[1], stops[2]],
      [3, stops[2], stops[3]],
      [4, stops[3], stops[4]],
    ]);
  });

  it("is undone to exactly what was, joints and assignments included", async () => {
    const yard = await withF012();
    const section_id = (await yard.sectionsOf(25))[0]?.id ?? 0;
    const [circuit] = await yard.put("circuit", { tag: "K-1" });
    const [panel] = await yard.put("panel", { tag: "A" });
    const [port] = await yard.put("port", { tag: "1", panel_id: panel ?? 0 });
    const [position] = await yard.put("position", { port_id: port ?? 0, ordinal: 1 });
    await yard.put("termination", { section_id, side: "B", position_id: position ?? 0 });
    await yard.put("assignment", { circuit_id: circuit ?? 0, section_id });
    await open(yard, { stop: "MH-03", cut: "25" });
    const before = await yard.content();
    await open(yard, { cut: "20-30", closure: "MH-02/CL-1" });
    const after = await yard.content();
    await yard.run("history.undo", {});
    expect(await yard.content()).toEqual(before);
    await yard.run("history.redo", {});
    expect(await yard.content()).toEqual(after);
  });

  it("may be opened without a cut, and cut further later", async () => {
    const yard = await withF012();
    const first = await open(yard, { cut: [] });
    expect(first.summary).toBe("Open F-012 at MH-02, no strand cut");
    expect(first.answer).toMatchObject({ cut: [], express: 48 });
    await open(yard, { cut: "1-4" });
    const second = await open(yard, { cut: "5,6" });
    expect(second.answer.express).toBe(42);
  });
});

describe("what is to be cut and where can be written as crews do", () => {
  it.each([
    ["numbers over the sheath", "25-27,40", [25, 26, 27, 40]],
    ["a list of numbers", [3, 1, 2], [3, 1, 2]],
    ["tube and strand colours", "GR/BL-BR", [25, 26, 27, 28]],
    ["a whole tube", "BR", [37, 38, 39, 40, 41, 42, 43, 44, 45, 46, 47, 48]],
    ["the cable's own address", "F-012:7", [7]],
  ])("%s", async (_what, cut, expected) => {
    const yard = await withF012();
    expect((await open(yard, { cut })).answer.cut).toEqual(expected);
  });

  it.each([["F-012@3"], [3], ["@3"], ["mh 02"]])("the stop as %s", async (stop) => {
    const yard = await withF012();
    expect((await open(yard, { stop, cut: "1" })).answer.tag).toBe("F-012@3");
  });
});

describe("opening is refused, and nothing is written,", () => {
  const refused = async (input: Record<string, unknown>, prepare?: (yard: Yard) => Promise<unknown>) => {
    const yard = await withF012();
    await prepare?.(yard);
    const before = await yard.content();
    const error = await yard.refused("cable.open", { cable: "F-012", stop: "MH-02", ...input });
    expect(await yard.content()).toEqual(before);
    return error;
  };

  it("at a cable's end", async () => {
    for (const stop of ["LIB/101", "SCI/B01", 5]) {
      const error = await refused({ stop, cut: "1" });
      expect(error).toMatchObject({ code: "not_possible", problems: [{ field: "stop" }] });
      expect(error.message).toMatch(/can't be opened or cut at its end/);
    }
  });
  it("for strands cut there already, naming them", async () => {
    const error = await refused({ cut: "3-6" }, (yard) => open(yard, { cut: "1-4" }));
    expect(error.code).toBe("not_possible");
    expect(error.problems).toEqual([
      { record: "F-012:3", field: "cut", reason: "is cut at MH-02 already" },
      { record: "F-012:4", field: "cut", reason: "is cut at MH-02 already" },
    ]);
  });
  it("at a place that is not a stop of it, naming its stops", async () => {
    const error = await refused({ stop: "MH-9", cut: "1" });
    expect(error.code).toBe("not_found");
    const room = await refused({ stop: "LIB/102", cut: "1" }, (yard) =>
      yard.put("space", { tag: "102", building_id: 1 }),
    );
    expect(room.message).toBe("F-012 has no stop at LIB/102; its stops are LIB/101, MH-01, MH-02, MH-03, SCI/B01.");
    expect((await refused({ stop: 6 })).message).toMatch(/its stops are 1 to 5/);
  });
  it("where it comes by twice and nobody said which", async () => {
    const yard = await newYard();
    await yard.act("cable.enter", {
      tag: "F-012",
      stops: [{ space: "LIB/101" }, { space: "MH-02" }, { space: "MH-03" }, { space: "MH-02" }, { space: "MH-01" }],
    });
    const error = await yard.refused("cable.open", { cable: "F-012", stop: "MH-02" });
    expect(error.code).toBe("ambiguous");
    expect(error.problems.map(({ reason }) => reason)).toEqual(["may be F-012@2", "may be F-012@4"]);
  });
  it.each([
    ["a strand beyond the count", "47-49", "not_found", /F-012 has strands 1 to 48; 49 is beyond the count/],
    ["strand 0", "0-3", "bad_input", /strand 0/],
    ["a range that runs backwards", "9-3", "bad_input", /runs backwards/],
    ["a strand named twice", "1-4,3", "bad_input", /names F-012:3 twice/],
    ["a colour the cable hasn't", "AQ", "not_found", /none of which is AQ/],
    ["a section it doesn't pass in", "5#2", "not_found", /F-012:5#2 is not on record/],
  ])("for %s", async (_what, cut, code, message) => {
    const error = await refused({ cut });
    expect(error.code).toBe(code);
    expect(error.message).toMatch(message);
  });
  it("for glass of another cable", async () => {
    const error = await refused({ cut: "F-013:1" }, (yard) => enterF012(yard, { tag: "F-013" }));
    expect(error.message).toBe("F-013:1 is glass of F-013, not of F-012.");
  });
  it("for an opening outside the marks of the hole", async () => {
    const error = await refused({ mark_open_from: 1300, mark_open_to: 1303 });
    expect(error).toMatchObject({ code: "not_possible", problems: [{ record: "MH-02", field: "mark out" }] });
  });
  it("but not for marks that ran backwards on record before", async () => {
    const yard = await withF012();
    await yard.run("record.edit", { kind: "stop", id: await yard.at("MH-03"), values: { mark_in: 1, mark_out: 2 } });
    const { answer, notices } = await open(yard, { cut: "1" });
    expect(answer.cut).toEqual([1]);
    expect(notices.join()).toMatch(/marks of F-012 run backwards/);
    const error = await yard.refused("cable.sever", { cable: "F-012", after: "MH-02", mark_in: 7, mark_out: 8 });
    expect(error.problems.some(({ record }) => record === "MH-03")).toBe(false);
  });
});
