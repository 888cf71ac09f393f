/**
 * What the W3C says of reading CSV: "Model for Tabular Data and Metadata on the Web", Recommendation of 17 December 2015,
 * section 8 (Parsing Tabular Data), and the dialect of "Metadata Vocabulary for Tabular Data", section 5.9, the steps from
 * memory, in cases of our own. Its public test suite is about metadata and conversion; what it has of reading is below.
 * Where our reader departs from the section it says so, and why.
 */
import { describe, expect, it } from "vitest";
import { delimiterOf } from "../../core/as-built/csv-table.ts";
import { type ReadSource, readSource, type Source } from "../../core/as-built/source.ts";
import type { Refusal } from "../../core/result.ts";
import { folders } from "../../host/folders.ts";

const read = (source: Source): Promise<ReadSource> => readSource(folders, source);
const rowsOf = async (source: Source) => (await read(source)).tables[0]?.rows.map(({ cells }) => [...cells]) ?? [];
const numbered = async (text: string) =>
  (await read({ text })).tables[0]?.rows.map(({ row, cells }) => [row, ...cells]);
const bytes = (content: Buffer): Source => ({ content: content.toString("base64"), name: "x.csv" });

const TREES = [
  ["GID", "On Street", "Species", "Trim Cycle"],
  ["1", "Addison Av", "Celtis australis", "Large Tree Routine Prune"],
  ["2", "Emerson St", "Liquidambar, styraciflua", 'called "gum"'],
];
const textOf = (mark: string, end: string): string =>
  TREES.map((row) => row.map((cell) => `"${cell.replaceAll('"', '""')}"`).join(mark)).join(end);

describe("the dialect", () => {
  it.each([",", ";", "\t", "|"])("delimiter: %j is found out, and may be told", async (mark) => {
    const text = textOf(mark, "\r\n");
    expect(delimiterOf(text)).toBe(mark);
    expect(await rowsOf({ text })).toEqual(TREES);
    expect(await rowsOf({ text, delimiter: mark as "," })).toEqual(TREES);
  });

  it.each([
    ["CR LF", "\r\n"],
    ["LF", "\n"],
  ])("lineTerminators: rows end with %s, the last one or not", async (_, end) => {
    expect(await rowsOf({ text: textOf(",", end) })).toEqual(TREES);
    expect(await rowsOf({ text: textOf(",", end) + end })).toEqual(TREES);
  });

  it.each([
    ["UTF-8, the default", Buffer.from("Größe,½\nµ,€\n", "utf8")],
    ["UTF-8 with a byte-order mark, which is no part of the first cell", Buffer.from("\ufeffGröße,½\nµ,€\n", "utf8")],
    ["UTF-16 with a byte-order mark", Buffer.from("\ufeffGröße,½\nµ,€\n", "utf16le")],
    ["UTF-16, most significant first", Buffer.from("\ufeffGröße,½\nµ,€\n", "utf16le").swap16()],
    ["windows-1252", Buffer.from([...Buffer.from("Größe,½\nµ,", "latin1"), 0x80, 0x0a])],
  ])("encoding: %s", async (_, content) => {
    expect(await rowsOf(bytes(content))).toEqual([
      ["Größe", "½"],
      ["µ", "€"],
    ]);
  });

  it("quoteChar and doubleQuote: a quoted cell holds marks, line ends of both kinds, and quotes twice", async () => {
    expect(await rowsOf({ text: 'a,"1,2\r\n3\n4",""""\n' })).toEqual([["a", "1,2\r\n3\n4", '"']]);
    expect(await rowsOf({ text: 'a,"",b\n' })).toEqual([["a", "", "b"]]);
  });

  it("quoteChar: a cell that never ends, or goes on behind its quote, is an error that names its row", async () => {
    const reasonOf = (text: string) =>
      read({ text, name: "x.csv" }).then(
        () => null,
        (error: unknown) => (error as Refusal).failure.problems[0],
      );
    expect(await reasonOf('a,b\n1,"2\n3')).toMatchObject({ file: "x.csv", row: 2, reason: /never ends/ });
    expect(await reasonOf('a,b\n1,"2"3"\n')).toMatchObject({ file: "x.csv", row: 2, reason: /isn't doubled/ });
  });

  it("trim: cells are kept as they stand; who reads a tag in them leaves blanks at its ends aside", async () => {
    expect(await rowsOf({ text: " a , b\n 1 ,2 \n" })).toEqual([
      [" a ", " b"],
      [" 1 ", "2 "],
    ]);
  });

  it("skipBlankRows: rows of nothing are left out, and each other one keeps its number in the file", async () => {
    expect(await numbered("a,b\n\n1,2\n,\n3,4\n")).toEqual([
      [1, "a", "b"],
      [3, "1", "2"],
      [5, "3", "4"],
    ]);
  });

  it("a row may have fewer cells than the heading, or more: they are all there to be told", async () => {
    expect(await rowsOf({ text: "a,b,c\n1\n1,2,3,4\n" })).toEqual([["a", "b", "c"], ["1"], ["1", "2", "3", "4"]]);
  });

  it("a decimal in a quoted cell is one cell, as the suite's numbers with a comma for a point are", async () => {
    const text = 'integer,decimal,double,decimal1\n0,0.1,0.0e0,"10_000,1"\n10,10.1,10.10e1,"1,1"\n';
    expect((await rowsOf({ text }))[1]).toEqual(["0", "0.1", "0.0e0", "10_000,1"]);
  });
});

describe("where our reader departs from the section", () => {
  it("a quote inside a cell that isn't quoted stands for itself: crews write inches so", async () => {
    expect(await rowsOf({ text: 'duct,size\nDB-2,4" pipe\n' })).toEqual([
      ["duct", "size"],
      ["DB-2", '4" pipe'],
    ]);
  });

  it("commentPrefix: a line that begins with # is a row like others, since # heads columns of numbers", async () => {
    expect(await rowsOf({ text: "# north side\n#,cable\n1,F-012\n" })).toEqual([
      ["# north side"],
      ["#", "cable"],
      ["1", "F-012"],
    ]);
  });
});
