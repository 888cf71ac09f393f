/**
 * Files that mean no good, or were never what they are called, dropped on the window: each is told for what it is, in its
 * own place on the page, nothing is written, and the window goes on to be used.
 */
import { closeSync, ftruncateSync, openSync } from "node:fs";
import { join } from "node:path";
import { strToU8, zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { newFolder, newPlant } from "../support/plant.ts";
import { newCampus } from "./support/campus.ts";
import { journeyOn } from "./support/journey.ts";
import { shown } from "./support/look.ts";
import { ask } from "./support/window.ts";

// What is refused is told by its status as well, and the window notes that.
const journey = journeyOn(newCampus, /400|404|409|422/);

const WORKBOOK = {
  "xl/workbook.xml": strToU8('<workbook><sheets><sheet name="S" sheetId="1" r:id="r1"/></sheets></workbook>'),
  "xl/_rels/workbook.xml.rels": strToU8(
    '<Relationships><Relationship Id="r1" Target="worksheets/a.xml"/></Relationships>',
  ),
};
const cell = (at: string, value: string): string => `<c r="${at}" t="str"><v>${value}</v></c>`;
const worksheet = (content: string): Uint8Array => strToU8(`<worksheet><sheetData>${content}</sheetData></worksheet>`);
const sheet = (...rows: readonly string[]): Uint8Array => strToU8(rows.join("\n"));

/** A small archive that says of a part that it unpacks to a gigabyte, as one does that would. */
function bomb(): Uint8Array {
  const part = "xl/worksheets/a.xml";
  const bytes = Buffer.from(zipSync({ ...WORKBOOK, [part]: strToU8(" ".repeat(1000)) }));
  // The last place that names the part is its entry in the central directory: 46 bytes before the name, of which 4 from
  // the 24th are the size (APPNOTE.TXT 4.3.12).
  bytes.writeUInt32LE(1_073_741_824, bytes.lastIndexOf(part) - 46 + 24);
  return bytes;
}

const lastChange = async (): Promise<number> => {
  const [row] = await journey.plant.store.read((reader) =>
    reader.rows<{ id: number }>("select max(id) as id from change_set"),
  );
  return row?.id ?? 0;
};

/** Dropped where a sheet is chosen, on a page that has read none yet. */
async function dropSheet(name: string, bytes: Uint8Array): Promise<void> {
  const { page } = journey;
  await ask(page, "#/sheet");
  // The sheet of the test before lies there still.
  const another = page.getByRole("button", { name: "Another sheet" });
  if ((await another.count()) > 0) await another.click();
  await page.reload();
  await page.locator(".sheet-source").waitFor();
  const data = await page.evaluateHandle(
    ({ name, content }) => {
      const transfer = new DataTransfer();
      const bytes = Uint8Array.from(atob(content), (letter) => letter.charCodeAt(0));
      transfer.items.add(new File([bytes], name));
      return transfer;
    },
    { name, content: Buffer.from(bytes).toString("base64") },
  );
  await page.dispatchEvent(".sheet-source", "drop", { dataTransfer: data });
}

describe("what is dropped as a sheet and is none", () => {
  it.each<readonly [name: string, make: () => Uint8Array, says: string]>([
    [
      "renamed.xlsx",
      () => zipSync({ "[Content_Types].xml": strToU8("<Types/>"), "word/document.xml": strToU8("<w/>") }),
      "renamed.xlsx is an archive, not a workbook.",
    ],
    ["bomb.xlsx", bomb, "unpacks to 1074 million bytes; at most 268 are read"],
    [
      "wide.csv",
      () => sheet("strand,status", Array.from({ length: 16_384 }, () => "x").join(",")),
      "has 16384 cells; at most 500 are read",
    ],
    [
      "picture.csv",
      () => Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13),
      "picture.csv is a picture",
    ],
    ["empty.csv", () => new Uint8Array(), "empty.csv holds nothing"],
  ])("%s is refused with its reason, and another can be chosen at once", async (name, make, says) => {
    const { page } = journey;
    const before = await lastChange();
    await dropSheet(name, make());
    await page.getByText(says).first().waitFor({ timeout: 60_000 });
    expect(await page.locator(".sheet-source").isVisible()).toBe(true);
    expect(await page.getByRole("button", { name: /^Take over/ }).count()).toBe(0);
    expect(await lastChange()).toBe(before);
  });

  it("of more bytes than are read is refused before it travels", async () => {
    const { page } = journey;
    const path = join(newFolder(), "huge.csv");
    const file = openSync(path, "w");
    ftruncateSync(file, 65 * 1024 * 1024);
    closeSync(file);
    await ask(page, "#/sheet");
    await page.reload();
    await page.locator(".sheet-source input[type=file]").setInputFiles(path);
    await page.getByText("huge.csv is too big for a sheet: at most 64 MB are read.").waitFor();
  });
});

describe("a sheet with something amiss in it", () => {
  it("is read where it holds macros, which are told and not run", async () => {
    const { page } = journey;
    const rows = [
      `<row r="1">${cell("A1", "label on")}${cell("B1", "text")}</row>`,
      `<row r="2">${cell("A2", "LIB")}${cell("B2", "x")}</row>`,
    ];
    const parts = { "xl/worksheets/a.xml": worksheet(rows.join("")), "xl/vbaProject.bin": Uint8Array.of(1, 2, 3) };
    await dropSheet("macros.xlsm", zipSync({ ...WORKBOOK, ...parts }));
    await page.getByText("The workbook holds macros; they are not run.").waitFor();
  });

  it("is read past a million blank rows, and the row that says something has its own number", async () => {
    const { page } = journey;
    const blank = `${"\n,".repeat(500_000)}${"\n".repeat(500_000)}`;
    await dropSheet("blank.csv", strToU8(`strand,status${blank}\nF-040:1,dead`));
    await page.getByText("blank.csv: 1 row: 0 new, 1 changed").waitFor({ timeout: 60_000 });
    expect(await shown(page.locator(".sheet-rows tbody"))).toContain("1 000 002");
    const over = await page.locator(".sheet-rows td.figure").evaluate((td) => td.scrollWidth - td.clientWidth);
    expect(over).toBeLessThanOrEqual(0);
  });

  it("has a name that is a formula refused in its row, and a second row of one tag in the second", async () => {
    const { page } = journey;
    const before = await lastChange();
    await dropSheet(
      "names.csv",
      sheet(
        "cable,from,to,strands,per tube",
        '"=HYPERLINK(""http://x"")",LIB/2A,MH-03,12,12',
        "=cmd|/C calc!A0,LIB/2A,MH-03,12,12",
        "F-950,LIB/2A,MH-03,12,12",
        "F-950,LIB/2A,HH-11,24,12",
      ),
    );
    await page.getByText("4 rows: 1 new, 0 changed, 0 same, 3 refused.").waitFor();
    const rows = page.locator(".sheet-rows tbody tr");
    for (const at of [0, 1])
      expect(await shown(rows.nth(at))).toContain(
        "is a formula and not what it came to: save the sheet with its values",
      );
    expect(await shown(rows.nth(2))).toContain("F-950 is claimed by row 4 already");
    // The row's number doesn't lie under the button that leaves the row out.
    const button = await rows.first().getByRole("button").boundingBox();
    const number = await rows.first().locator("td.figure").boundingBox();
    expect((button?.x ?? 0) + (button?.width ?? 0)).toBeLessThanOrEqual(number?.x ?? 0);
    expect(await page.getByRole("button", { name: "Take over 1 row" }).isDisabled()).toBe(true);
    expect(await lastChange()).toBe(before);
    await journey.looks();
  });
});

describe("a file to be merged that is of another plant", () => {
  it("is refused by what it is, and nothing is taken", async () => {
    const { page } = journey;
    const before = await lastChange();
    const other = await newPlant();
    await other.run("record.add", { kind: "building", values: { tag: "LIB", name: "Not this library" } });
    await other.close();
    await ask(page, "#/merge");
    await page.getByRole("textbox", { name: /path/ }).fill(other.path);
    await page.keyboard.press("Enter");
    await page
      .getByText("is the record of another plant: its history and this one's have no change in common")
      .waitFor();
    expect(await page.getByRole("button", { name: /^Take \d+ record/ }).count()).toBe(0);
    expect(await lastChange()).toBe(before);
  });
});
