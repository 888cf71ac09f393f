/** `strandbook labels`: listed, written to a PDF that another reader (pdf.js) reads back, and recorded as printed. */
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { beforeEach, describe, expect, it } from "vitest";
import { readLabels } from "../labels/read-labels.ts";
import { street } from "../labels/street.ts";
import { newFolder } from "../support/plant.ts";
import { cli } from "./support.ts";

let file = "";
let out = "";
beforeEach(async () => {
  const plant = await street();
  await plant.close();
  file = plant.path;
  out = join(newFolder(), "labels.pdf");
});

describe("labels without a file to write", () => {
  it("are listed with what stands on each and why it is to be made", async () => {
    const { code, out: said } = await cli(["labels", file, "F-014"]);
    expect(code).toBe(0);
    expect(said).toContain("F-014 / 48 strands / LIB/101 to SCI/B01");
    expect(said).toContain("none is on record");
    expect(said).toContain("3 labels, 3 to be made.");
  });

  it("can be told the sheets that there are", async () => {
    const { out: said } = await cli(["labels", file, "--sheets"]);
    expect(said).toContain("67 x 25, 3 by 10");
    expect(said).toContain("66.68 × 25.4");
  });
});

describe("labels written to a PDF", () => {
  it("lie where they were asked to, and the file is told", async () => {
    const { code, out: said } = await cli(["labels", file, "--of", "F-014", "--start", "16", "--out", out]);
    expect([code, said]).toEqual([0, `Wrote ${out}: 3 labels on 2 pages. Print it at actual size.\n`]);
    const pages = await readLabels(readFileSync(out));
    expect(pages.map(({ texts }) => texts.filter(({ text }) => text === "F-014").length)).toEqual([1, 2]);
  });

  it("are recorded as printed in one change where asked for", async () => {
    const { code } = await cli(["labels", file, "F-014", "--out", out, "--record", "--author", "R. Clerk"]);
    expect(code).toBe(0);
    const { json } = await cli(["labels", file, "F-014", "--json"]);
    expect(json<{ needed: number }>().needed).toBe(0);
    const history = await cli(["history", file]);
    expect(history.out).toContain("Print 3 labels on F-014");
  });

  it("move as the printer needs it", async () => {
    await cli(["labels", file, "F-014", "--out", out]);
    const moved = join(newFolder(), "moved.pdf");
    await cli(["labels", file, "F-014", "--out", moved, "--shift-right", "1.5", "--shift-down", "-0.5"]);
    const [[a], [b]] = [await readLabels(readFileSync(out)), await readLabels(readFileSync(moved))];
    expect((b?.texts[0]?.x_mm ?? 0) - (a?.texts[0]?.x_mm ?? 0)).toBeCloseTo(1.5, 2);
    expect((b?.texts[0]?.y_mm ?? 0) - (a?.texts[0]?.y_mm ?? 0)).toBeCloseTo(-0.5, 2);
  });

  it("have a test page of outlines", async () => {
    const { out: said } = await cli(["labels", file, "--outline", "--out", out]);
    expect(said).toContain("a test page on 1 page");
    // 2 by 8 labels and the two rules to be measured, on A4; on Letter the usual sheet has 2 by 10.
    const [a4] = await readLabels(readFileSync(out));
    expect([a4?.width_mm, a4?.outlined.length]).toEqual([expect.closeTo(210, 1), 18]);
    await cli(["labels", file, "--outline", "--out", out, "--paper", "letter", "--replace"]);
    const [letter] = await readLabels(readFileSync(out));
    expect([letter?.width_mm, letter?.outlined.length]).toEqual([expect.closeTo(215.9, 1), 22]);
  });
});

describe("labels that can't be", () => {
  it.each([
    [["F-999"], 1, "F-999"],
    [["F-014", "--sheet", "tape 9 mm"], 1, "its code needs"],
    [["F-014", "--sheet", "tape 9 mm"], 1, '--sheet "tape '],
    [["F-014", "--sheet", "nobody's"], 1, "nobody's"],
    [["F-014", "--start", "0"], 2, "--start"],
    [["F-014", "--only", "roof"], 2, "roof"],
    [["F-014", "--shift-right", "far"], 2, "--shift-right"],
  ])("are refused with their reason (%j), and nothing is written", async (words, code, reason) => {
    const said = await cli(["labels", file, ...words, "--out", out]);
    expect(said.code).toBe(code);
    expect(said.notes).toContain(reason);
    expect(existsSync(out)).toBe(false);
  });

  it("are not recorded without being printed", async () => {
    const said = await cli(["labels", file, "F-014", "--record"]);
    expect([said.code, said.notes]).toEqual([2, expect.stringContaining("--record belongs to --out.")]);
  });
});
