/**
 * Files that mean no good, or were never sheets: each is refused with its reason, nothing changes, and the memory it takes
 * is bounded, measured in a process of its own.
 */
import { execFileSync } from "node:child_process";
import { closeSync, ftruncateSync, openSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { strToU8, zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { newFolder } from "../support/plant.ts";
import { count, fates, lines, rehearsed, sheetFile, sheetPlant } from "./plant.ts";

const CHILD = fileURLToPath(new URL("hostile-child.ts", import.meta.url));

interface Said {
  readonly code?: string;
  readonly rows?: number;
  readonly problems?: readonly { readonly reason: string }[];
  readonly megabytes: number;
}

function readApart(file: string): Said {
  const plant = join(newFolder(), "p.strandbook");
  const out = execFileSync(process.execPath, [CHILD, plant, file], { encoding: "utf8", maxBuffer: 1 << 24 });
  return JSON.parse(out.trim().split("\n").at(-1) ?? "{}");
}

const WORKBOOK = {
  "xl/workbook.xml": strToU8('<workbook><sheets><sheet name="S" sheetId="1" r:id="r1"/></sheets></workbook>'),
  "xl/_rels/workbook.xml.rels": strToU8(
    '<Relationships><Relationship Id="r1" Target="worksheets/a.xml"/></Relationships>',
  ),
};
const cell = (at: string, value: string): string => `<c r="${at}" t="str"><v>${value}</v></c>`;
const worksheet = (content: string): Uint8Array => strToU8(`<worksheet><sheetData>${content}</sheetData></worksheet>`);

/** The archive with another size claimed for one of its parts, in both places where a size stands. */
function claiming(zip: Uint8Array, part: string, size: number): Uint8Array {
  const bytes = Uint8Array.from(zip);
  const view = new DataView(bytes.buffer);
  const name = strToU8(part);
  const named = (at: number) => name.every((byte, i) => bytes[at + i] === byte);
  for (let at = 0; at + 4 < bytes.length; at++) {
    const signature = view.getUint32(at, true);
    // Local header and central directory (APPNOTE.TXT 4.3.7 and 4.3.12): uncompressed size, then the name.
    if (signature === 0x04034b50 && named(at + 30)) view.setUint32(at + 22, size, true);
    if (signature === 0x02014b50 && named(at + 46)) view.setUint32(at + 24, size, true);
  }
  return bytes;
}

describe("an archive that is no workbook, or more than one", () => {
  it("is refused where it is a text document", async () => {
    const plant = await sheetPlant();
    const document = zipSync({ "[Content_Types].xml": strToU8("<Types/>"), "word/document.xml": strToU8("<w/>") });
    const reply = await plant.call("sheet.read", { file: sheetFile(plant, "list.xlsx", document) });
    expect(reply).toMatchObject({ error: { code: "file", message: "list.xlsx is an archive, not a workbook." } });
  });

  it("is refused where it claims less than it holds, so that no row is lost in silence", async () => {
    const plant = await sheetPlant();
    const rows = Array.from({ length: 50 }, (_, i) => `<row r="${i + 2}">${cell(`A${i + 2}`, "LIB")}</row>`).join("");
    const parts = {
      ...WORKBOOK,
      "xl/worksheets/a.xml": worksheet(`<row r="1">${cell("A1", "label on")}</row>${rows}`),
    };
    const honest = zipSync(parts);
    expect((await plant.run<{ rows: number }>("sheet.read", { file: sheetFile(plant, "a.xlsx", honest) })).rows).toBe(
      50,
    );
    const liar = claiming(honest, "xl/worksheets/a.xml", 900);
    const reply = await plant.call("sheet.read", { file: sheetFile(plant, "b.xlsx", liar) });
    expect(reply).toMatchObject({
      error: {
        code: "file",
        problems: [{ record: "xl/worksheets/a.xml", reason: expect.stringContaining("cut off") }],
      },
    });
  });

  it("is refused within bounded memory where a small file would unpack to a gigabyte, whatever it claims", {
    timeout: 480_000,
  }, () => {
    const folder = newFolder();
    // One part of 64 MB that is told as 1 kB, and sixteen of 64 MB in all.
    const zeros = new Uint8Array(64 * 1024 * 1024).fill(0x20);
    const one = zipSync({ ...WORKBOOK, "xl/worksheets/a.xml": zeros }, { level: 6 });
    const small = readApart(sheetFile({ folder } as never, "liar.xlsx", claiming(one, "xl/worksheets/a.xml", 1000)));
    expect(small.megabytes).toBeLessThan(200);
    const many = Object.fromEntries(Array.from({ length: 16 }, (_, i) => [`xl/worksheets/${i}.xml`, zeros]));
    const bomb = zipSync({ ...WORKBOOK, ...many }, { level: 1 });
    expect(bomb.length).toBeLessThan(8_000_000);
    const said = readApart(sheetFile({ folder } as never, "bomb.xlsx", bomb));
    expect(said.code).toBe("file");
    expect(said.problems?.[0]?.reason).toContain("at most 268 are read");
    expect(said.megabytes).toBeLessThan(450);
  });

  it("is read where it holds macros, which are told and never run", async () => {
    const plant = await sheetPlant();
    const sheet = `<row r="1">${cell("A1", "label on")}${cell("B1", "text")}</row><row r="2">${cell("A2", "LIB")}${cell("B2", "x")}</row>`;
    const book = zipSync({
      ...WORKBOOK,
      "xl/worksheets/a.xml": worksheet(sheet),
      "xl/vbaProject.bin": Uint8Array.of(1, 2, 3),
    });
    const read = await plant.run<{ rows: number; notices: string[] }>("sheet.read", {
      file: sheetFile(plant, "macros.xlsm", book),
    });
    const notices = ["The workbook holds macros; they are not run."];
    expect(read).toMatchObject({ rows: 1, notices });
    // What says the fate of each row says so as well.
    expect(await plant.run("sheet.rehearse", { file: join(plant.folder, "macros.xlsm") })).toMatchObject({ notices });
  });
});

describe("a sheet of absurd size", () => {
  it("is refused with 16,384 columns, naming the row", async () => {
    const plant = await sheetPlant();
    const text = ["strand,status", Array.from({ length: 16_384 }, () => "x").join(",")].join("\n");
    const reply = await plant.call("sheet.read", { text });
    expect(reply).toMatchObject({
      error: { code: "bad_input", problems: [{ row: 2, reason: expect.stringContaining("16384") }] },
    });
  });

  it("is read where a million rows of it are blank, each row with its own number", () => {
    const folder = newFolder();
    const text = `strand,status${"\n,".repeat(500_000)}${"\n".repeat(500_000)}\nF-014:1,dead`;
    const said = readApart(sheetFile({ folder } as never, "blank.csv", text));
    expect(said.rows).toBe(1);
    expect(said.megabytes).toBeLessThan(300);
  });

  it("is refused at 2 GB before a byte of it is read", () => {
    const path = join(newFolder(), "huge.csv");
    const file = openSync(path, "w");
    ftruncateSync(file, 2 * 1024 ** 3);
    closeSync(file);
    const said = readApart(path);
    expect(said).toMatchObject({ code: "file", problems: [{ reason: expect.stringContaining("at most 64") }] });
    expect(said.megabytes).toBeLessThan(50);
  });
});

describe("names that are formulas", () => {
  it.each(['=HYPERLINK("http://example.org","F-900")', "=A1", "=1+1", "=cmd|' /C calc'!A0", "=F-9", "=FOO", "= x"])(
    "%s is refused as one, and no cable is called so",
    async (name) => {
      const plant = await sheetPlant();
      const before = await count(plant, "cable");
      const quoted = `"${name.replaceAll('"', '""')}"`;
      const text = lines("cable,from,to,strands,per tube", `${quoted},LIB/101,MH-03,12,12`);
      const rehearsal = await rehearsed(plant, { text });
      expect(fates(rehearsal)).toEqual(["refused"]);
      expect(rehearsal.rows[0]?.problems[0]).toMatchObject({
        ...{ row: 2, field: "cable", record: name, reason: expect.stringContaining("is a formula") },
      });
      expect((await plant.call("sheet.apply", { text })).ok).toBe(false);
      expect(await count(plant, "cable")).toBe(before);
    },
  );

  it.each(["+cmd|calc", "@SUM(1)", "-F9+1", "+F-9"])("%s begins as one, and no cable is called so", async (name) => {
    const plant = await sheetPlant();
    const before = await count(plant, "cable");
    const text = lines("cable,from,to,strands,per tube", `${name},LIB/101,MH-03,12,12`);
    const [row] = (await rehearsed(plant, { text })).rows;
    expect(row).toMatchObject({
      fate: "refused",
      problems: [
        {
          row: 2,
          field: "cable",
          record: name,
          reason: "begins as a formula: write an apostrophe before it if it is meant as a name",
        },
      ],
    });
    expect((await plant.call("sheet.apply", { text })).ok).toBe(false);
    expect(await count(plant, "cable")).toBe(before);
  });

  it.each(["-17", "+12", "- spare to the pool", "-", "'@gate"])("%s is a name, and no formula", async (name) => {
    const plant = await sheetPlant();
    const text = lines("cable,from,to,strands,per tube,name", `F-900,LIB/101,MH-03,12,12,${name}`);
    expect(fates(await rehearsed(plant, { text }))).toEqual(["new"]);
  });

  it("are remarks where +, - or @ begins a note", async () => {
    const plant = await sheetPlant();
    const text = lines("fiber,status,remarks", "F-014:1,dead,-3 dB more than last year", "F-014:2,dead,@night shift");
    expect(fates(await rehearsed(plant, { text }))).toEqual(["changed", "changed"]);
  });

  it("are remarks where they only begin with the sign", async () => {
    const plant = await sheetPlant();
    const text = lines("fiber,status,remarks", "F-014:1,dead,= as on the card");
    expect(fates(await rehearsed(plant, { text }))).toEqual(["changed"]);
  });
});

describe("two rows that claim one number", () => {
  it("are told: the second names the first, and neither is entered unless the valid one alone is chosen", async () => {
    const plant = await sheetPlant();
    const before = await count(plant, "cable");
    const text = lines("cable,from,to,strands,per tube", "F-900,LIB/101,MH-03,12,12", "F-900,MH-03,SCI/B01,24,12");
    const rehearsal = await rehearsed(plant, { text });
    expect(fates(rehearsal)).toEqual(["new", "refused"]);
    expect(rehearsal.rows[1]?.problems).toEqual([{ row: 3, record: "F-900", reason: "is claimed by row 2 already" }]);
    expect((await plant.call("sheet.apply", { text })).ok).toBe(false);
    expect(await count(plant, "cable")).toBe(before);
  });
  it("are told where the second spells it otherwise, so that nothing of the first is changed by it", async () => {
    const plant = await sheetPlant();
    const heading = "cable,from,to,strands,per tube,installed on";
    const text = lines(heading, "F-900,LIB/101,MH-03,12,12,1998-05-06", "f 900,LIB/101,MH-03,12,12,1999-05-06");
    const rehearsal = await rehearsed(plant, { text });
    expect(fates(rehearsal)).toEqual(["new", "refused"]);
    expect(rehearsal.rows[1]?.problems).toEqual([{ row: 3, record: "f 900", reason: "is claimed by row 2 already" }]);
  });
});
