/** Splice sheets of a packet on paper: what is spliced unit by unit takes a row a unit. */
import { describe, expect, it } from "vitest";
import type { Packet } from "../../core/jobs/packet.ts";
import { packetDocument } from "../../core/jobs/packet-document.ts";
import type { SheetEnd } from "../../core/jobs/splice-sheet.ts";
import type { Block, TableBlock } from "../../core/paper/document.ts";
import { packet, planned } from "./packets.ts";

const blocksOf = (told: Packet): readonly Block[] => packetDocument(told, null, null).blocks;
const tablesOf = (blocks: readonly Block[]): TableBlock[] =>
  blocks.flatMap((block) => (block.is === "table" && block.caption?.startsWith("Splices in") ? [block] : []));
const written = (row: readonly unknown[]): number =>
  row.filter((cell) => JSON.stringify(cell) === '{"write":true}').length;

describe("splice sheets of a packet", () => {
  it("give a unit a row, with a box for the loss of each strand under its colour, and say in which boxes a circuit runs", async () => {
    const blocks = blocksOf(await packet(await planned()));
    const [table, ...others] = tablesOf(blocks);
    expect(others).toEqual([]);
    expect(table?.columns.map(({ head }) => head).slice(3, 6)).toEqual(["1\nBL", "2\nOR", "3\nGR"]);
    expect(table?.rows.map((row) => [row[2], written(row)])).toEqual([
      [["F-050:13-24, tube 2 orange, to itself", "carries K-7 (1-2)"], 12],
      [["F-050:1-12, tube 1 blue, to itself"], 12],
    ]);
    // TIA-598, from memory: the codes above mean these.
    const order = "1 blue BL, 2 orange OR, 3 green GR, 4 brown BR, 5 slate SL, 6 white WH";
    expect(blocks.filter((block) => block.is === "paragraph" && block.text.includes(order))).toHaveLength(1);
  });

  it("put a strand of half a unit under its own place there", async () => {
    const told = await packet(await planned());
    const half = told.sheets.map((sheet) => ({ ...sheet, rows: sheet.rows.slice(6, 9) }));
    const [row] = tablesOf(blocksOf({ ...told, sheets: half })).flatMap(({ rows }) => rows);
    expect(
      row
        ?.slice(3)
        .map((cell) => JSON.stringify(cell) === '{"write":true}')
        .flatMap((is, box) => (is ? box + 1 : [])),
    ).toEqual([7, 8, 9]);
  });

  it("give a strand a row with the colours of both sides where it meets another place or colour", async () => {
    const told = await packet(await planned());
    const turned = (end: SheetEnd): SheetEnd => ({ ...end, colour: "pink", colours: "tube 1 blue, strand 1 pink" });
    const sheets = told.sheets.map((sheet) => ({
      ...sheet,
      rows: sheet.rows.map((row) => ({ ...row, to: turned(row.to) })),
    }));
    const [table] = tablesOf(blocksOf({ ...told, sheets }));
    expect(table?.rows).toHaveLength(24);
    expect(table?.rows[0]?.slice(2, 6)).toEqual([
      "F-050:13",
      "tube 2 orange, strand 1 blue",
      "F-050:13",
      "tube 1 blue, strand 1 pink",
    ]);
  });

  it("of one place follow one another, for who works there takes them along; those of the next begin a page", async () => {
    const told = await packet(await planned());
    const [sheet] = told.sheets;
    if (!sheet?.place) throw new Error("a mend has a splice sheet");
    const other = { ...sheet.place, id: 0, tag: "H-1" };
    const sheets = [sheet, { ...sheet, case: "H-1/CL-2", place: other }, { ...sheet, case: "H-9/CL-3" }];
    const order = blocksOf({ ...told, sheets }).flatMap((block) =>
      block.is === "page"
        ? ["page"]
        : block.is === "heading" && block.text.startsWith("Splice sheet")
          ? [block.text]
          : [],
    );
    expect(order).toEqual(["page", "Splice sheet H-9/CL-1", "Splice sheet H-9/CL-3", "page", "Splice sheet H-1/CL-2"]);
  });
});
