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
  await plant.run("panel.enter", { tag: "A", space: "LIB/101", ports: [{ numbers: "1..6", connector: "lc_duplex" }] });
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

describe("each other paper", () => {
  it.each([
    [["holecard", "MH-03"], "Hole card MH-03"],
    [["face", "LIB/101/A"], "Panel face LIB/101/A"],
    [["cablesheet", "F-014"], "Cable F-014"],
    [["trace", "F-014:17"], "Trace of F-014:17"],
    [["feeds", "SCI"], "What feeds SCI"],
    [["check"], "Consistency report"],
  ])("has a command, by itself or with the question it answers: %j", async ([command = "", ...of], title) => {
    const out = join(newFolder(), "paper.pdf");
    const { code, out: said } = await cli([command, file, ...of, "--out", out, "--paper", "letter"]);
    expect([code, said]).toEqual([0, expect.stringContaining(`Wrote ${out}: `)]);
    const { info, pages } = await readPdf(readFileSync(out));
    expect(info.Title).toBe(title);
    expect([pages[0]?.width, pages[0]?.height].toSorted((a, b) => Number(a) - Number(b))).toEqual([612, 792]);
  });

  it("says what is missing where no file is named, and what isn't on record", async () => {
    expect(await cli(["face", file, "LIB/101/A"])).toMatchObject({
      code: 2,
      notes: expect.stringContaining("--out is missing: it names the PDF to write."),
    });
    const out = join(newFolder(), "paper.pdf");
    expect(await cli(["holecard", file, "MH-99", "--out", out])).toMatchObject({
      code: 1,
      notes: expect.stringContaining("MH-99"),
    });
  });
});
