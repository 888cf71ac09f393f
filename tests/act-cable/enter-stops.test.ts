import { describe, expect, it } from "vitest";
import { newYard, type Yard } from "./yard.ts";

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
    expect(far.notices.join()).toMatch(/50\u202f000\u202fm of sheath/);
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
