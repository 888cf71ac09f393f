/**
 * CSV that other programs wrote and other readers are held to: the open corpus `csv-spectrum` (2.0.0), a file a trap, each
 * with the rows that everybody agrees it holds. Read as a sheet is read, from the file's bytes, its mark found out.
 */
import { readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { basename, dirname, join } from "node:path";
import { describe, expect, it } from "vitest";
import { readSource } from "../../core/as-built/source.ts";
import { written } from "../../core/exchange/csv.ts";
import { folders } from "../../host/folders.ts";

const corpus = dirname(createRequire(import.meta.url).resolve("csv-spectrum/package.json"));
/** What it tells of this one is another row than the file holds. */
const CONTRADICTS_ITSELF = "location_coordinates.csv";
const files = readdirSync(join(corpus, "csvs"))
  .filter((name) => name !== CONTRADICTS_ITSELF)
  .map((name) => join(corpus, "csvs", name));

/** Rows as the corpus tells them: an object a row, by the heading. */
const agreed = (file: string): Record<string, string>[] =>
  JSON.parse(readFileSync(join(corpus, "json", basename(file).replace(/csv$/, "json")), "utf8"));

async function asRead(source: Parameters<typeof readSource>[1]): Promise<Record<string, string>[]> {
  const { tables } = await readSource(folders, source);
  const [heading, ...rows] = tables[0]?.rows ?? [];
  return rows.map(({ cells }) =>
    Object.fromEntries((heading?.cells ?? []).map((name, column) => [name, cells[column] ?? ""])),
  );
}

describe("the corpus", () => {
  it("is there", () => expect(files.length).toBeGreaterThan(10));

  it.each(files.map((file) => [basename(file), file]))("%s is read as everybody agrees", async (_, file) => {
    expect(await asRead({ file })).toEqual(agreed(file));
  });

  it.each(files.map((file) => [basename(file), file]))(
    "%s, written by us, is read to the same rows",
    async (_, file) => {
      const rows = agreed(file);
      const heading = Object.keys(rows[0] ?? {});
      const text = written([heading, ...rows.map((row) => heading.map((name) => row[name] ?? ""))]);
      expect(await asRead({ text, delimiter: "," })).toEqual(rows);
    },
  );
});
