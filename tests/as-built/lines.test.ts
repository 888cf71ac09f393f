/** Cells of several lines: kept where a record keeps lines of text, told where they are read as one. */
import { strToU8, zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import type { TestPlant } from "../support/plant.ts";
import { fates, lines, rehearsed, sheetFile, sheetPlant } from "./plant.ts";

const PARTS = {
  "xl/workbook.xml": strToU8('<workbook><sheets><sheet name="S" sheetId="1" r:id="r1"/></sheets></workbook>'),
  "xl/_rels/workbook.xml.rels": strToU8(
    '<Relationships><Relationship Id="r1" Target="worksheets/a.xml"/></Relationships>',
  ),
};
const cell = (at: string, value: string): string => `<c r="${at}" t="str"><v>${value}</v></c>`;

const notesOf = async (plant: TestPlant, strand: string): Promise<string | null | undefined> => {
  const rows = (await plant.run("record.window", { kind: "splice", limit: 50 })) as {
    rows: readonly { values: { notes: string | null; a_section_id: unknown } }[];
  };
  return rows.rows.map(({ values }) => values.notes).find((notes) => notes?.includes(strand));
};

describe("a cell of several lines", () => {
  it("keeps them in notes, out of a quoted cell of CSV (RFC 4180, 2.6)", async () => {
    const plant = await sheetPlant();
    const text = lines(
      "tray,position,cable a strand,cable b strand,notes",
      'MH-03/CL-1/T1,1,F-014 1,F-021 1,"1st: sleeve cracked,\r\n  made again  \r\n\r\nsecond is good"',
    );
    expect(fates(await rehearsed(plant, { text }))).toEqual(["new"]);
    await plant.run("sheet.apply", { text });
    expect(await notesOf(plant, "1st")).toBe("1st: sleeve cracked,\nmade again\n\nsecond is good");
  });

  it("keeps them in notes, out of a workbook's cell", async () => {
    const plant = await sheetPlant();
    const head = ["tray", "position", "cable a strand", "cable b strand", "notes"];
    const row = ["MH-03/CL-1/T1", "2", "F-014 2", "F-021 2", "upper&#10;lower_x000D_"];
    const written = (cells: string[], at: number): string =>
      `<row r="${at}">${cells.map((value, i) => cell(`${"ABCDE"[i]}${at}`, value)).join("")}</row>`;
    const xml = `<worksheet><sheetData>${written(head, 1)}${written(row, 2)}</sheetData></worksheet>`;
    const book = zipSync({ ...PARTS, "xl/worksheets/a.xml": strToU8(xml) });
    await plant.run("sheet.apply", { file: sheetFile(plant, "a.xlsx", book) });
    expect(await notesOf(plant, "upper")).toBe("upper\nlower");
  });

  it("is told where the field takes one line, and read as one", async () => {
    const plant = await sheetPlant();
    const text = lines("strand,status,why", 'F-014:1,dead,"cut by\na digger"');
    const [row] = (await rehearsed(plant, { text })).rows;
    expect(row).toMatchObject({ fate: "changed", notices: ["why stands on several lines and is read as one."] });
  });

  it("is nothing to tell where the line only ends the cell", async () => {
    const plant = await sheetPlant();
    const [row] = (await rehearsed(plant, { text: lines("strand,status,why", 'F-014:1,"dead\n",cut') })).rows;
    expect(row).toMatchObject({ fate: "changed", notices: [] });
  });
});
