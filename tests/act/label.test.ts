import { beforeEach, describe, expect, it } from "vitest";
import { TESTER } from "../support/plant.ts";
import { act, type Campus, campus, refused } from "./campus.ts";

let plant: Campus;
beforeEach(async () => {
  plant = await campus();
  await act(plant, "panel.enter", {
    tag: "A",
    space: "LIB/101",
    ports: [{ numbers: "01..04", connector: "lc_duplex" }],
  });
});

const setPlant = async (values: Record<string, string>) => {
  const [row] = await plant.find("plant");
  await plant.change("plant", row?.id ?? 0, values);
};
const label = async () => (await plant.find("label"))[0];

describe("writing a label", () => {
  it("takes the plant's wording", async () => {
    await setPlant({ label_patterns: JSON.stringify({ cable: ["{tag} {from} > {to} {strands}F"] }) });
    const { answer, summary } = await act(plant, "label.write", {
      subject: "F-014",
      space: "LIB/101",
      printed_on: "2031-05-02",
    });
    expect(summary).toBe("Label cable F-014 at LIB/101");
    expect(answer).toMatchObject({ place: "LIB/101", text: "F-014 LIB/101 > SCI/B01 48F" });
    expect(await label()).toMatchObject({ state: null, printed_on: "2031-05-02", due_on: null });
  });
  it("takes a typed text as it is", async () => {
    await act(plant, "label.write", { subject: "LIB/101/A", text: "PANEL A" });
    expect(await label()).toMatchObject({ subject_kind: "panel", text: "PANEL A", space_id: null });
  });
  it("notes it as seen where who writes it saw it, with the day and the name of the visit", async () => {
    await plant.put([{ kind: "visit", values: { tag: "V-7", made_on: "2030-03-01", made_by: "An Apprentice" } }]);
    await act(plant, "label.write", { subject: "LIB/101/A", text: "PANEL A", visit: "V-7" });
    expect(await label()).toMatchObject({
      text: "PANEL A",
      state: "present",
      seen_on: "2030-03-01",
      seen_by: "An Apprentice",
      basis: "seen",
    });
    await act(plant, "label.relabel", { subject: "LIB/101/A", text: "PANEL AA" });
    expect(await label()).toMatchObject({
      text: "PANEL AA",
      state: null,
      seen_on: null,
      basis: null,
      basis_visit_id: null,
    });
  });
  it("asks where on a cable, and refuses a place the cable doesn't stop at", async () => {
    const where = await refused(plant, "label.write", { subject: "F-014" });
    expect(where).toMatchObject({ code: "bad_input", problems: [{ field: "space", record: "F-014" }] });
    const nowhere = await refused(plant, "label.write", { subject: "F-014", space: "LIB/102" });
    expect(nowhere).toMatchObject({ code: "not_possible", problems: [{ reason: "doesn't stop in LIB/102" }] });
  });
  it("refuses a second one there unless told", async () => {
    await act(plant, "label.write", { subject: "F-014", space: "MH-03" });
    expect((await refused(plant, "label.write", { subject: "F-014", space: "MH-03" })).code).toBe("duplicate");
    await act(plant, "label.write", { subject: "F-014", space: "LIB/101" });
    await act(plant, "label.write", { subject: "F-014", space: "MH-03", even_if_there: true });
    expect(await plant.find("label")).toHaveLength(3);
  });
  it("refuses when the record lacks what the wording asks for, saying what", async () => {
    await plant.put([{ kind: "cable", values: { tag: "F-099" } }]);
    const [cable] = await plant.find("cable", { tag: "F-099" });
    const [space] = await plant.find("space", { tag: "MH-03" });
    await plant.put([
      { kind: "stop", values: { cable_id: cable?.id ?? 0, ordinal: 1, space_id: space?.id ?? 0, kind: "end" } },
      { kind: "stop", values: { cable_id: cable?.id ?? 0, ordinal: 2, kind: "end" } },
    ]);
    await setPlant({ label_patterns: JSON.stringify({ cable: ["{tag} {strands}F {fibre}"] }) });
    const error = await refused(plant, "label.write", { subject: "F-099", space: "MH-03" });
    expect(error.problems[0]).toMatchObject({ field: "text", record: "F-099" });
    expect(error.problems[0]?.reason).toMatch(/strands, fibre/);
  });
});

describe("what a label is on", () => {
  it("is asked when a tag can be read in two ways, and can be said", async () => {
    await act(plant, "panel.enter", { tag: "F-014" });
    const error = await refused(plant, "label.write", { subject: "F-014", space: "MH-03" });
    expect(error.code).toBe("ambiguous");
    await act(plant, "label.write", { subject: "F-014", kind: "panel" });
    expect((await label())?.subject_kind).toBe("panel");
  });
  it("may be a cord, by its tag or a port it is in", async () => {
    await act(plant, "cord.patch", { from: "LIB/101/A:01", to: "LIB/101/A:02", tag: "C-1" });
    const { answer } = await act(plant, "label.write", { subject: "C-1", kind: "cord" });
    expect(answer).toMatchObject({ text: "C-1" });
    await act(plant, "label.sight", { subject: "LIB/101/A:01", kind: "cord", state: "missing" });
    expect(await plant.find("label", { subject_kind: "cord", state: "missing" })).toHaveLength(1);
  });
});

describe("writing all labels a cable needs", () => {
  it("puts one at each end and wherever it can be reached", async () => {
    const { answer } = await act<{ written: { place: string }[] }>(plant, "label.write_due", { cable: "F-014" });
    expect(answer.written.map(({ place }) => place)).toEqual(["LIB/101", "MH-03", "SCI/B01"]);
  });
  it("keeps to the ends where the plant says so, and off stops that can't be reached", async () => {
    await setPlant({ label_due: "ends" });
    const ends = await act<{ written: { place: string }[] }>(plant, "label.write_due", { cable: "F-014" });
    expect(ends.answer.written.map(({ place }) => place)).toEqual(["LIB/101", "SCI/B01"]);
    await setPlant({ label_due: "access" });
    const stop = (await plant.find("stop", { kind: "opened" }))[0];
    await plant.change("stop", stop?.id ?? 0, { reachable: "no" });
    const again = await act<{ written: unknown[]; kept: number }>(plant, "label.write_due", { cable: "F-014" });
    expect(again.answer).toEqual({ written: [], kept: 2 });
    expect(again.change_set).toBeNull();
  });
  it("makes those anew that are due, missing or unreadable, and keeps the others", async () => {
    await act(plant, "label.write_due", { cable: "F-014" });
    await act(plant, "label.sight", { subject: "F-014", space: "MH-03", state: "missing" });
    const { answer } = await act<{ written: { place: string }[]; kept: number }>(plant, "label.write_due", {
      cable: "F-014",
      printed_on: "2031-05-02",
    });
    expect(answer.written.map(({ place }) => place)).toEqual(["MH-03"]);
    expect(answer.kept).toBe(2);
    expect(await plant.find("label", { printed_on: "2031-05-02", state: null })).toHaveLength(1);
  });
  it("refuses where the plant asks for none", async () => {
    await setPlant({ label_due: "none" });
    expect((await refused(plant, "label.write_due", { cable: "F-014" })).message).toMatch(/asks for labels nowhere/);
  });
});

describe("seeing labels", () => {
  it("notes state, text, day and who looked", async () => {
    await act(plant, "label.write", { subject: "LIB/101/A" });
    const { notices } = await act(
      plant,
      "label.sight",
      { subject: "LIB/101/A", state: "present", text_read: "a" },
      { ...TESTER, day: "2031-05-02" },
    );
    expect(notices).toEqual([]);
    expect(await label()).toMatchObject({
      state: "present",
      text_read: "a",
      seen_on: "2031-05-02",
      seen_by: "Test Person",
      basis: "seen",
    });
  });
  it("refuses a day that has not come", async () => {
    await act(plant, "label.write", { subject: "LIB/101/A" });
    const sight = { subject: "LIB/101/A", state: "present" };
    const today = new Date().toISOString().slice(0, 10);
    expect(await refused(plant, "label.sight", { ...sight, seen_on: "2999-01-01" })).toMatchObject({
      code: "bad_input",
      problems: [{ field: "seen_on", reason: "is 2999-01-01, after today" }],
    });
    await act(plant, "label.sight", { ...sight, seen_on: today });
    expect(await label()).toMatchObject({ seen_on: today });
  });
  it("takes day and name from the visit", async () => {
    await plant.put([{ kind: "visit", values: { tag: "V-7", made_on: "2030-03-01", made_by: "An Apprentice" } }]);
    await act(plant, "label.sight", { subject: "LIB/101/A", state: "missing", visit: "V-7" });
    const [visit] = await plant.find("visit");
    expect(await label()).toMatchObject({
      seen_on: "2030-03-01",
      seen_by: "An Apprentice",
      basis_visit_id: visit?.id,
    });
  });
  it("says when what was read isn't what the record would print", async () => {
    const { notices, answer } = await act(plant, "label.sight", {
      subject: "F-014",
      space: "MH-03",
      state: "present",
      text_read: "F-041",
    });
    expect(notices).toEqual(["The record would print something else on F-014 than F-041."]);
    // Nobody had written that label down before: it is on record now, with what was read and no printed text.
    expect(answer).toEqual({ seen: 0, added: 1 });
    expect(await label()).toMatchObject({ text: null, text_read: "F-041" });
  });
  it("takes a range of ports at once, or labels by their numbers", async () => {
    await act(plant, "label.sight", { subject: "LIB/101/A:01-03", state: "missing" });
    const labels = await plant.find("label", { subject_kind: "port", state: "missing" });
    expect(labels).toHaveLength(3);
    await act(plant, "label.sight", { labels: labels.map(({ id }) => id), state: "present" });
    expect(await plant.find("label", { state: "present" })).toHaveLength(3);
    const unknown = await refused(plant, "label.sight", { labels: [9999], state: "present" });
    expect(unknown).toMatchObject({ code: "not_found", problems: [{ record: "label 9999" }] });
    expect((await refused(plant, "label.sight", { state: "present" })).code).toBe("bad_input");
  });
});

describe("labelling anew", () => {
  it("fills a label that became due before any was printed", async () => {
    await act(plant, "panel.renumber", { panel: "LIB/101/A", tag: "B" });
    const { answer } = await act(plant, "label.write", { subject: "LIB/101/B" });
    expect(answer).toMatchObject({ text: "B\nLIB/101" });
    expect(await plant.find("label")).toHaveLength(1);
    expect(await label()).toMatchObject({ text: "B\nLIB/101", due_on: null, due_why: null });
  });
  it("takes the new wording, forgets what was seen of the old, and is no longer due", async () => {
    await act(plant, "label.write", { subject: "LIB/101/A:01" });
    await act(plant, "label.sight", { subject: "LIB/101/A:01", state: "present", text_read: "01" });
    await act(plant, "panel.renumber", { panel: "LIB/101/A", ports: [{ from: "01", to: "11" }] });
    await act(plant, "label.relabel", { subject: "LIB/101/A:11", printed_on: "2031-05-02" });
    expect(await label()).toMatchObject({
      text: "11",
      text_read: null,
      state: null,
      seen_on: null,
      due_on: null,
      due_why: null,
      printed_on: "2031-05-02",
    });
  });
  it("refuses where no label is on record", async () => {
    const error = await refused(plant, "label.relabel", { subject: "LIB/101/A:01" });
    expect(error).toMatchObject({ code: "not_found", problems: [{ record: "LIB/101/A:01" }] });
  });
});
