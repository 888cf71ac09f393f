/** Each kind of block as it stands on paper, read back with another reader (pdf.js). */
import { describe, expect, it } from "vitest";
import { type Block, codeOf, type Document } from "../../core/paper/document.ts";
import { pdfOf } from "../../host/paper/pdf.ts";
import { type ReadPdf, type ReadText, readPdf } from "./read-pdf.ts";

const documentOf = (blocks: readonly Block[]): Document => ({
  paper: "document",
  title: { what: "Sheet", plant: "Testhof", made_on: "2026-04-05", revision: 7, who: "R. Añorga", code: null },
  blocks,
});
const drawn = async (...blocks: Block[]): Promise<ReadPdf> => readPdf((await pdfOf(documentOf(blocks), "a4")).bytes);
function at(read: ReadPdf, text: string): ReadText {
  const found = read.pages.flatMap(({ pieces }) => pieces).find((piece) => piece.text.includes(text));
  if (!found) throw new Error(`${text} is not on the paper`);
  return found;
}
const plain = (text: string): string => text.replace(/\s+/g, " ");

describe("a title", () => {
  it("says what, which plant, when, which revision and by whom, and again in the foot of the page", async () => {
    const { text } = await drawn();
    expect(plain(text)).toContain("Testhof · made on 5 Apr 2026 · revision 7 of the record · by R. Añorga");
    expect(plain(text)).toContain("Sheet · Testhof · 5 Apr 2026 · revision 7");
  });
});

describe("a heading", () => {
  it("stands above what follows; the first level goes into the outline", async () => {
    const read = await drawn(
      { is: "heading", level: 1, text: "Situation" },
      { is: "heading", level: 2, text: "The hole" },
      { is: "paragraph", text: "Water in it." },
    );
    expect(read.outline).toEqual(["Situation"]);
    expect(at(read, "Situation").foot).toBeGreaterThan(at(read, "The hole").foot);
    expect(at(read, "The hole").foot).toBeGreaterThan(at(read, "Water in it.").foot);
  });
});

describe("an opening", () => {
  const drawing = {
    ...{ cable: "F-1", place: "H-2", window: "window 6 m", case: "CL-1", lateral: "L-7 to NEW/1" },
    ends: ["ALD/1", "ZED/1"],
    units: [
      { words: "tube 3 green GR: 26-29 cut", fill: "#1d9a4b", cut: true },
      { words: "3 units run on uncut", fill: null, cut: false },
    ],
    edges: ["mark 1321 m", "mark 1327 m"],
    ...{ cut_at: 1, cut_words: ["cut at the edge towards ZED/1"] },
  } as const;

  it("has its units beside the window, the case above it, and the marks of its edges below it", async () => {
    const read = await drawn({ is: "opening", drawing });
    const [unit, express] = [at(read, "tube 3 green"), at(read, "3 units run on")];
    expect(unit.foot).toBeGreaterThan(express.foot);
    expect(at(read, "CL-1").foot).toBeGreaterThan(unit.foot);
    const [from, to] = [at(read, "mark 1321"), at(read, "mark 1327")];
    expect(from.foot).toBeLessThan(express.foot);
    expect(from.right).toBeLessThan(to.left);
    expect(to.left).toBeLessThan(unit.left);
    for (const words of ["← ALD/1", "ZED/1 →", "window 6 m", "cut at the edge towards ZED/1", "L-7 to NEW/1"])
      expect(plain(read.text)).toContain(words);
  });
});

describe("a note", () => {
  it.each([
    ["danger", "DANGER"],
    ["caution", "Caution"],
    ["note", "Note"],
  ] as const)("of the sign %s carries its word", async (sign, word) => {
    const read = await drawn({ is: "note", sign, text: "Test the air." });
    expect(at(read, word).right).toBeLessThan(at(read, "Test the air.").left);
    expect(at(read, word).foot).toBeCloseTo(at(read, "Test the air.").foot, 1);
  });
});

describe("values", () => {
  it("stand in two columns where they are many and short, read down the first, then the second", async () => {
    const rows = Array.from({ length: 7 }, (_, index) => ({ word: `Word ${index}`, value: `value ${index}` }));
    const read = await drawn({ is: "values", rows });
    expect(at(read, "Word 4").foot).toBeCloseTo(at(read, "Word 0").foot, 1);
    expect(at(read, "Word 4").left).toBeGreaterThan(at(read, "value 0").right);
    expect(read.text.indexOf("value 3")).toBeLessThan(read.text.indexOf("Word 4"));
    const long = await drawn({ is: "values", rows: [...rows, { word: "Hash", value: "0f".repeat(40) }] });
    expect(at(long, "Word 4").left).toBeCloseTo(at(long, "Word 0").left, 1);
  });
  it("stand beside their words, and what isn't known says so", async () => {
    const read = await drawn({
      is: "values",
      rows: [
        { word: "People", value: "Night crew" },
        { word: "Begins", value: null },
      ],
    });
    expect(at(read, "Night crew").foot).toBeCloseTo(at(read, "People").foot, 0);
    expect(at(read, "not known").foot).toBeCloseTo(at(read, "Begins").foot, 0);
  });
});

describe("a table", () => {
  it("shows chips by their words, and says when it has no rows", async () => {
    const columns = [{ head: "Strand" }, { head: "Colour" }];
    const chip = { words: "blue with black stripe", fill: "#0057b8", stripe: "#111111" };
    const read = await drawn(
      { is: "table", caption: "Tube 1", columns, rows: [["1", [chip, "cut"]]] },
      { is: "table", caption: "Tube 2", columns, rows: [], none: "No strand is on record." },
    );
    for (const text of ["Tube 1", "blue with black stripe", "cut", "No strand is on record."]) at(read, text);
    expect(at(read, "cut").foot).toBeLessThan(at(read, "blue with").foot);
  });
  it("stands on one page when it is short, and keeps its numbers away from the text beside them", async () => {
    const lines = Array.from({ length: 40 }, (_, index): Block => ({ is: "paragraph", text: `line ${index}` }));
    const columns = [{ head: "Strands", numeric: true, weight: 0.1 }, { head: "Here it" }];
    const rows = ["first", "second", "last"].map((word) => ["144", word]);
    for (let from = 0; from < lines.length; from++) {
      const read = await drawn(...lines.slice(from), { is: "table", caption: "Cables", columns, rows });
      const pages = ["Cables", "last"].map((word) => read.pages.findIndex(({ text }) => text.includes(word)));
      expect(pages[1]).toBe(pages[0]);
      if (from === 0) expect(at(read, "Here it").left - at(read, "Strands").right).toBeGreaterThan(12);
    }
  });
  it("says again on each further page which table goes on there", async () => {
    const rows = Array.from({ length: 90 }, (_, index) => [`row ${index}`]);
    const read = await drawn({ is: "table", caption: "Splice tray T2: 90 joints", columns: [{ head: "Joint" }], rows });
    expect(read.pages.length).toBeGreaterThan(1);
    const said = read.pages.map(({ text }) => /(Continued: )?Splice tray T2: 90 joints/.exec(plain(text))?.[0]);
    expect(said).toEqual(read.pages.map((_, index) => `${index === 0 ? "" : "Continued: "}Splice tray T2: 90 joints`));
  });
  it("says once, over its whole width, what holds for the rows below, and again where a page parts them", async () => {
    const rows = Array.from({ length: 90 }, (_, index) => [`row ${index}`, "x"]);
    const columns = [{ head: "Finding", weight: 0.2 }, { head: "Facts" }];
    const reason = "A length of glass carries one circuit only, and one of these would be unplugged";
    const bands = [
      { at: 0, title: "Given twice", text: [reason] },
      { at: 89, title: "Ring", text: [] },
    ];
    const read = await drawn({ is: "table", caption: null, columns, rows, bands });
    expect(at(read, reason).foot).toBeLessThan(at(read, "Given twice").foot);
    expect(at(read, reason).foot).toBeGreaterThan(at(read, "row 0").foot);
    expect(read.text.split(reason)).toHaveLength(2);
    const said = read.pages.map(({ text }) => /(Continued: )?Given twice/.exec(plain(text))?.[0]);
    expect(said).toEqual(read.pages.map((_, index) => `${index === 0 ? "" : "Continued: "}Given twice`));
    const last = read.pages.at(-1) as ReadPdf["pages"][number];
    expect(last.text.indexOf("row 88")).toBeLessThan(last.text.indexOf("Ring"));
    expect(last.text.indexOf("Ring")).toBeLessThan(last.text.indexOf("row 89"));
  });
  it.each([
    ["its heading", []],
    ["its heading and of the words that lead to it", [{ is: "paragraph", text: "Enters at BKR/ER, from LMP/ER." }]],
  ] as const)("stands on the page of %s, wherever on a page that comes", async (_, lead) => {
    const lines = Array.from({ length: 40 }, (_, index): Block => ({ is: "paragraph", text: `line ${index}` }));
    const rows = Array.from({ length: 12 }, (_, index) => [`row ${index}`]);
    const table: Block = { is: "table", caption: "Each unit", columns: [{ head: "Unit" }], rows };
    for (let from = 0; from < lines.length; from++) {
      const heading: Block = { is: "heading", level: 1, text: "What became of them" };
      const read = await drawn(...lines.slice(from), heading, ...lead, table);
      const page = (words: string) => read.pages.findIndex(({ text }) => text.includes(words));
      expect(page("What became of them")).toBe(page("Each unit"));
    }
  });
  it("has room to write beside what is on record", async () => {
    const read = await drawn({
      ...{ is: "table", caption: null, columns: [{ head: "Loss" }, { head: "Note" }] },
      rows: [[{ write: true, beside: "0.04" }, "x"]],
    });
    expect(at(read, "0.04").foot).toBeCloseTo(at(read, "x").foot, 1);
  });
  it("says across its whole width that it has no rows", async () => {
    const columns = [
      { head: "Done", weight: 0.1 },
      { head: "What", weight: 9 },
    ];
    const read = await drawn({
      is: "table",
      caption: null,
      columns,
      rows: [],
      none: "Nothing is kept in it on record.",
    });
    at(read, "Nothing is kept in it on record.");
  });
  it("has no head broken within a word, however small a share its column was given", async () => {
    const columns = [
      { head: "Done", weight: 0.01 },
      { head: "What", weight: 9 },
      { head: "Measured", weight: 0.01 },
    ];
    const read = await drawn({
      is: "table",
      caption: null,
      columns,
      rows: [[{ tick: true }, "Splice", { write: true }]],
    });
    for (const head of ["Done", "What", "Measured"])
      expect(read.pages[0]?.pieces.filter(({ text }) => text === head)).toHaveLength(1);
    expect(at(read, "Measured").right).toBeLessThanOrEqual(595 - 41);
  });
  it("never parts a number from its unit", async () => {
    const length = "± 139.5\u00a0m";
    for (let words = 1; words < 14; words++) {
      const text = `${"lay ".repeat(words)}${length} of it`;
      const read = await drawn({
        is: "table",
        caption: null,
        columns: [{ head: "A" }, { head: "B", weight: 3 }],
        rows: [[text, ""]],
      });
      expect(read.pages[0]?.pieces.some((piece) => plain(piece.text).includes("± 139.5 m"))).toBe(true);
    }
  });
});

describe("a line", () => {
  const stop = (name: string, coil_m: number | null, spliced = false) => ({ name, mark: "1000 m", coil_m, spliced });
  const leg = (metres: number | null, pathway: string | null) => ({ metres, pathway });
  it("shows each stop in order with mark and coil, each leg with length and way, and the break", async () => {
    const read = await drawn({
      is: "line",
      drawing: {
        cable: "F-1",
        stops: [stop("LIB", 0), stop("H-1", 12.5, true), stop("SCI", 3)],
        legs: [leg(100, "DB-1"), leg(80, null)],
        breaks: [{ leg: 1, at_m: 20, destroyed_m: 2, words: "cut" }],
      },
    });
    const [lib, hole, sci] = ["LIB", "H-1 ◆ splice", "SCI"].map((name) => at(read, name).left);
    expect([lib, hole, sci]).toEqual([lib, hole, sci].toSorted((a, b) => (a ?? 0) - (b ?? 0)));
    for (const text of ["coil 12.5 m", "100 m", "DB-1", "way not on record", "✕ cut", "destroyed: 2 m"]) at(read, text);
    expect(plain(read.text)).toContain("F-1: to scale, in metres of cable.");
  });
  it("puts no cross where only the leg of the break is known", async () => {
    const read = await drawn({
      is: "line",
      drawing: {
        cable: "F-1",
        stops: [stop("LIB", 0), stop("H-1", 12.5, true), stop("SCI", 3)],
        legs: [leg(100, "DB-1"), leg(80, "DB-2")],
        breaks: [{ leg: 1, at_m: null, destroyed_m: 80, words: "cut" }],
      },
    });
    for (const text of ["cut", "given up: 80 m", "somewhere on this leg"]) at(read, text);
    expect(plain(read.text)).not.toContain("✕");
  });
  it("says why it isn't to scale: a leg without a length, or a coil that isn't known", async () => {
    const legend = async (metres: number | null, coil_m: number | null) =>
      plain(
        (
          await drawn({
            is: "line",
            drawing: {
              cable: "F-1",
              stops: [stop("A", 0), stop("B", coil_m), stop("C", 0)],
              legs: [leg(metres, "D"), leg(90, "E")],
              breaks: [],
            },
          })
        ).text,
      );
    expect(await legend(null, 3)).toContain("not to scale throughout: dashed legs were given room. ");
    expect(await legend(80, null)).toContain("not to scale throughout: a coil that isn't known has no length. ");
    expect(await legend(80, null)).not.toContain("dashed");
    expect(await legend(null, null)).toContain("coil not known");
  });
});

describe("a code, signatures and a page's end", () => {
  it("a code carries its words, so that it can be typed", async () => {
    expect((await drawn({ is: "code", code: codeOf("stop", "F-012@3") })).text).toContain("F-012@3");
  });
  it("signatures have a line for each role, all on one page", async () => {
    const roles = ["Spliced by", "Measured by", "Entered by"];
    const fill: Block[] = Array.from({ length: 46 }, (_, index) => ({ is: "paragraph", text: `Line ${index}` }));
    for (let lines = 36; lines <= fill.length; lines++) {
      const read = await drawn(...fill.slice(0, lines), { is: "sign", roles });
      const pages = roles.map((role) => read.pages.findIndex(({ text }) => text.includes(`${role} (name, signature)`)));
      expect(new Set(pages).size).toBe(1);
      expect(pages[0]).toBeGreaterThanOrEqual(0);
    }
  });
  it("a new page begins where it is asked for", async () => {
    const read = await drawn({ is: "paragraph", text: "before" }, { is: "page" }, { is: "paragraph", text: "beyond" });
    expect(read.pages.map(({ text }) => [text.includes("before"), text.includes("beyond")])).toEqual([
      [true, false],
      [false, true],
    ]);
  });
});

describe("columns of a table that share a narrow sheet", () => {
  it("leave a number beside its unit and a word whole, whatever their shares are", async () => {
    const read = await drawn({
      ...{ is: "table", caption: null },
      columns: [
        { head: "Here", weight: 0.4 },
        { head: "Coil", numeric: true, weight: 0.4 },
        { head: "Remarks", weight: 9 },
      ],
      rows: [["severed", "1 234.5 m", "short"]],
    });
    // A piece is what stands in one line.
    expect(at(read, "severed").text).toBe("severed");
    expect(at(read, "1 234.5 m").text).toBe("1 234.5 m");
  });

  it("are as wide as the widest of words of as many letters, for letters differ", async () => {
    const read = await drawn({
      ...{ is: "table", caption: null },
      columns: [
        { head: "From", weight: 0.1 },
        { head: "Remarks", weight: 9 },
      ],
      rows: [
        ["LIB/101/I:11", "narrow letters"],
        ["LIB/101/W:00", "wide ones"],
      ],
    });
    expect(at(read, "LIB/101/W:00").text).toBe("LIB/101/W:00");
  });

  it("lie closer together where the table is dense, and no row upon another", async () => {
    const rows = Array.from({ length: 30 }, (_, n) => [{ tick: false }, `row ${n}`]);
    const step = async (more: object) => {
      const columns = [{ head: "Found" }, { head: "What" }];
      const read = await drawn({ ...{ is: "table", caption: null }, columns, rows, ...more });
      return at(read, "row 3").foot - at(read, "row 4").foot;
    };
    const [usual, dense] = [await step({}), await step({ dense: true })];
    expect(dense).toBeLessThan(usual * 0.85);
    // The letters are 8.5 points tall, the box to tick 9.
    expect(dense).toBeGreaterThan(10);
  });
});
