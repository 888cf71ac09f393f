/**
 * Workbooks written by another library (write-excel-file) and, where it can't write what is meant, by hand (ECMA-376):
 * several sheets, days, leading zeros, merged cells, formulas; and files that only look like workbooks.
 */
import { strToU8, zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import writeExcelFile from "write-excel-file/node";
import { count, fates, rehearsed, sheetFile, sheetPlant } from "./plant.ts";

interface Read {
  readonly sheets: readonly { readonly name: string; readonly rows: number }[];
  readonly sheet: string;
  readonly shape: string | null;
  readonly first: readonly { readonly row: number; readonly cells: readonly string[] }[];
  readonly notices: readonly string[];
}

const head = (...names: string[]) => names.map((value) => ({ value }));

async function book(): Promise<Buffer> {
  return await writeExcelFile([
    { sheet: "Cover", data: [[{ value: "As-built of the spring works" }], [{ value: "by a crew" }]] },
    {
      sheet: "Splices",
      data: [
        [{ value: "Case CL-1" }],
        head("Tray", "Pos", "Cable A strand", "Cable B strand", "Loss (dB)", "Date", "No"),
        [
          { value: "MH-03/CL-1/T1", rowSpan: 2 },
          { value: 1, type: Number },
          { value: "F-014 1" },
          { value: "F-021 1" },
          { value: 0.1 + 0.2, type: Number },
          { value: new Date(Date.UTC(2026, 4, 2)), type: Date, format: "dd/mm/yyyy" },
          { value: 7, type: Number, format: "000" },
        ],
        [null, { value: 2, type: Number }, { value: "F-014 2" }, { value: "F-021 2" }, null, null, null],
      ],
    },
  ] as never).toBuffer();
}

describe("a workbook of another program", () => {
  it("shows days as days, keeps leading zeros, and reads merged cells for each row under them", async () => {
    const plant = await sheetPlant();
    const file = sheetFile(plant, "as-built.xlsx", await book());
    const read = await plant.run<Read>("sheet.read", { file, sheet: "Splices" });
    expect(read.sheets.map(({ name }) => name)).toEqual(["Cover", "Splices"]);
    expect(read.shape).toBe("splices");
    expect(read.first).toEqual([
      { row: 3, cells: ["MH-03/CL-1/T1", "1", "F-014 1", "F-021 1", "0.3", "2026-05-02", "007"] },
      { row: 4, cells: ["MH-03/CL-1/T1", "2", "F-014 2", "F-021 2"] },
    ]);
    expect(read.notices).toEqual(["1 cell under a merged cell is read as what stands in it."]);
  });

  it("is taken over row by row, each named by its row in the worksheet", async () => {
    const plant = await sheetPlant();
    const file = sheetFile(plant, "as-built.xlsx", await book());
    const rehearsal = await rehearsed(plant, { file, sheet: "Splices" });
    expect(fates(rehearsal)).toEqual(["new", "new"]);
    expect(rehearsal.rows.map(({ row }) => row)).toEqual([3, 4]);
  });

  it("refuses a worksheet that isn't there, naming those that are", async () => {
    const plant = await sheetPlant();
    const file = sheetFile(plant, "as-built.xlsx", await book());
    const reply = await plant.call("sheet.read", { file, sheet: "Splice" });
    expect(reply).toMatchObject({
      error: { code: "not_found", problems: [{ reason: "must be one of Cover, Splices" }] },
    });
  });
});

/** A workbook by hand: one sheet of this content, and what else lies in the archive. */
const byHand = (sheet: string, more: Readonly<Record<string, string>> = {}): Uint8Array =>
  zipSync({
    "xl/workbook.xml": strToU8('<workbook><sheets><sheet name="S" sheetId="1" r:id="r1"/></sheets></workbook>'),
    "xl/_rels/workbook.xml.rels": strToU8(
      '<Relationships><Relationship Id="r1" Target="worksheets/a.xml"/></Relationships>',
    ),
    "xl/worksheets/a.xml": strToU8(`<worksheet><sheetData>${sheet}</sheetData></worksheet>`),
    ...Object.fromEntries(Object.entries(more).map(([name, text]) => [name, strToU8(text)])),
  });

describe("a workbook by hand", () => {
  it("reads a formula as the value it had, and says of one without a value that its row is refused", async () => {
    const plant = await sheetPlant();
    const text = (at: string, value: string) => `<c r="${at}" t="inlineStr"><is><t>${value}</t></is></c>`;
    const rows = [
      `<row r="1">${text("A1", "label on")}${text("B1", "text")}</row>`,
      `<row r="2">${text("A2", "LIB")}<c r="B2" t="str"><f>"Lib"&amp;"rary"</f><v>Library &amp; halls</v></c></row>`,
      `<row r="3" hidden="1">${text("A3", "SCI")}<c r="B3"><f>X1</f></c></row>`,
    ];
    const file = sheetFile(plant, "hand.xlsx", byHand(rows.join("")));
    const read = await plant.run<Read>("sheet.read", { file });
    expect(read.first.map(({ cells }) => cells)).toEqual([["LIB", "Library & halls"], ["SCI"]]);
    expect(read.notices).toEqual([
      "1 row is hidden in the workbook and read all the same.",
      "1 cell holds a formula without its value: its row is refused where that cell is taken over.",
    ]);
    const { rows: tried } = await rehearsed(plant, { file });
    expect(tried[1]).toMatchObject({
      fate: "refused",
      problems: [{ row: 3, field: "text", reason: "is a formula without its value" }],
    });
  });

  // How writers that reckon nothing leave the value of a formula: no `v`, an empty one, or one closed at once.
  it.each(["<f>24*2</f>", "<f>24*2</f><v></v>", "<f>24*2</f><v/>", '<f t="shared" si="0"/>'])(
    "refuses the row of a cell %s, column named, and enters no cable",
    async (formula) => {
      const plant = await sheetPlant();
      const before = await count(plant, "cable");
      const text = (at: string, value: string) => `<c r="${at}" t="inlineStr"><is><t>${value}</t></is></c>`;
      const heading = ["cable", "from", "to", "strands", "strands a tube"];
      const first = heading.map((name, i) => text(`${"ABCDE"[i]}1`, name)).join("");
      const own = `${text("A2", "F-900")}${text("B2", "LIB/101")}${text("C2", "MH-03")}<c r="D2">${formula}</c><c r="E2"><v>12</v></c>`;
      const file = sheetFile(
        plant,
        "hand.xlsx",
        byHand(`<row r="1">${first}</row><row r="2">${own}</row><row r="3"><c r="A3">${formula}</c></row>`),
      );
      const rehearsal = await rehearsed(plant, { file });
      expect(fates(rehearsal)).toEqual(["refused", "refused"]);
      expect(rehearsal.rows.map(({ problems }) => problems[0])).toEqual([
        { row: 2, field: "strands", reason: "is a formula without its value" },
        { row: 3, field: "cable", reason: "is a formula without its value" },
      ]);
      expect((await plant.call("sheet.apply", { file })).ok).toBe(false);
      expect(await count(plant, "cable")).toBe(before);
    },
  );

  it("takes a formula that came to an empty text as empty", async () => {
    const plant = await sheetPlant();
    const text = (at: string, value: string) => `<c r="${at}" t="inlineStr"><is><t>${value}</t></is></c>`;
    const row = `${text("A2", "F-014:1")}${text("B2", "dead")}<c r="C2" t="str"><f>IF(X1,"a","")</f><v></v></c>`;
    const heading = `${text("A1", "strand")}${text("B1", "condition")}${text("C1", "why")}`;
    const file = sheetFile(plant, "hand.xlsx", byHand(`<row r="1">${heading}</row><row r="2">${row}</row>`));
    expect(fates(await rehearsed(plant, { file }))).toEqual(["changed"]);
  });

  it("passes over a million blank rows that only have a look", async () => {
    const plant = await sheetPlant();
    const blank = '<row r="5"><c r="A5" s="1"/></row>'.repeat(1_000_000);
    const file = sheetFile(plant, "blank.xlsx", byHand(`<row r="1"><c r="A1" t="str"><v>a</v></c></row>${blank}`));
    const read = await plant.run<{ rows: number }>("sheet.read", { file });
    expect(read.rows).toBe(0);
  });

  it.each([
    ["an archive with another name", zipSync({ "photo.txt": strToU8("x") }), "holds no worksheets"],
    [
      "a cell in the last of 16,384 columns",
      byHand('<row r="1"><c r="XFD1" t="str"><v>a</v></c></row>'),
      "column 16384",
    ],
    [
      "a part that declares entities",
      byHand("", { "xl/styles.xml": '<!DOCTYPE x [<!ENTITY a "b">]>' }),
      "document type",
    ],
    ["a workbook of the old form", Uint8Array.of(0xd0, 0xcf, 0x11, 0xe0, 0, 0), "old form"],
    ["a RAR archive with another name", Uint8Array.of(0x52, 0x61, 0x72, 0x21, 0x1a, 0x07, 1, 0), "is packed"],
    ["a gzip file with another name", Uint8Array.of(0x1f, 0x8b, 8, 0, 0), "is packed"],
    ["a 7z archive with another name", Uint8Array.of(0x37, 0x7a, 0xbc, 0xaf, 0x27, 0x1c, 0), "is packed"],
    ["a bzip2 file with another name", Uint8Array.of(0x42, 0x5a, 0x68, 0x39, 0x31), "is packed"],
    ["an xz file with another name", Uint8Array.of(0xfd, 0x37, 0x7a, 0x58, 0x5a, 0, 0), "is packed"],
    ["bytes that are no text", Uint8Array.from({ length: 600 }, (_, i) => (i * 37) % 251), "that nobody writes"],
    ["a packed part cut off", byHand("<row/>").slice(0, 60), "can't be unpacked"],
  ])("refuses %s with the reason", async (_, bytes, reason) => {
    const plant = await sheetPlant();
    const file = sheetFile(plant, "bad.xlsx", bytes);
    const reply = await plant.call("sheet.read", { file });
    if (reply.ok) throw new Error("was read");
    expect(reply.error.problems[0]?.reason).toContain(reason);
  });

  it("refuses a part that unpacks beyond measure, and unpacks none of it", async () => {
    const plant = await sheetPlant();
    const bomb = zipSync({ "xl/workbook.xml": new Uint8Array(300 * 1024 * 1024) }, { level: 1 });
    expect(bomb.length).toBeLessThan(5_000_000);
    const reply = await plant.call("sheet.read", { file: sheetFile(plant, "bomb.xlsx", bomb) });
    expect(reply).toMatchObject({ error: { code: "file", problems: [{ file: "bomb.xlsx" }] } });
  });
});
