import { beforeEach, describe, expect, it } from "vitest";
import { TESTER } from "../support/plant.ts";
import { act, type Campus, campus, refused } from "./campus.ts";

let plant: Campus;
beforeEach(async () => {
  plant = await campus();
  await act(plant, "closure.enter", { tag: "CL-1", space: "MH-03", trays: [{ numbers: "T1..T2", capacity: 12 }] });
});

interface Spliced {
  readonly spliced: number;
  readonly pairs: readonly { readonly from: string; readonly to: string; readonly place: number | null }[];
}
const range = { from: "F-014:25-36#1", to: "F-021:1-12", tray: "MH-03/CL-1/T2", first_place: 1, method: "fusion" };

describe("splicing a range to a range in a tray", () => {
  it("joins the ends that lie there, in the order written, place after place", async () => {
    const { answer, summary, notices } = await act<Spliced>(plant, "splice.range", range);
    expect(summary).toBe("Splice F-014:25-36 to F-021:1-12 in MH-03/CL-1/T2");
    expect(notices).toEqual([]);
    expect(answer.pairs[0]).toEqual({ from: "F-014:25#1", to: "F-021:1", place: 1 });
    expect(answer.pairs[11]).toEqual({ from: "F-014:36#1", to: "F-021:12", place: 12 });
    const splices = await plant.find("splice");
    expect(splices).toHaveLength(12);
    expect(splices.every(({ a_side, b_side, method }) => a_side === "B" && b_side === "A" && method === "fusion")).toBe(
      true,
    );
  });
  it("gives one place to each ribbon spliced at once", async () => {
    const { answer } = await act<Spliced>(plant, "splice.range", { ...range, form: "ribbon", ribbon: 6 });
    expect(answer.pairs.map(({ place }) => place)).toEqual([1, 1, 1, 1, 1, 1, 2, 2, 2, 2, 2, 2]);
  });
  it("takes a loss at which a joint is seldom left, and doubts it", async () => {
    // Common practice, no source: 12 dB is 0.12 with its point lost.
    const two = { ...range, from: "F-014:25-26#1", to: "F-021:1-2", loss_basis: "both_ways" };
    const { notices } = await act(plant, "splice.range", { ...two, loss_ab_db: [0.12, 0.05], loss_ba_db: [12, 0.05] });
    expect(notices).toEqual([
      expect.stringMatching(/^A joint is said to lose 12 dB, and one that loses more than 3 dB/),
    ]);
  });
  it("takes one loss for all or one a splice, gainers included", async () => {
    await act(plant, "splice.range", {
      ...range,
      from: "F-014:25-26#1",
      to: "F-021:1-2",
      loss_ab_db: [0.08, -0.03],
      loss_ba_db: 0.05,
      loss_basis: "both_ways",
    });
    expect((await plant.find("splice")).map(({ loss_ab_db, loss_ba_db }) => [loss_ab_db, loss_ba_db])).toEqual([
      [0.08, 0.05],
      [-0.03, 0.05],
    ]);
    const error = await refused(plant, "splice.range", {
      ...range,
      from: "F-014:27-29#1",
      to: "F-021:3-5",
      first_place: 3,
      loss_ab_db: [0.1, 0.2],
    });
    expect(error).toMatchObject({ code: "bad_input", problems: [{ field: "loss_ab_db" }] });
  });
  it("takes a place where nobody knows the tray, and asks when neither is said", async () => {
    await act(plant, "splice.range", { from: "F-014:25#1", to: "F-021:1", at: "MH-03" });
    expect((await plant.find("splice"))[0]).toMatchObject({ tray_id: null, place: null });
    const error = await refused(plant, "splice.range", { from: "F-014:26#1", to: "F-021:2" });
    expect(error).toMatchObject({ code: "bad_input", problems: [{ field: "tray" }] });
  });
});

describe("what splicing doubts", () => {
  it("says when the tray would hold more than it takes", async () => {
    await act(plant, "splice.range", { ...range, from: "F-014:25-31#1", to: "F-021:1-7", tray: "MH-03/CL-1/T1" });
    const { notices } = await act(plant, "splice.range", {
      from: "F-014:25-30#2",
      to: "F-014:31-36#2",
      tray: "MH-03/CL-1/T1",
      first_place: 8,
    });
    expect(notices).toEqual(["MH-03/CL-1/T1 takes 12 splices; it holds 7 splices already and would hold 13."]);
  });
  it("says when cores differ", async () => {
    const { notices } = await act(plant, "splice.range", {
      from: "F-030:1",
      to: "F-014:1",
      from_end: "A",
      at: "LIB/101",
    });
    expect(notices).toEqual(["F-030:1 would be spliced to glass of another core."]);
  });
  it("says when both ends are of one glass, and records the ring", async () => {
    const { notices } = await act(plant, "splice.range", {
      from: "F-030:1",
      to: "F-030:1",
      from_end: "A",
      to_end: "B",
      at: "LIB/101",
    });
    expect(notices).toEqual(["F-030:1 would be spliced to the other end of the same glass, and make a ring."]);
    expect(await plant.find("splice")).toHaveLength(1);
  });
});

describe("what splicing refuses", () => {
  it("ranges of unequal length, with both counts", async () => {
    const error = await refused(plant, "splice.range", { ...range, to: "F-021:1-11" });
    expect(error).toMatchObject({
      code: "not_possible",
      message: "F-014:25-36 is 12 strands, F-021:1-11 is 11 strands.",
      problems: [{ field: "from" }, { field: "to", record: "F-021:1-11", reason: "is 11 strands" }],
    });
  });
  it("an end to itself, and an end that stands in both ranges", async () => {
    const itself = await refused(plant, "splice.range", { ...range, from: "F-014:25#1", to: "F-014:25#1" });
    expect(itself).toMatchObject({
      code: "not_possible",
      problems: [{ row: 1, field: "to", record: "F-014:25#1", reason: "would be spliced to itself with its end B" }],
    });
    const both = await refused(plant, "splice.range", { ...range, from: "F-014:25-26#1", to: "F-014:26#1,27#1" });
    expect(both.problems).toEqual([
      { row: 1, field: "to", record: "F-014:26#1", reason: "stands in both ranges with its end B" },
    ]);
  });
  it("to guess which half of a cut strand is meant", async () => {
    const error = await refused(plant, "splice.range", { ...range, from: "F-014:25-36" });
    expect(error).toMatchObject({ code: "ambiguous", problems: [{ field: "from_end", record: "F-014:25-36" }] });
    expect(error.problems[0]?.reason).toBe("can be end B of section 1 or end A of section 2; say which");
    const { answer } = await act<Spliced>(plant, "splice.range", { ...range, from: "F-014:25-36", from_end: "A" });
    expect(answer.pairs[0]?.from).toBe("F-014:25#2");
  });
  it("an express strand, whose glass has no end there, unless told that it is elsewhere", async () => {
    const express = { ...range, from: "F-014:1", to: "F-021:1" };
    const error = await refused(plant, "splice.range", express);
    expect(error).toMatchObject({ code: "not_possible", message: "F-014:1 has no end in MH-03." });
    expect((await refused(plant, "splice.range", { ...express, even_if_elsewhere: true })).code).toBe("ambiguous");
    await act(plant, "splice.range", { ...express, even_if_elsewhere: true, from_end: "B" });
    expect(await plant.find("splice")).toHaveLength(1);
  });
  it("taken ends and taken places, naming each, unless told", async () => {
    await act(plant, "splice.range", range);
    const again = { ...range, from: "F-014:25#2", to: "F-021:1" };
    const error = await refused(plant, "splice.range", again);
    expect(error.problems).toEqual([
      { row: 1, field: "to", record: "F-021:1", reason: "is spliced already at its end A, to F-014:25#1" },
    ]);
    const place = await refused(plant, "splice.range", { ...again, even_if_taken: undefined, to: "F-014:26#2" });
    expect(place.problems).toEqual([
      { field: "place", record: "MH-03/CL-1/T2", reason: "has something in place 1 already" },
    ]);
    const { notices } = await act(plant, "splice.range", { ...again, even_if_taken: true });
    expect(notices).toHaveLength(3);
    expect(await plant.find("splice")).toHaveLength(13);
  });
  it("a tray of a closure without a place", async () => {
    await act(plant, "closure.enter", { tag: "SPARE", trays: [{ numbers: "T1" }] });
    const error = await refused(plant, "splice.range", { ...range, tray: "SPARE/T1" });
    expect(error).toMatchObject({ code: "not_possible", problems: [{ field: "tray", record: "SPARE/T1" }] });
  });
});

describe("closing a cut range again", () => {
  const cut = { strands: "F-014:25-36", stop: "F-014@2" };

  it("splices both halves of each strand through, and reopens them as removed on the day", async () => {
    const { answer, summary } = await act<Spliced>(plant, "splice.close", { ...cut, tray: "MH-03/CL-1/T1" });
    expect(summary).toBe("Close F-014:25-36 again at F-014@2");
    expect(answer.pairs[0]).toMatchObject({ from: "F-014:25#1", to: "F-014:25#2" });
    const splices = await plant.find("splice");
    expect(splices.every(({ a_side, b_side }) => a_side === "B" && b_side === "A")).toBe(true);
    const taken = await refused(plant, "splice.close", { strands: "F-014:25", stop: "F-014@2" });
    expect(taken.problems).toHaveLength(2);

    const reopen = { ...TESTER, day: "2031-05-02" };
    const opened = await act(plant, "splice.reopen", { ...cut, strands: "F-014:25-30" }, reopen);
    expect(opened.answer).toEqual({ reopened: 6 });
    const removed = await plant.find("splice", { life: "removed", life_until: "2031-05-02" });
    expect(removed).toHaveLength(6);
    // What was reopened can be closed again.
    await act(plant, "splice.close", { strands: "F-014:25", stop: "F-014@2" });
  });
  it("knows the stop by its order and by the space it is in", async () => {
    await act(plant, "splice.close", { strands: "F-014:25", stop: "MH-03" });
    const { answer } = await act(plant, "splice.reopen", { strands: "F-014:25", stop: 2 });
    expect(answer).toEqual({ reopened: 1 });
    const beyond = await refused(plant, "splice.close", { strands: "F-014:25", stop: 99 });
    expect(beyond.problems[0]).toMatchObject({ field: "stop", record: "99" });
  });
  it("reopens in a correction as if the splices never were", async () => {
    await act(plant, "splice.close", cut);
    await act(plant, "splice.reopen", cut, { ...TESTER, meaning: "correction" });
    expect(await plant.find("splice")).toEqual([]);
  });
  it("refuses strands that aren't cut there, another cable's stop, and what isn't closed", async () => {
    const whole = await refused(plant, "splice.close", { strands: "F-014:24-26", stop: "F-014@2" });
    expect(whole).toMatchObject({
      code: "not_possible",
      problems: [{ record: "F-014:24", reason: "is not cut at F-014@2 (MH-03)" }],
    });
    const other = await refused(plant, "splice.close", { strands: "F-014:25", stop: "F-021@1" });
    expect(other.problems[0]).toMatchObject({ field: "stop", record: "F-021@1" });
    const open = await refused(plant, "splice.reopen", { strands: "F-014:25", stop: "F-014@2" });
    expect(open.problems[0]).toMatchObject({ record: "F-014:25#1", reason: "is not spliced through at F-014@2" });
  });
});

describe("a stub that was cut too short", () => {
  it("is said when it is joined all the same", async () => {
    const [section] = await plant.find("section", { ordinal: 2 });
    await plant.change("section", section?.id ?? 0, { a_stub: "no" });
    const { notices } = await act(plant, "splice.range", { from: "F-014:25-26#2", to: "F-021:1-2", at: "MH-03" });
    expect(notices).toEqual(["F-014:25#2 has no stub left at that end on record."]);
  });
});
