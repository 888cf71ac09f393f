/** A case's splice sheet: every strand accounted for, and the table that comes back filled in. */
import Papa from "papaparse";
import { beforeAll, describe, expect, it } from "vitest";
import type { SheetRehearsal } from "../../core/as-built/rehearse.ts";
import type { Document } from "../../core/paper/document.ts";
import type { SheetUnit } from "../../core/sheets/splice-sheet.ts";
import { spliceSheet } from "../../core/sheets/splice-sheet.ts";
import { newSample } from "../support/made.ts";
import { newPlant, type TestPlant } from "../support/plant.ts";
import { at, casePlant, plain, printedBack } from "./case-plant.ts";

const told = (units: readonly SheetUnit[]) =>
  units.map(({ strands, side, fate, where }) => [strands, side, fate, where.join()]);
const unitsOf = async (plant: TestPlant, of: string) =>
  (await plant.store.read((reader) => spliceSheet(reader, of, "2026-05-01"))).units;

describe("a case with an opened cable and one that ends there", () => {
  let plant: TestPlant;
  beforeAll(async () => {
    plant = await casePlant();
  });

  it("says of each unit what became of its strands, units with joints first in the order of the trays", async () => {
    expect(told(await unitsOf(plant, "MH-03/CL-1"))).toEqual([
      ["F-014:13-16#1", "LIB/101", "spliced", "T2"],
      ["F-014:13-24#2", "SCI/B01", "not_known", ""],
      ["F-014:17-22#1", "LIB/101", "spliced", "T1"],
      ["F-014:23-24#1", "LIB/101", "not_known", ""],
      ["F-021:1-4", null, "spliced", "T2"],
      ["F-021:5-10", null, "spliced", "T1"],
      ["F-021:11-12", null, "not_known", ""],
      ["F-014:1-12", null, "express", ""],
      ["F-014:25-36", null, "express", ""],
      ["F-014:37-48", null, "express", ""],
      ["F-021:13-24", null, "not_known", ""],
    ]);
  });

  it("says that glass is broken with its fate, never where its splice tray stands", async () => {
    const broken = await casePlant();
    await broken.run("record.edit", { kind: "strand", id: "F-014:40", values: { condition: "broken" } });
    const { blocks } = await broken.run<Document>("paper.splice_sheet", { case: "MH-03/CL-1" });
    const units = blocks.find((block) => block.is === "table" && block.caption?.startsWith("Each unit"));
    const rows = units?.is === "table" ? units.rows.filter((row) => row[3] === "F-014:40") : [];
    expect(rows.map((row) => row.slice(4, 6))).toEqual([["express; broken", ""]]);
  });

  it("warns in one frame, of what is on record first, and says what is usual but not on record", async () => {
    const { blocks } = await plant.run<Document>("paper.splice_sheet", { case: "MH-03/CL-1" });
    const dangers = blocks.flatMap((block) => (block.is === "note" && block.sign === "danger" ? [block.text] : []));
    expect(dangers).toHaveLength(1);
    const lines = dangers[0]?.split("\n") ?? [];
    expect(lines[0]).toBe("• On record for MH-03: water, confined space.");
    expect(lines.filter((line) => /traffic/i.test(line))).toEqual([
      "• No traffic is on record for it. If any passes, guard the place as the local authority asks before a lid is lifted.",
    ]);
  });

  it("is found by the case, by one of its trays and by the hole where it hangs alone", async () => {
    const [first] = await unitsOf(plant, "MH-03/CL-1");
    for (const of of ["MH-03/CL-1/T2", "MH-03"]) expect((await unitsOf(plant, of))[0]).toEqual(first);
  });

  it("refuses a place without a case, and asks which where there are two", async () => {
    await expect(plant.run("paper.splice_sheet", { case: "LIB/101" })).rejects.toMatchObject({
      failure: { code: "not_found", problems: [{ field: "case", record: "LIB/101" }] },
    });
    const two = await casePlant();
    await two.run("closure.enter", { tag: "CL-2", space: "MH-03" });
    await expect(two.run("paper.splice_sheet", { case: "MH-03" })).rejects.toMatchObject({
      failure: { code: "ambiguous", problems: [{ reason: "could be MH-03/CL-1, MH-03/CL-2" }] },
    });
  });

  it("is printed lying, with cautions before all else, colours in words and code, and the digest in its foot", async () => {
    const read = await printedBack(plant, "paper.splice_sheet", { case: "MH-03/CL-1" });
    const [first] = read.pages;
    expect(first?.width).toBeGreaterThan(first?.height ?? 0);
    expect(at(first, "Test the air").foot).toBeGreaterThan(at(first, "Cables in the case").foot);
    expect(plain(read.text)).toContain("On record for MH-03: water, confined space.");
    expect(plain(read.text)).toContain("tube 2 orange OR, strand 1 blue BL");
    const [digest] = await plant.store.read((reader) =>
      reader.rows<{ hash: string }>("select hash from change_set order by id desc limit 1"),
    );
    for (const page of read.pages) expect(page.text).toContain(`content ${digest?.hash.slice(0, 16)}`);
    expect(read.pages.at(-1)?.text).toContain(`page ${read.pages.length} of ${read.pages.length}`);
  });

  it("prints joints tray by tray from the bottom, each at its place, with both strands in one line", async () => {
    const read = await printedBack(plant, "paper.splice_sheet", { case: "MH-03/CL-1" });
    /** How far down the whole paper the line stands that holds both strands. */
    const down = (from: string, to: string): number => {
      const index = read.pages.findIndex(({ pieces }) => pieces.some(({ text }) => text === from));
      const page = read.pages[index];
      const [a, b] = [at(page, from), page?.pieces.find(({ text }) => text === to)];
      expect(b?.foot).toBeCloseTo(a.foot, 1);
      expect(b?.left).toBeGreaterThan(a.right);
      return index * 1000 + 1000 - a.foot;
    };
    const lines = [
      down("F-014:17#1 from LIB/101", "F-021:5"),
      down("F-014:22#1 from LIB/101", "F-021:10"),
      down("F-014:13#1 from LIB/101", "F-021:4"),
      down("F-014:16#1 from LIB/101", "F-021:1"),
    ];
    expect(lines).toEqual(lines.toSorted((x, y) => x - y));
    expect(plain(read.text)).toContain("Splice tray MH-03/CL-1/T3: position 3 from the bottom; 0 joints, takes 24");
  });
});

describe("a joint on the sheet", () => {
  it("has room for what is measured, beside a loss on record too", async () => {
    const plant = await casePlant();
    const { blocks } = await plant.run<Document>("paper.splice_sheet", { case: "MH-03/CL-1" });
    const losses = (tray: string) =>
      blocks.flatMap((block) =>
        block.is === "table" && block.caption?.startsWith(`Splice tray MH-03/CL-1/${tray}:`)
          ? block.rows.map((row) => row.slice(7))
          : [],
      );
    // T2 was spliced with 0.02 dB from A to B, T1 without any.
    expect(losses("T2")).toEqual(Array(4).fill([{ write: true, beside: "0.02" }, { write: true }]));
    expect(losses("T1")).toEqual(Array(6).fill([{ write: true }, { write: true }]));
  });

  it("takes one line of the paper, its colours with their letters, though it comes from a half", async () => {
    const read = await printedBack(await casePlant(), "paper.splice_sheet", { case: "MH-03/CL-1" });
    const pieces = read.pages.flatMap((page) => page.pieces.map(({ text }) => text));
    for (const words of ["tube 2 orange OR, strand 10 violet VI", "tube 2 orange OR, strand 9 yellow YL"])
      expect(pieces).toContain(words);
  });
});

type Table = readonly Readonly<Record<string, string>>[];
const read = (text: string): Table =>
  Papa.parse<Record<string, string>>(text, { header: true, skipEmptyLines: true }).data;
const back = (rows: Table): string => Papa.unparse([...rows]);
const table = async (plant: TestPlant, of: string): Promise<string> =>
  (await plant.run<{ text: string }>("paper.splice_table", { case: of })).text;
const recorded = async (plant: TestPlant): Promise<Record<string, unknown>[]> =>
  (
    await plant.run<{ rows: { values: Record<string, unknown> }[] }>("record.window", { kind: "splice", limit: 500 })
  ).rows.map(({ values }) => values);
const rehearse = (plant: TestPlant, text: string) => plant.run<SheetRehearsal>("sheet.rehearse", { text });

describe("a splice sheet that comes back", () => {
  let demo: TestPlant;
  beforeAll(async () => {
    demo = await newSample();
  });

  it("is known as a splice matrix and changes nothing when it comes back unchanged", async () => {
    const plant = await casePlant();
    const text = await table(plant, "MH-03/CL-1");
    expect(await plant.run("sheet.read", { text })).toMatchObject({ shape: "splices" });
    const { rows, totals } = await rehearse(plant, text);
    expect(rows.flatMap(({ problems }) => problems)).toEqual([]);
    expect(totals).toMatchObject({ rows: 10 + 7, same: 10 + 7, new: 0, changed: 0, refused: 0 });
    expect(await plant.run("sheet.apply", { text })).toMatchObject({ change_set: null });
  });

  it("records exactly the losses that were filled in, each on its own splice and in its own direction", async () => {
    const plant = await casePlant();
    const before = await recorded(plant);
    const rows = read(await table(plant, "MH-03/CL-1"));
    const filled = rows.map((row, index) =>
      row.fate === "spliced" ? { ...row, "loss A to B": `0.${index + 1}1`, "loss B to A": `0.${index + 1}2` } : row,
    );
    await plant.run("sheet.apply", { text: back(filled) });

    const after = await recorded(plant);
    const again = read(await table(plant, "MH-03/CL-1"));
    expect(again).toEqual(filled);
    const rest = (all: typeof before) => all.map(({ loss_ab_db: _, loss_ba_db: __, ...row }) => JSON.stringify(row));
    expect(rest(after)).toEqual(rest(before));
    expect(after.every(({ loss_ab_db, loss_ba_db }) => loss_ab_db !== null && loss_ba_db !== null)).toBe(true);
    const reread = await rehearse(plant, back(filled));
    expect(reread.totals).toMatchObject({ same: rows.length, changed: 0 });
    // Colours and circuits are there to be seen: nobody asks for them.
    expect(reread.unread).toEqual([]);
  });

  it("keeps a loss in its direction where the record has the splice the other way round", async () => {
    const plant = await casePlant();
    await plant.run("splice.range", { from: "F-021:11", to: "F-014:23#1", tray: "MH-03/CL-1/T1", first_place: 7 });
    const rows = read(await table(plant, "MH-03/CL-1"));
    const filled = rows.map((row) => (row["cable A strand"] === "F-014:23#1" ? { ...row, "loss A to B": "0.3" } : row));
    expect(filled).not.toEqual(rows);
    // What would change is said as the sheet has it.
    const { rows: fates } = await rehearse(plant, back(filled));
    expect(fates.filter(({ fate }) => fate === "changed").map(({ words }) => words)).toEqual([
      "F-014:23#1 is spliced to F-021:11; on record now: loss A to B nothing, by the sheet 0.3 dB",
    ]);
    await plant.run("sheet.apply", { text: back(filled) });
    const turned = (await recorded(plant)).find(({ tray_id, place }) => place === 7 && tray_id !== null);
    expect(turned).toMatchObject({ loss_ab_db: null, loss_ba_db: 0.3 });
  });

  it("takes a strand that a crew spliced meanwhile, and a stub that was found", async () => {
    const plant = await casePlant();
    const rows = read(await table(plant, "MH-03/CL-1"));
    const filled = rows.map((row) => {
      if (row["cable A strand"] === "F-021:11-12")
        return {
          ...row,
          fate: "spliced",
          "cable A strand": "F-014:23#1,24#1",
          "cable B strand": "F-021:11-12",
          tray: "MH-03/CL-1/T1",
        };
      return row["cable A strand"] === "F-014:13-24#2" ? { ...row, fate: "stored" } : row;
    });
    await plant.run("sheet.apply", { text: back(filled.filter((row) => row["cable A strand"] !== "F-014:23-24#1")) });
    expect(told(await unitsOf(plant, "MH-03/CL-1"))).toEqual(
      expect.arrayContaining([
        ["F-014:13-24#2", "SCI/B01", "stored", ""],
        ["F-014:17-24#1", "LIB/101", "spliced", "T1"],
        ["F-021:5-12", null, "spliced", "T1"],
      ]),
    );
  });

  it("refuses a row that says of joined or cut glass that it is not, and names it", async () => {
    const plant = await casePlant();
    const rows = read(await table(plant, "MH-03/CL-1"));
    const wrong = rows.slice(0, 1).map((row) => ({ ...row, fate: "stored", "cable B strand": "" }));
    const cut = { ...wrong[0], "cable A strand": "F-014:13-14", fate: "express" };
    const whole = { ...wrong[0], "cable A strand": "F-014:1-2", fate: "no stub" };
    const { rows: fates } = await rehearse(plant, back([...wrong, cut, whole] as Table));
    expect(fates.map(({ fate }) => fate)).toEqual(["refused", "refused", "refused"]);
    expect(fates.flatMap(({ problems }) => problems.map(({ record, field }) => [record, field]))).toEqual([
      ["F-014:17", "fate"],
      ["F-014:13-14", "fate"],
      ["F-014:1-2", "fate"],
    ]);
  });

  it("refuses a row that was filled in as stored and still names the other strand, whether or not they are joined", async () => {
    const plant = await casePlant();
    const [row] = read(await table(plant, "MH-03/CL-1"));
    const joined = { ...row, fate: "stored" };
    const apart = { ...joined, "cable A strand": "F-014:23#1", "cable B strand": "F-021:11", position: "" };
    const { rows } = await rehearse(plant, back([joined, apart] as Table));
    expect(rows.map(({ fate, problems }) => [fate, problems.map(({ field }) => field)])).toEqual([
      ["refused", ["fate"]],
      ["refused", ["fate"]],
    ]);
    expect(rows[1]?.problems[0]?.reason).toBe("is stored, and cable B strand is F-021:11: it is one or the other");
  });

  it("holds on the demo campus, whose cases hold pigtails, doubts and cables of every kind", async () => {
    const plant = demo;
    for (const of of ["MH-07/CL-1", "HH-12/CL-1", "BKR/ER/CL-1"]) {
      const text = await table(plant, of);
      const { rows, totals } = await rehearse(plant, text);
      expect([of, rows.flatMap(({ problems }) => problems)]).toEqual([of, []]);
      expect([of, totals.same]).toEqual([of, read(text).length]);
    }
  });
});

describe("ribbons in tubes", () => {
  /** Two cables of 6 tubes with 6 ribbons each, in a case. */
  const ribbonCables = async () => {
    const plant = await newPlant();
    for (const tag of ["MH-1", "MH-2", "MH-3"])
      await plant.run("record.add", { kind: "space", values: { tag, kind: "maintenance_hole" } });
    await plant.run("closure.enter", { tag: "CL-1", space: "MH-2", trays: [{ numbers: "T1", capacity: 72 }] });
    const units = [
      { kind: "tube", repeats: 6, strands: 0, units: [{ kind: "ribbon", repeats: 6, strands: 12, coating_um: "250" }] },
    ];
    for (const [tag, from, to] of [
      ["F-1", "MH-1", "MH-2"],
      ["F-2", "MH-2", "MH-3"],
    ])
      await plant.run("cable.enter", {
        ...{ tag, colour_sequence: "tia_598", units },
        stops: [from, to].map((space) => ({ space, ...(space === "MH-2" ? { closure: "MH-2/CL-1" } : {}) })),
      });
    return plant;
  };
  const spliced = (plant: TestPlant, from: string, to: string, more: object = {}) =>
    plant.run("splice.range", { from, to, tray: "MH-2/CL-1/T1", ...more });
  const AT_ONCE = { form: "ribbon", ribbon: 12 };
  const tables = async (plant: TestPlant) =>
    (await plant.run<Document>("paper.splice_sheet", { case: "MH-2/CL-1" })).blocks.flatMap((block) =>
      block.is === "table" ? [block] : [],
    );

  it("have all three names of a strand in one line, with the codes of tube and strand, where they are spliced strand by strand", async () => {
    const plant = await ribbonCables();
    for (const nth of [0, 1, 2]) await spliced(plant, `F-1:${97 + nth}`, `F-2:${99 - nth}`);
    const { pages } = await printedBack(plant, "paper.splice_sheet", { case: "MH-2/CL-1" });
    const pieces = pages.flatMap((page) => page.pieces.map(({ text }) => text));
    // Three strands, on both sides of their joints.
    expect(pieces.filter((text) => /^tube 2 OR, ribbon 3, strand \d+ \w+ [A-Z]{2}$/.test(text))).toHaveLength(6);
  });

  it("take a line a side, with a box for the loss of each strand, where their strands lie in order on both sides", async () => {
    const plant = await ribbonCables();
    await spliced(plant, "F-1:97-120", "F-2:97-120", { ...AT_ONCE, first_place: 1 });
    const [ribbons] = (await tables(plant)).filter(({ caption }) => caption?.startsWith("Splice tray MH-2/CL-1/T1"));
    expect(ribbons?.rows.map((row) => row.slice(0, 4))).toEqual([
      [{ tick: false }, "1", ["F-1:97-108, tube 2 orange OR, ribbon 3"], "A to B"],
      ["", "", ["to F-2:97-108, tube 2 orange OR, ribbon 3"], "B to A"],
      [{ tick: false }, "2", ["F-1:109-120, tube 2 orange OR, ribbon 4"], "A to B"],
      ["", "", ["to F-2:109-120, tube 2 orange OR, ribbon 4"], "B to A"],
    ]);
    for (const row of ribbons?.rows ?? []) expect(row.slice(4)).toEqual(Array(12).fill({ write: true }));
    const { text } = await printedBack(plant, "paper.splice_sheet", { case: "MH-2/CL-1" });
    expect(plain(text)).toContain("in this order, on both sides: blue BL, orange OR, green GR, brown BR,");
  });

  it("say a loss that all their strands have once, and others beside the box they are of", async () => {
    const plant = await ribbonCables();
    await spliced(plant, "F-1:97-108", "F-2:97-108", { ...AT_ONCE, loss_ab_db: 0.05 });
    const rows = async () => (await tables(plant)).find(({ caption }) => caption?.includes("/T1"))?.rows ?? [];
    expect((await rows()).map((row) => row[3])).toEqual(["A to B: 0.05 each", "B to A"]);
    const { rows: splices } = await plant.run<{ rows: { id: number }[] }>("record.window", {
      kind: "splice",
      limit: 1,
    });
    await plant.run("record.edit", { kind: "splice", id: splices[0]?.id, values: { loss_ab_db: 0.11 } });
    expect((await rows())[0]?.slice(3, 6)).toEqual([
      "A to B",
      { write: true, beside: "0.11" },
      { write: true, beside: "0.05" },
    ]);
  });

  it("with nothing to say of them but their fate stand together, by the tube they lie in", async () => {
    const plant = await ribbonCables();
    await spliced(plant, "F-1:97-108", "F-2:97-108", AT_ONCE);
    const units = (await tables(plant)).find(({ caption }) => caption?.startsWith("Each unit"));
    const own = units?.rows.filter((row) => row[1] === "F-1").map((row) => row.slice(2, 5));
    expect(
      own?.map(([unit, strands]) => [typeof unit === "string" ? unit : (unit as { words: string }).words, strands]),
    ).toEqual([
      ["tube 2 orange OR, ribbon 3", "F-1:97-108"],
      ["tube 1 blue BL, ribbons 1-6", "F-1:1-72"],
      ["tube 2 orange OR, ribbons 1-2,4-6", "F-1:73-96,109-144"],
      ["tube 3 green GR, ribbons 1-6", "F-1:145-216"],
      ["tube 4 brown BR, ribbons 1-6", "F-1:217-288"],
      ["tube 5 slate SL, ribbons 1-6", "F-1:289-360"],
      ["tube 6 white WH, ribbons 1-6", "F-1:361-432"],
    ]);
  });
});
