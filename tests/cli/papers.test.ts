/** The papers by command: PDFs, and tables that come back. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { readPdf } from "../paper/read-pdf.ts";
import { casePlant, plain } from "../sheets/case-plant.ts";
import { newFolder } from "../support/plant.ts";
import { cli } from "./support.ts";

let file = "";
beforeAll(async () => {
  const plant = await casePlant();
  await plant.close();
  file = plant.path;
});

describe("a splice sheet", () => {
  it("is printed, and says where it is", async () => {
    const out = join(newFolder(), "sheet.pdf");
    const { code, out: said } = await cli(["splicesheet", file, "MH-03", "--out", out]);
    expect(code).toBe(0);
    const read = await readPdf(readFileSync(out));
    expect(said).toContain(`Wrote ${out}: ${read.pages.length} pages`);
    expect(plain(read.text)).toContain("F-014:37-48");
  });

  it("goes out as a table, comes back filled in by `sheet`, and then has nothing more to say", async () => {
    const csv = join(newFolder(), "sheet.csv");
    expect((await cli(["splicesheet", file, "MH-03/CL-1", "--csv", csv])).out).toBe(`Wrote ${csv}: 17 rows.\n`);
    const text = readFileSync(csv, "utf8");
    const [head, first = "", ...rest] = text.split("\r\n");
    writeFileSync(csv, [head, first.replace(/,,,,,,,,$/, ",,,0.05,,,,,"), ...rest].join("\r\n"));
    const { out: applied, notes } = await cli(["sheet", file, csv]);
    expect([applied, notes].join()).toContain("17 rows: 0 new, 1 changed, 16 same, 0 refused");
    const again = await cli(["splicesheet", file, "MH-03/CL-1"]);
    expect(again.out).toBe(readFileSync(csv, "utf8"));
  });

  it("is either printed or filled in, and never takes another file's place", async () => {
    const csv = join(newFolder(), "sheet.csv");
    expect((await cli(["splicesheet", file, "MH-03", "--csv", csv, "--out", "a.pdf"])).notes).toContain(
      "--out prints, --csv fills in: give one of them.",
    );
    writeFileSync(csv, "mine");
    const { code, notes } = await cli(["splicesheet", file, "MH-03", "--csv", csv]);
    expect([code, readFileSync(csv, "utf8")]).toEqual([1, "mine"]);
    expect(notes).toContain("sheet.csv");
  });
});
