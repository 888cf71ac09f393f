import { readFileSync } from "node:fs";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { shielded, unshielded } from "../../core/exchange/cells.ts";
import { records, written } from "../../core/exchange/csv.ts";
import { Refusal } from "../../core/result.ts";
import { Gateway } from "../../core/store/gateway.ts";
import { machineClock } from "../../host/clock.ts";
import { utf8 } from "../../host/utf8.ts";
import { newPlant } from "../support/plant.ts";
import { writeDirtyPlant } from "./dirty-plant.ts";
import { exported, filesOf } from "./support.ts";

async function* inPieces(text: string, size: number): AsyncIterable<string> {
  for (let from = 0; from < text.length; from += size) yield text.slice(from, from + size);
}

async function read(text: string, size = Number.POSITIVE_INFINITY): Promise<string[][]> {
  const all: string[][] = [];
  for await (const lot of records("x.csv", inPieces(text, size))) for (const { cells } of lot) all.push([...cells]);
  return all;
}

async function refused(text: string): Promise<string> {
  try {
    await read(text);
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const [problem] = error.failure.problems;
    return `${problem?.file} ${problem?.row} ${problem?.reason}`;
  }
  throw new Error("was read");
}

/** The examples of RFC 4180 (October 2005), section 2, with its own names. */
describe("RFC 4180", () => {
  it.each([
    ["1: each record on a line of its own", "aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n"],
    ["2: the last line break may be missing", "aaa,bbb,ccc\r\nzzz,yyy,xxx"],
    ["5: cells may be quoted", '"aaa","bbb","ccc"\r\nzzz,yyy,xxx'],
  ])("%s", async (_, text) => {
    expect(await read(text)).toEqual([
      ["aaa", "bbb", "ccc"],
      ["zzz", "yyy", "xxx"],
    ]);
  });
  it("4: spaces are part of a cell", async () => {
    expect(await read(" aaa,bbb , ccc \r\n")).toEqual([[" aaa", "bbb ", " ccc "]]);
  });
  it("6: line breaks and commas in quoted cells", async () => {
    expect(await read('"aaa","b\r\nb,b","ccc"\r\nzzz,yyy,xxx')).toEqual([
      ["aaa", "b\r\nb,b", "ccc"],
      ["zzz", "yyy", "xxx"],
    ]);
  });
  it("7: a quote in a quoted cell is doubled", async () => {
    expect(await read('"aaa","b""bb","ccc"')).toEqual([["aaa", 'b"bb', "ccc"]]);
  });
  it("is how rows are written", () => {
    expect(
      written([
        ["aaa", 'b"bb', "c,c"],
        ["", " x", "y\nz"],
      ]),
    ).toBe('aaa,"b""bb","c,c"\r\n," x","y\nz"\r\n');
  });
});

describe("CSV as it comes", () => {
  it("may end its lines with LF, or now so and now so, and have blank lines", async () => {
    expect(await read('a,b\n1,"x"\r\n\r\n2,"y"\n\n')).toEqual([
      ["a", "b"],
      ["1", "x"],
      ["2", "y"],
    ]);
  });
  it("names the row in which a quote is missing or not doubled", async () => {
    expect(await refused('a,b\r\n1,x\r\n2,"y\r\n3,z\r\n')).toMatch(/^x\.csv 3 begins a quoted cell that never ends/);
    expect(await refused('a,b\r\n1,x\r\n2,"y"y",\r\n')).toMatch(/^x\.csv 3 has a quote inside/);
  });
  it("is cut into pieces anywhere and read alike, whatever is in it and however long its cells are", async () => {
    const cell = fc.oneof(
      fc.string({ unit: fc.constantFrom('"', ",", "\n", "x", "é", "\u{1f300}"), maxLength: 8 }),
      // Longer than what is read at a time.
      fc.constantFrom("long,\n".repeat(30_000), "l".repeat(70_000), '"'.repeat(66_000)),
    );
    const rows = fc.array(fc.array(cell, { minLength: 3, maxLength: 3 }), { minLength: 1, maxLength: 40 });
    await fc.assert(
      fc.asyncProperty(rows, fc.integer({ min: 5_000, max: 300_000 }), async (table, size) => {
        expect(await read(written(table), size)).toEqual(table);
      }),
      { numRuns: 60, seed: 4180 },
    );
  });
});

describe("what is exported", () => {
  it("is read by another library to the same cells", async () => {
    const plant = await newPlant();
    await writeDirtyPlant(new Gateway(plant.store, machineClock), 11, 12);
    const folder = await exported(plant);
    const names = Object.keys(filesOf(folder)).filter((name) => name.endsWith(".csv"));
    expect(names.length).toBeGreaterThan(30);
    for (const name of names) {
      const bytes = readFileSync(join(folder, name));
      // csv-parse 7, strict: every record as long as the heading, RFC 4180 quoting.
      const theirs = parse(bytes, { record_delimiter: "\r\n" });
      expect(await read(bytes.toString("utf8")), name).toEqual(theirs);
    }
  });
});

describe("the shield against spreadsheets", () => {
  // OWASP, CSV Injection: =, +, -, @, tab and carriage return begin what is run.
  it.each(["=1+1", "+cmd|x", "-A1", "@SUM(A1)", "\tx", "\rx"])("is put before %j", (cell) => {
    expect(shielded(cell)).toBe(`'${cell}`);
  });
  it.each(["-12.5", "+4", "1e-3", "plain", "", "'quoted'"])("leaves %j alone", (cell) => {
    expect(shielded(cell)).toBe(cell);
  });
  it("is taken off again exactly, whatever the cell", () => {
    const cell = fc.string({ unit: fc.constantFrom("'", "=", "-", "1", "x", "@", "\t") });
    fc.assert(
      fc.property(cell, (text) => unshielded(shielded(text)) === text),
      { numRuns: 3000, seed: 7 },
    );
  });
});

describe("text of a file", () => {
  async function* bytes(...pieces: readonly (string | readonly number[])[]): AsyncIterable<Uint8Array> {
    for (const piece of pieces) yield typeof piece === "string" ? Buffer.from(piece) : Uint8Array.from(piece);
  }
  async function decoded(...pieces: readonly (string | readonly number[])[]): Promise<string> {
    let text = "";
    for await (const piece of utf8("x.csv", bytes(...pieces))) text += piece;
    return text;
  }
  it("may begin with a byte order mark, and characters may be cut apart", async () => {
    expect(await decoded([0xef, 0xbb, 0xbf, 0x61], [0xf0, 0x9f], [0x8c, 0x80])).toBe("a\u{1f300}");
  });
  it.each([
    ["UTF-16 with a mark", [[0xff, 0xfe, 0x61, 0]], /UTF-16/],
    ["UTF-16 without one", [[...Buffer.from("tag,name\r\n", "utf16le")]], /UTF-16/],
    ["UTF-16, the high byte first", [[...Buffer.from("tag,name\r\n", "utf16le").swap16()]], /UTF-16/],
    ["Windows-1252", ["Gar", [0xe7], "on"], /Windows-1252/],
    ["zero bytes", ["a,b\r\n1,2\0\r\n"], /is not a text file/],
    ["a character cut off at the end", ["a", [0xe6, 0xbc]], /cut off/],
  ] as const)("in %s is refused in words", async (_, pieces, words) => {
    await expect(decoded(...pieces)).rejects.toThrow(words);
  });
});
