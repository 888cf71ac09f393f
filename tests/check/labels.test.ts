/** Labels: reading 10 of the plant's designers, TIA-606 (second-hand) for labels at ends; otherwise common practice. */
import { describe, expect, it } from "vitest";
import { campus } from "./campus.ts";

const PRINTED = "2026-03-01";

describe("a label that nobody saw", () => {
  it("is a gap of its place, counted by kind and not listed", async () => {
    const plant = await campus();
    await plant.edit("plant", 1, { label_due: "access", port_labels: "panel" });
    const gaps = await plant.found("labels.not_looked");
    expect(gaps.map(({ key, count, facts }) => [key, count, facts.things])).toEqual([
      ["space LIB/101", 2, ["1 cable", "1 panel"]],
      ["space LIB/102", 2, ["1 cable", "1 panel"]],
      ["space MH-03", 2, ["2 cables"]],
      ["space SCI/B01", 2, ["1 cable", "1 panel"]],
    ]);
    expect(await plant.found("labels.missing")).toEqual([]);
  });

  it("is missing only when a visit to the whole place found none", async () => {
    const plant = await campus();
    await plant.edit("plant", 1, { label_due: "access" });
    await plant.add("visit", { tag: "V-1", made_on: "2026-02-01", space_id: "MH-03", extent: "part" });
    expect(await plant.found("labels.missing")).toEqual([]);
    await plant.add("visit", { tag: "V-2", made_on: "2026-02-02", space_id: "MH-03", extent: "all" });
    const missing = await plant.found("labels.missing");
    expect(missing.map(({ key, count, last_visit }) => [key, count, last_visit])).toEqual([
      ["cable F-014", 1, "2026-02-02"],
      ["cable F-021", 1, "2026-02-02"],
    ]);
    expect(missing[0]?.caution).toContain("A hole may hold gas");
  });

  it("is missing all along a cable that somebody walked from end to end", async () => {
    const plant = await campus();
    await plant.edit("plant", 1, { label_due: "access" });
    await plant.add("visit", { tag: "V-1", made_on: "2026-02-01", cable_id: "F-014", extent: "all" });
    expect(await plant.found("labels.missing")).toMatchObject([
      { sentence: "No label is on `F-014` at `LIB/101`, `MH-03` and `SCI/B01`, where somebody looked.", count: 3 },
    ]);
  });

  it("is not missing where the thing came onto record after the last visit, and nobody knows since when it is there", async () => {
    const plant = await campus();
    await plant.edit("plant", 1, { label_due: "access", port_labels: "panel" });
    await plant.add("visit", { tag: "V-1", made_on: "2026-02-01", space_id: "LIB/101", extent: "all" });
    await plant.run("panel.enter", { tag: "P9", space: "LIB/101", ports: [{ numbers: "01..04", connector: "lc" }] });
    const missing = async () => (await plant.found("labels.missing")).map(({ key }) => key);
    // The panel that was on record then is.
    expect(await missing()).toEqual(["cable F-014", "panel LIB/101/A"]);
    expect((await plant.found("labels.not_looked")).map(({ key, count }) => [key, count])).toContainEqual([
      "space LIB/101",
      1,
    ]);
    await plant.add("visit", { tag: "V-2", made_on: "2026-02-02", space_id: "LIB/101", extent: "all" });
    expect(await missing()).toEqual(["cable F-014", "panel LIB/101/A", "panel LIB/101/P9"]);
  });

  it("is missing when it was seen to be gone, visit or not", async () => {
    const plant = await campus();
    await plant.run("label.sight", { subject: "MH-03/CL-1", state: "missing" });
    expect(await plant.found("labels.missing")).toMatchObject([{ key: "closure MH-03/CL-1" }]);
  });

  it("is not missing while another is there", async () => {
    const plant = await campus();
    await plant.run("label.write", { subject: "MH-03/CL-1", text: "CL-1" });
    await plant.add("label", { subject_kind: "closure", subject_id: "MH-03/CL-1", state: "missing" });
    expect(await plant.found("labels.missing")).toEqual([]);
  });

  it("is nobody's business on a cable of another owner, a planned one, or where the plant asks for none", async () => {
    const plant = await campus();
    await plant.edit("plant", 1, { label_due: "ends" });
    await plant.add("party", { tag: "CARRIER", role: "carrier" });
    await plant.edit("cable", "F-014", { owner_id: "CARRIER" });
    await plant.edit("cable", "F-021", { life: "out_of_use" });
    expect((await plant.found("labels.not_looked")).map(({ key }) => key)).toEqual(["space LIB/102", "space MH-03"]);
    await plant.edit("plant", 1, { label_due: "none" });
    expect(await plant.found("labels.not_looked")).toEqual([]);
  });
});

describe("ports that need a label each", () => {
  it("are one finding a panel, with their count, and only those with glass behind", async () => {
    const plant = await campus();
    await plant.edit("plant", 1, { port_labels: "port" });
    for (const [tag, space_id] of [
      ["V-1", "LIB/101"],
      ["V-2", "SCI/B01"],
    ])
      await plant.add("visit", { tag, made_on: "2026-02-01", space_id, extent: "all" });
    expect(await plant.found("labels.missing")).toMatchObject([
      { key: "panel LIB/101/A", count: 6, sentence: "No label is on 6 ports of `LIB/101/A`, where somebody looked." },
      { key: "panel SCI/B01/P", count: 6 },
    ]);
  });
});

describe("what a label says", () => {
  it.each([
    ["F-014 24F", []],
    ["f014 24f", []],
    ["F – 014\n24F", []],
    ["F−014-24F", []],
    ["F-014 24", ["labels.contradicts"]],
    ["F-0l4 24F", ["labels.contradicts"]],
    ["F/014 24F", ["labels.contradicts"]],
    ["Cable F-014", ["labels.old_style"]],
  ])("%j is compared after folding case, spaces and dashes", async (text, rules) => {
    const plant = await campus();
    await plant.edit("plant", 1, {
      label_patterns: { cable: ["{tag} {strands}F"] },
      old_label_patterns: { cable: ["Cable {tag}"] },
    });
    await plant.run("label.write", { subject: "F-014", space: "MH-03", text, printed_on: PRINTED });
    expect((await plant.check()).findings.map(({ rule }) => rule)).toEqual(rules);
  });

  it("counts as somebody read it, not as it was printed", async () => {
    const plant = await campus();
    await plant.edit("plant", 1, { label_patterns: { cable: ["{tag}"] } });
    await plant.run("label.write", { subject: "F-014", space: "MH-03" });
    await plant.run("label.sight", { subject: "F-014", space: "MH-03", state: "present", text_read: "F-041" });
    expect(await plant.found("labels.contradicts")).toMatchObject([
      { sentence: 'The label on `F-014` at `MH-03` says "F-041"; by the record it would be "F-014".' },
    ]);
  });

  it.each([
    ["cable", "F-014", "F-0141 LIB - SCI"],
    ["cable", "F-014", "F-01 LIB/101"],
    ["panel", "LIB/101/A", "PANEL B"],
    ["port", "LIB/101/A:01", "21"],
  ] as const)("on a %s names its thing whole: %s isn't named by “%s”", async (_, subject, text) => {
    const plant = await campus();
    await plant.run("label.write", {
      subject,
      text,
      printed_on: PRINTED,
      ...(subject === "F-014" ? { space: "MH-03" } : {}),
    });
    expect(await plant.found("labels.contradicts")).toHaveLength(1);
  });

  it.each([
    ["LIB/101/A", "LIB/101A"],
    ["LIB/101/A:01", "port 1"],
    ["F-014", "cable f14 to SCI"],
  ] as const)("names %s as “%s”", async (subject, text) => {
    const plant = await campus();
    await plant.run("label.write", {
      subject,
      text,
      printed_on: PRINTED,
      ...(subject === "F-014" ? { space: "MH-03" } : {}),
    });
    expect(await plant.found("labels.contradicts")).toEqual([]);
  });

  it("may be more or less than we would print where the plant has no wording, but it names its thing", async () => {
    const plant = await campus();
    await plant.run("label.write", {
      subject: "F-014",
      space: "MH-03",
      text: "FIBER F-14 TO SCIENCE",
      printed_on: PRINTED,
    });
    expect(await plant.found("labels.contradicts")).toEqual([]);
    await plant.run("label.relabel", { subject: "F-014", space: "MH-03", text: "FIBER F-41", printed_on: PRINTED });
    expect(await plant.found("labels.contradicts")).toHaveLength(1);
  });

  it("contradicts nothing while a new one is due, and on a thing that is gone", async () => {
    const plant = await campus();
    await plant.run("label.write", { subject: "F-014", space: "MH-03", text: "F-41", printed_on: PRINTED });
    await plant.edit("label", 1, { due_on: "2026-04-30" });
    expect((await plant.check()).findings.map(({ rule }) => rule)).toEqual(["labels.due"]);
    await plant.edit("label", 1, { due_on: null });
    await plant.edit("cable", "F-014", { life: "removed" });
    expect(await plant.found("labels.contradicts")).toEqual([]);
  });
});

describe("a label's text that was only written down", () => {
  const rules = async (plant: Awaited<ReturnType<typeof campus>>) =>
    (await plant.check()).findings.map(({ rule, severity }) => [rule, severity]);
  const astray = { subject: "F-014", space: "MH-03", text: "F-41" } as const;

  it("contradicts nothing: it is to be written anew, and can be there and then", async () => {
    const plant = await campus();
    await plant.run("label.write", astray);
    expect(await rules(plant)).toEqual([["labels.to_write_anew", "advice"]]);
    const [finding] = await plant.found("labels.to_write_anew");
    expect(finding?.act).toMatchObject({ operation: "label.relabel", input: { subject: "F-014", space: "MH-03" } });
    await plant.run("label.relabel", { subject: "F-014", space: "MH-03" });
    expect(await rules(plant)).toEqual([]);
  });

  it("is to be written anew when the record has changed since", async () => {
    const plant = await campus();
    await plant.edit("plant", 1, { label_due: "access" });
    await plant.run("label.write_due", { cable: "F-014" });
    expect(await plant.found("labels.to_write_anew")).toEqual([]);
    await plant.edit("cable", "F-014", { tag: "F-015" });
    expect(await plant.found("labels.to_write_anew")).toMatchObject([{ key: "cable F-015", count: 3, act: null }]);
    expect(await plant.found("labels.contradicts")).toEqual([]);
  });

  it("says what is true of each: in an old wording, or not what the record says; and names the ports it is on", async () => {
    const plant = await campus();
    await plant.edit("plant", 1, {
      label_patterns: { port: ["{panel}-{port}"] },
      old_label_patterns: { port: ["{port}"] },
    });
    const told = async () => (await plant.found("labels.to_write_anew")).map(({ sentence }) => sentence);
    await plant.run("label.write", { subject: "LIB/101/A:01", text: "01" });
    expect(await told()).toEqual([
      'The text of the label on `LIB/101/A:01`, neither printed nor seen yet, follows an old wording: "01"; by the record it would be "LIB/101/A-01".',
    ]);
    await plant.run("label.write", { subject: "LIB/101/A:02", text: "A-03" });
    expect(await told()).toEqual([
      'The texts of 2 labels on `LIB/101/A:01` and `LIB/101/A:02`, neither printed nor seen yet, are "01", "A-03"; 1 of them only follows an old wording.',
    ]);
    for (const port of ["03", "04"]) await plant.run("label.write", { subject: `LIB/101/A:${port}`, text: "A-99" });
    expect(await told()).toEqual([expect.stringMatching(/^The texts of 4 labels on 4 ports of `LIB\/101\/A`, /)]);
  });

  it.each([
    ["it was printed", { printed_on: PRINTED }],
    ["who wrote it down saw it", { basis: "seen" }],
  ] as const)("is a label that contradicts as soon as %s", async (_, stands) => {
    const plant = await campus();
    await plant.run("label.write", { ...astray, ...stands });
    expect(await rules(plant)).toEqual([["labels.contradicts", "error"]]);
  });

  it("is a label that contradicts as soon as somebody sees it there", async () => {
    const plant = await campus();
    await plant.run("label.write", astray);
    await plant.run("label.sight", { subject: "F-014", space: "MH-03", state: "present" });
    expect(await rules(plant)).toEqual([["labels.contradicts", "error"]]);
    // What was seen of the old one says nothing of a new text.
    await plant.run("label.relabel", astray);
    expect(await rules(plant)).toEqual([["labels.to_write_anew", "advice"]]);
  });
});

describe("labels due after a panel was renumbered", () => {
  it("are one finding, with the day since when", async () => {
    const plant = await campus();
    await plant.edit("plant", 1, { port_labels: "port" });
    await plant.run("panel.renumber", { panel: "LIB/101/A", ports: "101..112" });
    const due = (await plant.check()).findings.filter(({ rule }) => rule.startsWith("labels.due"));
    expect(due).toMatchObject([{ rule: "labels.due", key: "panel LIB/101/A", count: 12 }]);
  });
});
