/** A table as a file: RFC 4180 (Common Format for CSV, sections 2.4 to 2.7), read back by the registry's csv-parse. */
import { parse } from "csv-parse/sync";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { shielded } from "../../core/exchange/cells.ts";
import { GRID_COLUMNS } from "../../renderer/grid/columns.ts";
import { type GridRow, RowSource } from "../../renderer/grid/row-source.ts";
import { csvOf, fileName, tableFile } from "../../renderer/grid/table-file.ts";

const cell = fc.string({
  unit: fc.constantFrom("a", '"', ",", "\n", " ", "=", "-", "+", "@", "'", "1", ".", "é", "\t"),
  maxLength: 6,
});

describe("rows as text", () => {
  it("come back cell for cell from another reader", () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(cell, cell, cell), { minLength: 1, maxLength: 5 }), (rows) => {
        const text = csvOf(rows, false);
        expect(parse(text, { relax_column_count: true, skip_empty_lines: false, record_delimiter: "\r\n" })).toEqual(
          rows,
        );
      }),
      { seed: 4, numRuns: 400 },
    );
  });

  it("shield for a spreadsheet exactly what a folder of tables shields", () => {
    fc.assert(
      fc.property(cell, (text) => {
        const [[read]] = parse(csvOf([[text, "x"]], true), { record_delimiter: "\r\n" }) as [[string]];
        expect(read).toBe(shielded(text));
      }),
      { seed: 6, numRuns: 600 },
    );
    expect(csvOf([["=1+1", "-0.03", "+3e5", "-x"]], true)).toBe('"\'=1+1",-0.03,+3e5,"\'-x"\r\n');
  });
});

describe("the file of a table", () => {
  const columns = GRID_COLUMNS.splice.filter(({ id }) => ["method", "loss_ab_db"].includes(id));
  const source = (total: number) => {
    const made = new RowSource(async (from, count) => ({
      total,
      rows: Array.from(
        { length: Math.max(0, Math.min(count, total - from)) },
        (_, at): GridRow => ({
          id: from + at + 1,
          rev: 1,
          address: "",
          values: { method: "fusion", loss_ab_db: (from + at) / 100 },
          shown: {},
        }),
      ),
    }));
    made.want(0, 1);
    return made;
  };
  const settled = () => new Promise((resolve) => setTimeout(resolve, 0));

  it("has a head with units and every row, in lots", async () => {
    const rows = source(12_001);
    await settled();
    const told: number[] = [];
    const file = await tableFile({
      source: rows,
      columns,
      lengths: "m",
      forSpreadsheet: true,
      onProgress: (done) => told.push(done),
      signal: new AbortController().signal,
    });
    const text = (await file?.text()) ?? "";
    const lines = text.split("\r\n");
    // The byte order mark by which spreadsheets know UTF-8 (common practice, no source).
    expect(new Uint8Array((await file?.arrayBuffer()) ?? []).slice(0, 3)).toEqual(new Uint8Array([0xef, 0xbb, 0xbf]));
    expect(lines).toHaveLength(12_003);
    expect(lines[1]?.split(",").toSorted()).toEqual(["0", "fusion"]);
    expect(lines[12_001]?.split(",").toSorted()).toEqual(["120", "fusion"]);
    expect(told).toEqual([5000, 10_000, 12_001]);
  });

  it("is nothing when it was stopped", async () => {
    const rows = source(12_001);
    await settled();
    const control = new AbortController();
    const wish = { source: rows, columns, lengths: "m", forSpreadsheet: false, signal: control.signal } as const;
    expect(await tableFile({ ...wish, onProgress: () => control.abort() })).toBeNull();
  });

  it("has a name that every file system takes", () => {
    expect(fileName('splices in MH-03/CL-3 where loss is > "0.1"')).toBe(
      "splices in MH-03-CL-3 where loss is - -0.1-.csv",
    );
  });
});
