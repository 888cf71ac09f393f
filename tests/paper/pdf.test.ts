/** A document written to PDF, read back with another reader (pdf.js). */
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { Block, Document } from "../../core/paper/document.ts";
import { codeOf } from "../../core/paper/document.ts";
import { pdfOf, writePdf } from "../../host/paper/pdf.ts";
import { readPdf } from "./read-pdf.ts";

const documentOf = (blocks: readonly Block[]): Document => ({
  paper: "document",
  title: {
    what: "Packet for job J-1",
    plant: "Beispielhof",
    made_on: "2026-04-05",
    revision: 7,
    who: "R. Añorga",
    code: codeOf("cable", "F-012"),
  },
  blocks,
});
const long: Block = {
  is: "table",
  caption: "Strands",
  columns: [{ head: "Strand" }, { head: "Colour", weight: 2 }, { head: "Loss, dB", numeric: true }, { head: "Done" }],
  rows: Array.from({ length: 120 }, (_, index) => [
    `F-012:${index + 1}`,
    { words: "blue with black stripe", fill: "#0057b8", stripe: "#111111" },
    index === 4 ? null : (index / 100).toFixed(2),
    { tick: false },
  ]),
};

describe("a table longer than a page", () => {
  it("goes on with its head on each page, and every row is there once", async () => {
    const { bytes, pages } = await pdfOf(documentOf([long]), "a4");
    const read = await readPdf(bytes);
    expect(read.pages.length).toBe(pages);
    expect(pages).toBeGreaterThan(2);
    for (const page of read.pages) expect(page.text).toContain("Loss, dB");
    const found = read.text.match(/F-012:\d+/g);
    expect(found).toEqual(long.is === "table" ? long.rows.map((row) => row[0]) : []);
  });
  it("says what is not known, never 0", async () => {
    const read = await readPdf((await pdfOf(documentOf([long]), "a4")).bytes);
    expect(read.text.match(/not known/g)?.length).toBe(1);
  });
  it("numbers its pages", async () => {
    const read = await readPdf((await pdfOf(documentOf([long]), "letter")).bytes);
    read.pages.forEach((page, index) => {
      expect(page.text).toContain(`page ${index + 1} of ${read.pages.length}`);
    });
  });
  it("splits only a row that is taller than a page, and loses nothing of it", async () => {
    const words = Array.from({ length: 900 }, (_, index) => `w${index}.`);
    const table: Block = {
      is: "table",
      caption: null,
      columns: [{ head: "A" }, { head: "B" }],
      rows: [[words.join(" "), "end"]],
    };
    const read = await readPdf((await pdfOf(documentOf([table]), "a4")).bytes);
    expect(read.text.match(/w\d+\./g)).toEqual(words);
    expect(read.pages.length).toBeGreaterThan(1);
  });
});

describe("text", () => {
  const typed = "Größe, Łódź, façade, Ελλάδα, Україна: A → B ± 0.5 m ≥ 3, “so” – µm";
  it("comes back as it was typed", async () => {
    const { bytes, missing } = await pdfOf(documentOf([{ is: "paragraph", text: typed }]), "a4");
    expect(missing).toEqual([]);
    // The font draws the micro sign and the Greek mu by one glyph, which comes back as either; NFKC makes them one.
    expect((await readPdf(bytes)).text.normalize("NFKC")).toContain(typed.normalize("NFKC"));
  });
  it("that the fonts lack stands by its code, and is told", async () => {
    const { bytes, missing } = await pdfOf(documentOf([{ is: "paragraph", text: "site 光 one" }]), "a4");
    expect(missing).toEqual(["光"]);
    const { text } = await readPdf(bytes);
    expect(text).toContain("site [U+5149] one");
    expect(text).toMatch(/lack a character.*U\+5149/);
  });
  it("stays within the margins, even a word wider than its cell", async () => {
    const wide = "X".repeat(400);
    const blocks: Block[] = [
      { is: "paragraph", text: wide },
      { is: "note", sign: "danger", text: wide },
      { is: "values", rows: [{ word: wide, value: wide }] },
      { is: "table", caption: null, columns: [{ head: wide }, { head: "n", numeric: true }], rows: [[wide, wide]] },
    ];
    const read = await readPdf((await pdfOf(documentOf(blocks), "a4")).bytes);
    for (const page of read.pages) {
      for (const piece of page.pieces) {
        expect(piece.left).toBeGreaterThanOrEqual(41);
        expect(piece.right).toBeLessThanOrEqual(page.width - 41);
        expect(piece.foot).toBeGreaterThan(20);
        expect(piece.foot).toBeLessThan(page.height - 41);
      }
    }
    // The paragraph, the note, two in the values, head, and two in the row.
    expect(read.text.match(/X/g)?.length).toBe(7 * 400);
  });
});

describe("the file itself", () => {
  it("is of the size asked for: A4 210 × 297 mm, Letter 8.5 × 11 in", async () => {
    const [a4] = (await readPdf((await pdfOf(documentOf([]), "a4")).bytes)).pages;
    const [letter] = (await readPdf((await pdfOf(documentOf([]), "letter")).bytes)).pages;
    expect([a4?.width, a4?.height].map((points) => Math.round(((points ?? 0) / 72) * 25.4))).toEqual([210, 297]);
    expect([letter?.width, letter?.height]).toEqual([8.5 * 72, 11 * 72]);
  });
  it("has the same bytes for the same document", async () => {
    const [one, two] = [await pdfOf(documentOf([long]), "a4"), await pdfOf(documentOf([long]), "a4")];
    expect(one.bytes.equals(two.bytes)).toBe(true);
  });
  it("names its title and its headings", async () => {
    const { bytes } = await pdfOf(documentOf([{ is: "heading", level: 1, text: "Owners" }]), "a4");
    const read = await readPdf(bytes);
    expect(read.info.Title).toBe("Packet for job J-1");
    expect(read.outline).toEqual(["Owners"]);
  });
  it("gets its name when it is whole, and never replaces another", async () => {
    const folder = mkdtempSync(join(tmpdir(), "paper-"));
    try {
      const path = join(folder, "packet.pdf");
      await writePdf(documentOf([]), "a4", path);
      expect(readFileSync(path).subarray(0, 5).toString()).toBe("%PDF-");
      writeFileSync(path, "mine");
      await expect(writePdf(documentOf([]), "a4", path)).rejects.toThrow("packet.pdf exists already");
      expect(readFileSync(path, "utf8")).toBe("mine");
      await expect(writePdf(documentOf([]), "a4", join(folder, "no", "a.pdf"))).rejects.toThrow("There is no folder");
      expect(existsSync(join(folder, "no"))).toBe(false);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});
