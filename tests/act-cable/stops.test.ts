import { describe, expect, it } from "vitest";
import { enterF012, newYard, type Yard } from "./yard.ts";

async function yardWithCable(): Promise<Yard> {
  const yard = await newYard();
  await enterF012(yard);
  return yard;
}

/** Stops of F-012 as `order place kind`, and its legs as `from-to pathway`. */
async function shape(yard: Yard) {
  const [cable] = await yard.find("cable", { tag: "F-012" });
  const spaces = new Map((await yard.find("space")).map(({ id, tag }) => [id, tag]));
  const pathways = new Map((await yard.find("pathway")).map(({ id, tag }) => [id, tag]));
  const stops = (await yard.find("stop", { cable_id: cable?.id ?? 0 })).sort(
    (a, b) => Number(a.ordinal) - Number(b.ordinal),
  );
  const order = new Map(stops.map(({ id, ordinal }) => [id, Number(ordinal)]));
  const legs = (await yard.find("leg"))
    .sort((a, b) => (order.get(Number(a.from_stop_id)) ?? 0) - (order.get(Number(b.from_stop_id)) ?? 0))
    .map((leg) => {
      const [from, to] = [order.get(Number(leg.from_stop_id)), order.get(Number(leg.to_stop_id))];
      return `${from}-${to} ${pathways.get(Number(leg.pathway_id)) ?? "?"}`;
    });
  return {
    stops: stops.map(({ ordinal, space_id, kind }) => `${ordinal} ${spaces.get(Number(space_id)) ?? "?"} ${kind}`),
    legs,
  };
}

describe("a stop put between two others", () => {
  it("takes its order there, and the way is divided at it", async () => {
    const yard = await yardWithCable();
    await yard.put("space", { tag: "HH-7" });
    const { answer, summary } = await yard.act<{ tag: string }>("cable.add_stop", {
      cable: "F-012",
      after: "MH-01",
      space: "HH-7",
      mark_in: 1150,
      mark_out: 1152,
    });
    expect(answer.tag).toBe("F-012@3");
    expect(summary).toBe("Add stop HH-7 to F-012 as number 3");
    expect(await shape(yard)).toEqual({
      stops: ["1 101 end", "2 MH-01 passing", "3 HH-7 passing", "4 MH-02 passing", "5 MH-03 passing", "6 B01 end"],
      legs: ["1-2 BE-1", "2-3 DB-1", "3-4 DB-1", "4-5 DB-2", "5-6 BE-2"],
    });
    const legs = await yard.find("leg");
    expect(legs.at(-1)).toMatchObject({ held: "loose", slides: "yes" });
  });

  it("may say new ways in and on", async () => {
    const yard = await yardWithCable();
    const { notices } = await yard.act("cable.add_stop", {
      cable: "F-012",
      after: 2,
      way_in: { conduit: "DB-1/2" },
      way_on: { pathway: "BE-2" },
    });
    expect((await shape(yard)).legs.slice(1, 3)).toEqual(["2-3 DB-1", "3-4 BE-2"]);
    expect(notices.join()).toMatch(/BE-2 doesn't reach MH-02/);
  });

  it("leaves sections as they are, and is undone exactly", async () => {
    const yard = await yardWithCable();
    await yard.act("cable.open", { cable: "F-012", stop: "MH-03", cut: "1-12" });
    const before = await yard.content();
    await yard.act("cable.add_stop", { cable: "F-012", after: "MH-01" });
    expect((await yard.content()).section).toEqual(before.section);
    await yard.run("history.undo", {});
    expect(await yard.content()).toEqual(before);
  });

  it("is refused after the last stop, as an end, and where its marks don't fit", async () => {
    const yard = await yardWithCable();
    const last = await yard.refused("cable.add_stop", { cable: "F-012", after: "SCI/B01" });
    expect(last).toMatchObject({ code: "not_possible", problems: [{ record: "F-012@5", field: "after" }] });
    const end = await yard.refused("cable.add_stop", { cable: "F-012", after: 1, kind: "end" });
    expect(end.problems[0]).toMatchObject({ field: "kind" });
    const marks = await yard.refused("cable.add_stop", { cable: "F-012", after: "MH-01", mark_in: 1300 });
    expect(marks).toMatchObject({ code: "not_possible", problems: [{ record: "@3", field: "mark in" }] });
    expect(marks.problems[0]?.reason).toMatch(/is 1.300 between 1.112 and 1.212/);
    await yard.act("cable.add_stop", {
      cable: "F-012",
      after: "MH-01",
      mark_in: 1300,
      even_if_marks_disagree: true,
    });
  });
});

describe("a stop taken out", () => {
  it("gives its order up; one way remains, unknown where the two differed", async () => {
    const yard = await yardWithCable();
    const { notices } = await yard.act("cable.remove_stop", { cable: "F-012", stop: "MH-02" });
    expect(await shape(yard)).toEqual({
      stops: ["1 101 end", "2 MH-01 passing", "3 MH-03 passing", "4 B01 end"],
      legs: ["1-2 BE-1", "2-3 ?", "3-4 BE-2"],
    });
    expect(notices.join()).toMatch(/DB-1 before and in DB-2 after MH-02/);
  });

  it("after it was put in gives the cable as it was", async () => {
    const yard = await yardWithCable();
    const before = await shape(yard);
    await yard.act("cable.add_stop", { cable: "F-012", after: "MH-01" });
    const { notices } = await yard.act("cable.remove_stop", { cable: "F-012", stop: 3 });
    expect(await shape(yard)).toEqual(before);
    expect(notices).toEqual([]);
  });

  it("is undone exactly", async () => {
    const yard = await yardWithCable();
    const before = await yard.content();
    await yard.act("cable.remove_stop", { cable: "F-012", stop: "MH-02" });
    await yard.run("history.undo", {});
    expect(await yard.content()).toEqual(before);
  });

  it("is refused for an end, and where strands are cut", async () => {
    const yard = await yardWithCable();
    expect(await yard.refused("cable.remove_stop", { cable: "F-012", stop: 1 })).toMatchObject({
      code: "not_possible",
    });
    await yard.act("cable.open", { cable: "F-012", stop: "MH-02", cut: "1-3" });
    const cut = await yard.refused("cable.remove_stop", { cable: "F-012", stop: "MH-02" });
    expect(cut).toMatchObject({ code: "rests_on", problems: [{ reason: "holds the cut of 3 strands" }] });
  });

  it("is refused where a bond rests on it", async () => {
    const yard = await yardWithCable();
    const [stop] = await yard.find("stop", { ordinal: 3 });
    const [busbar] = await yard.put("busbar", { tag: "G1", space_id: Number(stop?.space_id) });
    await yard.put("bond", { busbar_id: busbar ?? 0, stop_id: stop?.id ?? 0 });
    const error = await yard.refused("cable.remove_stop", { cable: "F-012", stop: "MH-02" });
    expect(error.code).toBe("rests_on");
  });
});

describe("a cut cable", () => {
  const sever = (yard: Yard, more: Record<string, unknown>) =>
    yard.act<{ tag: string; cut: number[]; express: number }>("cable.sever", { cable: "F-012", ...more });

  it("between two stops gets a severed stop there, all glass cut and no stub left", async () => {
    const yard = await yardWithCable();
    const { answer, summary } = await sever(yard, { after: "MH-02", mark_open_from: 1260, mark_open_to: 1272 });
    expect(answer).toMatchObject({ tag: "F-012@4", express: 0 });
    expect(answer.cut).toHaveLength(48);
    expect(summary).toBe("Record the cut of F-012 between MH-02 and MH-03, all 48 strands");
    expect((await shape(yard)).stops[3]).toBe("4 ? severed");
    const sections = await yard.find("section");
    expect(sections).toHaveLength(96);
    expect(sections.filter(({ ordinal }) => ordinal === 1).every(({ b_stub }) => b_stub === "no")).toBe(true);
    expect(sections.filter(({ ordinal }) => ordinal === 2).every(({ a_stub }) => a_stub === "no")).toBe(true);
    const [stop] = await yard.find("stop", { kind: "severed" });
    expect(stop).toMatchObject({ mark_open_from: 1260, mark_open_to: 1272, ordinal: 4 });
  });

  it("may leave some strands shining, and stubs where somebody saw them", async () => {
    const yard = await yardWithCable();
    const { answer, summary } = await sever(yard, { stop: "MH-02", cut: "BL-OR", stub_a: "yes" });
    expect(answer.express).toBe(24);
    expect(summary).toBe("Record the cut of F-012 at MH-02, strands 1-24");
    expect((await yard.find("section", { ordinal: 1, b_stub: "yes" })).length).toBe(24);
    expect((await yard.find("stop", { kind: "severed" })).length).toBe(1);
  });

  it("at an opening leaves what was cut there before as it is", async () => {
    const yard = await yardWithCable();
    await yard.act("cable.open", { cable: "F-012", stop: "MH-02", cut: "1-12", stub_a: "yes", stub_b: "yes" });
    const { answer } = await sever(yard, { stop: "MH-02" });
    expect(answer.cut).toHaveLength(36);
    expect(answer.express).toBe(0);
    expect((await yard.find("section", { b_stub: "yes" })).length).toBe(12);
  });

  it("with nothing dark yet is a severed stop alone", async () => {
    const yard = await yardWithCable();
    const { answer } = await sever(yard, { stop: "MH-02", cut: [] });
    expect(answer).toMatchObject({ cut: [], express: 48 });
  });

  it("is undone exactly", async () => {
    const yard = await yardWithCable();
    await yard.act("cable.open", { cable: "F-012", stop: "MH-03", cut: "1-12" });
    const before = await yard.content();
    await sever(yard, { after: "MH-01" });
    await yard.run("history.undo", {});
    expect(await yard.content()).toEqual(before);
  });

  it("is refused at an end, and without or with two places", async () => {
    const yard = await yardWithCable();
    const end = await yard.refused("cable.sever", { cable: "F-012", stop: "LIB/101" });
    expect(end.message).toMatch(/a cut at a cable's end cuts nothing/);
    for (const where of [{}, { stop: 2, after: 2 }]) {
      const error = await yard.refused("cable.sever", { cable: "F-012", ...where });
      expect(error).toMatchObject({ code: "bad_input", problems: [{ field: "stop" }] });
    }
  });
});
