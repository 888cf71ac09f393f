/**
 * Labels written to PDF and read back with other makers' readers: text and places by pdf.js, codes by jsQR and ZXing.
 * Measures of sheets: a free label designer's public list of templates, in inches.
 */
import { describe, expect, it } from "vitest";
import type { LabelPaper } from "../../core/paper/label-paper.ts";
import { press } from "../../host/paper/press.ts";
import type { TestPlant } from "../support/plant.ts";
import { type Box, darkIn, dataMatrixIn, qrIn, type ReadLabelPage, readLabels } from "./read-labels.ts";
import { street } from "./street.ts";

/** As exact as paper is asked to be. */
const TENTH = 1;

async function printed(plant: TestPlant, input: object, name = "label.print") {
  const paper = await plant.run<LabelPaper>(name, input);
  const { bytes, missing } = await press(paper, "a4");
  return { pages: await readLabels(bytes), bytes, missing };
}

const inches = (x: number, y: number, w: number, h: number): Box => ({
  x_mm: x * 25.4,
  y_mm: y * 25.4,
  width_mm: w * 25.4,
  height_mm: h * 25.4,
});
/** Of the sheet with 2 by 10 labels of 4 by 1 inch on Letter, the label of a column and row from 0. */
const twoByTen = (column: number, row: number) => inches(0.15625 + column * 4.1875, 0.5 + row, 4, 1);
const within = ({ texts }: ReadLabelPage, part: Box) =>
  texts.filter(
    ({ x_mm, y_mm }) =>
      x_mm > part.x_mm && x_mm < part.x_mm + part.width_mm && y_mm > part.y_mm && y_mm < part.y_mm + part.height_mm,
  );

describe("labels on a sheet", () => {
  it("begin at the place that is still free and go on row by row, on a page of the sheet's size", async () => {
    const { pages } = await printed(await street(), { of: ["F-014"], start: 4 });
    expect(pages.length).toBe(1);
    const [page] = pages as [ReadLabelPage];
    expect(page.width_mm).toBeCloseTo(215.9, TENTH);
    expect(page.height_mm).toBeCloseTo(279.4, TENTH);
    expect(within(page, twoByTen(0, 1))).toEqual([]);
    const found = [twoByTen(1, 1), twoByTen(0, 2), twoByTen(1, 2)].map((part) =>
      within(page, part).map(({ text }) => text),
    );
    expect(found).toEqual([
      ["F-014", "48 strands", "LIB/101 to SCI/B01", "1-10 to SCI/B01; 25-34 to LIB/102"],
      ["F-014", "48 strands", "Test Campus"],
      ["F-014", "48 strands", "LIB/101 to SCI/B01"],
    ]);
    expect(page.texts.length).toBe(found.flat().length);
  });

  it("keep everything inside their own edges, a margin away from them", async () => {
    const { pages } = await printed(await street(), { of: ["F-014"] });
    const [page] = pages as [ReadLabelPage];
    const part = twoByTen(0, 0);
    const own = within(page, part);
    const dark = darkIn(page, part);
    expect(dark.x_mm).toBeGreaterThan(part.x_mm + 1.4);
    expect(Math.min(...own.map(({ x_mm }) => x_mm))).toBeGreaterThan(dark.x_mm + dark.width_mm);
    expect(Math.max(...own.map(({ y_mm }) => y_mm))).toBeLessThan(part.y_mm + part.height_mm - 1.5);
    expect(Math.min(...own.map(({ y_mm, size_mm }) => y_mm - size_mm * 0.76))).toBeGreaterThan(part.y_mm + 1.5);
  });

  it("stand with every line within a tenth of a millimetre of where it was laid, beside the quiet zone of its code", async () => {
    const input = { of: ["F-014"] };
    const plant = await street();
    const laid = (await plant.run<LabelPaper>("label.print", input)).pages.flatMap(({ lines }) => lines);
    const [page] = (await printed(plant, input)).pages as [ReadLabelPage];
    const apart = laid.map(({ text, x_mm, y_mm, size_mm }) => {
      const same = page.texts.filter((one) => one.text === text);
      const off = same.map((one) => Math.max(Math.abs(one.x_mm - x_mm), Math.abs(one.y_mm - y_mm)));
      const [read] = same.filter((_, at) => off[at] === Math.min(...off));
      return Math.max(Math.min(...off), Math.abs((read?.size_mm ?? 0) - size_mm));
    });
    expect(apart.length).toBe(page.texts.length);
    expect(Math.max(...apart)).toBeLessThan(0.1);
    for (const part of [twoByTen(0, 0), twoByTen(1, 0), twoByTen(0, 1)]) {
      const dark = darkIn(page, part);
      // Four of the 25 squares across, or the margin of 1.5 mm where that is more (limits of labels).
      const free = Math.max(1.5, (4 * dark.width_mm) / 25);
      for (const { x_mm } of within(page, part))
        expect(Math.abs(x_mm - (dark.x_mm + dark.width_mm + free))).toBeLessThan(0.1);
    }
  });

  it("go on over as many pages as they need", async () => {
    const plant = await street();
    const { pages } = await printed(plant, { of: ["LIB/101/A", "LIB/102/B"], sheet: "102 x 51, 2 by 5", start: 10 });
    // 13 labels of the one panel and 7 of the other, with one free place on the first sheet.
    expect(pages.length).toBe(3);
    expect(pages.map(({ texts }) => texts.filter(({ text }) => /^(A|B|\d+)$/.test(text)).length)).toEqual([1, 10, 9]);
  });

  it("tell of each page as it is drawn, and are drawn no further where that is answered with a refusal", async () => {
    const plant = await street();
    const many = { of: ["LIB/101/A", "LIB/102/B"], sheet: "102 x 51, 2 by 5", start: 10 };
    const paper = await plant.run<LabelPaper>("label.print", many);
    const told: [number, number][] = [];
    await press(paper, "a4", async (done, total) => void told.push([done, total]));
    expect(told).toEqual([1, 2, 3].map((page) => [page, 3]));
    const stopped = press(paper, "a4", async (done) => {
      if (done === 2) throw new Error("enough");
    });
    await expect(stopped).rejects.toThrow("enough");
  });

  it("make the same bytes each time", async () => {
    const plant = await street();
    const [one, other] = [await printed(plant, { of: ["F-014"] }), await printed(plant, { of: ["F-014"] })];
    expect(Buffer.compare(one.bytes, other.bytes)).toBe(0);
  });
});

describe("the code on a label", () => {
  it("is a QR code that names the record, in squares of whole printer dots with its quiet zone", async () => {
    const { pages } = await printed(await street(), { of: ["F-014"], printer: { dots_per_inch: 203 } });
    const [page] = pages as [ReadLabelPage];
    const part = twoByTen(1, 0);
    expect(qrIn(page, part)).toBe("sbok:cable:F-014");
    const dark = darkIn(page, part);
    // Sixteen characters at the middle level of correction take version 2, of 25 squares (ISO/IEC 18004, from memory).
    const module = dark.width_mm / 25;
    const dots = (module * 203) / 25.4;
    expect(dots).toBeCloseTo(Math.round(dots), 2);
    expect(dots).toBeGreaterThanOrEqual(4);
    expect(dark.height_mm).toBeCloseTo(dark.width_mm, 3);
    const [first] = within(page, part);
    expect((first?.x_mm ?? 0) - (dark.x_mm + dark.width_mm)).toBeGreaterThan(4 * module - 0.01);
    expect(dark.y_mm - part.y_mm).toBeGreaterThan(4 * module - 0.01);
  });

  it("is a Data Matrix where the wording says so, small enough for a small label", async () => {
    const plant = await street();
    const { pages } = await printed(plant, { of: ["MH-03/CL-1"], only: ["tray"], sheet: "44 x 13, 4 by 20" });
    const [page] = pages as [ReadLabelPage];
    expect(dataMatrixIn(page, inches(0.28125, 0.5, 1.75, 0.5))).toBe("sbok:tray:MH-03/CL-1/T1");
  });

  it("opens the record when it is typed or read into the search box", async () => {
    const plant = await street();
    const found = await plant.run<{ matches?: unknown }>("address.find", { text: "sbok:cable:F-014" });
    expect(JSON.stringify(found)).toContain('"F-014"');
  });
});

describe("a printer that is off", () => {
  it("is met by moving and scaling the places, while squares stay whole dots", async () => {
    const plant = await street();
    const plain = await printed(plant, { of: ["F-014"] });
    const printer = { shift_x_mm: 0.4, shift_y_mm: -0.2, scale_x: 1.01, scale_y: 0.99 };
    const moved = await printed(plant, { of: ["F-014"], printer });
    const [a, b] = [plain.pages[0] as ReadLabelPage, moved.pages[0] as ReadLabelPage];
    expect(b.width_mm).toBeCloseTo(a.width_mm, 3);
    a.texts.forEach((text, index) => {
      expect(b.texts[index]?.x_mm).toBeCloseTo(0.4 + text.x_mm * 1.01, 2);
      expect(b.texts[index]?.y_mm).toBeCloseTo(-0.2 + text.y_mm * 0.99, 2);
    });
    expect(darkIn(b, twoByTen(0, 0)).width_mm).toBeCloseTo(darkIn(a, twoByTen(0, 0)).width_mm, 3);
  });

  it("shows on a test page of every label's outline with its number", async () => {
    const { pages } = await printed(await street(), { sheet: "67 x 25, 3 by 10" }, "label.outline");
    const [page] = pages as [ReadLabelPage];
    const labels = page.outlined.filter(({ height_mm }) => Math.abs(height_mm - 25.4) < 0.2);
    expect(labels.length).toBe(30);
    for (const [index, box] of labels.entries()) {
      const where = inches(0.15625 + (index % 3) * 2.78125, 0.5 + Math.floor(index / 3), 2.625, 1);
      for (const side of ["x_mm", "y_mm", "width_mm", "height_mm"] as const)
        expect(Math.abs(box[side] - where[side]), `label ${index + 1}, ${side}`).toBeLessThan(0.1);
    }
    expect(page.texts.map(({ text }) => text)).toEqual([
      ...Array.from({ length: 30 }, (_, at) => `${at + 1}`),
      "100 mm",
    ]);
  });
});

describe("tape and wrap-around labels", () => {
  it("are as long as their text on a tape, a page each of the tape's width", async () => {
    const plant = await street();
    const { pages } = await printed(plant, { of: ["F-014"], at: "LIB/101", sheet: "tape 24 mm" });
    const { pages: shorter } = await printed(plant, { of: ["F-021"], at: "MH-03", sheet: "tape 24 mm" });
    expect(pages.length).toBe(1);
    expect(pages[0]?.height_mm).toBeCloseTo(24, TENTH);
    expect(pages[0]?.width_mm).toBeGreaterThan((shorter[0]?.width_mm ?? 0) + 10);
  });

  it("keep text and code in the upper part, and leave the clear tail free", async () => {
    const plant = await street();
    const draft = { place: "outdoor", text: "{tag}", code: "none" };
    const { pages } = await printed(plant, { of: ["F-014"], at: "MH-03", sheet: "wrap 51 x 76", draft });
    const [page] = pages as [ReadLabelPage];
    expect(page.texts.map(({ text }) => text)).toEqual(["F-014"]);
    for (const { y_mm } of page.texts) expect(y_mm).toBeLessThan(19.05 + 25.4);
  });
});

describe("the usual labels of a new plant", () => {
  /** Owner and number as long as they are on many a campus. */
  const owned = async () => {
    const plant = await street();
    const values = { tag: "US", role: "self", name: "Vale Marine College", contact_night: "555 0123 456" };
    await plant.run("record.add", { kind: "party", values });
    return plant;
  };

  it.each(["99.1 x 33.9, 2 by 8, A4", "102 x 25, 2 by 10", "wrap 51 x 76", "tape 18 mm", "tape 24 mm"])(
    "of cables outdoors fit on %s in the usual type, with a code that is read",
    async (sheet) => {
      const { pages } = await printed(await owned(), { of: ["F-014"], at: "MH-03", sheet });
      const [page] = pages as [ReadLabelPage];
      const whole = { x_mm: 0, y_mm: 0, width_mm: page.width_mm, height_mm: page.height_mm };
      expect(page.texts.map(({ text }) => text)).toEqual(
        expect.arrayContaining(["F-014", "48 strands", "Vale Marine College", "Emergency 555 0123 456"]),
      );
      expect(qrIn(page, whole)).toBe("sbok:cable:F-014");
    },
  );

  it("have a code as large as the lines leave room for, which gives way before the type does", async () => {
    const plant = await owned();
    const lay = async (text: string) => {
      const draft = { place: "outdoor", text, code: "qr" };
      const asked = { of: ["F-014"], at: "MH-03", sheet: "wrap 51 x 76", draft };
      type Laid = { labels: { type_mm: number; laid: { code: { module_mm: number } } }[] };
      return (await plant.run<Laid>("label.lay", asked)).labels[0];
    };
    const [short, long] = [await lay("{tag}"), await lay("{tag}\nVale Marine College, sea")];
    expect(long?.laid.code.module_mm).toBeLessThan(short?.laid.code.module_mm ?? 0);
    expect(long?.laid.code.module_mm).toBeGreaterThanOrEqual(0.3);
    expect(long?.type_mm).toBeGreaterThanOrEqual(2.8);
  });
});

describe("many labels", () => {
  it("tell how far they are, and end when they are told to, with nothing made", async () => {
    const plant = await street();
    const told: { what: string; done: number; total: number | null }[] = [];
    const of = Array.from({ length: 8 }, () => ["LIB/101/A", "LIB/102/B"]).flat();
    const input = { of, sheet: "67 x 25, 3 by 10" };
    const done = await plant.session.dispatch({ name: "label.print", input }, { onProgress: (one) => told.push(one) });
    expect(done.ok).toBe(true);
    // A thing named again gets its label once.
    expect(told.filter(({ what }) => what === "Laying out labels").at(-1)).toMatchObject({ done: 20, total: 20 });
    const stopped = await plant.session.dispatch({ name: "label.print", input }, { signal: { aborted: true } });
    expect(stopped).toMatchObject({ ok: false, error: { code: "stopped" } });
  });
});

describe("what doesn't fit", () => {
  const long = {
    place: "indoor",
    text: "{tag}\n{from} to {to} and much more that nobody needs on a label of this or any size",
    code: "none",
  };

  it("is refused by label, line and millimetres, and never cut off in silence", async () => {
    const plant = await street();
    const reply = await plant.call("label.print", { of: ["F-014"], sheet: "67 x 25, 3 by 10", draft: long });
    expect(reply).toMatchObject({ ok: false, error: { code: "not_possible" } });
    const { problems } = (reply as unknown as { error: { problems: { record: string; reason: string }[] } }).error;
    expect(problems.map(({ record }) => record)).toEqual(["F-014 at LIB/101", "F-014 at SCI/B01"]);
    expect(problems[0]?.reason).toMatch(/^line 2 is [\d.]+ mm too long: LIB\/101 to SCI\/B01 and much/);
  });

  it("is cured by smaller type down to what is still read, or by a shorter wording", async () => {
    const plant = await street();
    const asked = { of: ["F-014"], at: "LIB/101", sheet: "102 x 25, 2 by 10", draft: long };
    const lay = (more: object) =>
      plant.run<{ labels: { over: { fits_smaller: boolean }[]; type_mm: number }[] }>("label.lay", {
        ...asked,
        ...more,
      });
    const [usual] = (await lay({})).labels;
    expect(usual?.over.map(({ fits_smaller }) => fits_smaller)).toEqual([true]);
    const [smaller] = (await lay({ smaller: true })).labels;
    expect(smaller?.over).toEqual([]);
    expect(smaller?.type_mm).toBeLessThan(2.8);
    expect(smaller?.type_mm).toBeGreaterThanOrEqual(1.8);
    const [shorter] = (await lay({ draft: { ...long, text: "{tag}\n{from} to {to}" } })).labels;
    expect(shorter?.over).toEqual([]);
    expect(shorter?.type_mm).toBeGreaterThanOrEqual(2.8);
  });

  it("is told with what cures it: smaller type, and the sheets on which all of them fit as they are", async () => {
    const plant = await street();
    type Told = { cures: { smaller: number; sheets: string[] }; fit: number };
    const lay = (more: object) => plant.run<Told>("label.lay", { of: ["F-014"], at: "MH-03", ...more });
    const { cures } = await lay({ sheet: "tape 12 mm" });
    expect(cures.smaller).toBe(0);
    expect(cures.sheets.length).toBeGreaterThan(0);
    for (const sheet of cures.sheets) expect(await lay({ sheet })).toMatchObject({ fit: 1, cures: { sheets: [] } });
    const reply = await plant.call("label.print", { of: ["F-014"], at: "MH-03", sheet: "tape 12 mm" });
    expect(reply).toMatchObject({ error: { message: expect.stringContaining(cures.sheets.join("; ")) } });
    const long = { place: "outdoor", text: "{tag}\nfrom the library to the science hall, by the sea", code: "none" };
    expect((await lay({ sheet: "wrap 51 x 76", draft: long })).cures.smaller).toBe(1);
  });

  it("is cured by sheets of the same form before others, each with room for all of them in the usual type", async () => {
    const plant = await street();
    await plant.run("record.edit", { kind: "cable", id: "F-021", values: { tag: "F-021 OF THE OUTER RING" } });
    type Told = { cures: { smaller: number; sheets: string[] }; fit: number; labels: unknown[] };
    const lay = (more: object) => plant.run<Told>("label.lay", more);
    const hole = { of: ["F-014"], at: "MH-03" };
    expect((await lay({ ...hole, sheet: "tape 12 mm" })).cures.sheets).toEqual([
      "tape 18 mm",
      "tape 24 mm",
      "102 x 25, 2 by 10",
    ]);
    const draft = { place: "indoor", text: "{tag} and what is beside it, here and there", code: "none" };
    const both = { of: ["F-014", "F-021 OF THE OUTER RING"], at: "MH-03", draft: { ...draft, place: "outdoor" } };
    for (const asked of [both, { ...both, smaller: true }]) {
      const { cures } = await lay({ ...asked, sheet: "44 x 13, 4 by 20" });
      expect(cures.sheets.length).toBeGreaterThan(0);
      for (const sheet of cures.sheets) {
        const { fit, labels } = await lay({ ...both, sheet });
        expect([sheet, fit]).toEqual([sheet, labels.length]);
      }
    }
  });

  it("keeps to the plant's own smallest type", async () => {
    const plant = await street();
    const values = { tag: "labels.least_type_mm", value: 2.7, unit: "mm", reason: "Read with gloves on" };
    await plant.run("record.add", { kind: "limit_value", values });
    const asked = { of: ["F-014"], at: "LIB/101", draft: long, smaller: true };
    const { labels } = await plant.run<{ labels: { over: unknown[] }[] }>("label.lay", asked);
    expect(labels[0]?.over).toMatchObject([{ what: "line", fits_smaller: false }]);
  });

  it("is left out when that is asked for, and takes no place", async () => {
    const { pages } = await printed(await street(), {
      of: ["F-014"],
      sheet: "67 x 25, 3 by 10",
      draft: long,
      leave_out: true,
    });
    expect(pages[0]?.texts.map(({ text }) => text)).toEqual(["F-014", "48 strands", "Test Campus"]);
  });

  it("is told by name and reason with the pages it is left out of; where none is left to print, that is refused so", async () => {
    const plant = await street();
    const asked = { of: ["F-014"], sheet: "67 x 25, 3 by 10", draft: long, leave_out: true };
    const { left_out } = await plant.run<LabelPaper>("label.print", asked);
    expect(left_out.labels).toBe(2);
    expect(left_out.why.map(({ record }) => record)).toEqual(["F-014 at LIB/101", "F-014 at SCI/B01"]);
    expect(await plant.call("label.print", { ...asked, at: "LIB/101" })).toMatchObject({
      ok: false,
      error: { problems: [{ record: "F-014 at LIB/101", reason: expect.stringContaining("mm too long") }] },
    });
  });

  it("is told of a code that has no room for squares of enough dots", async () => {
    const plant = await street();
    const draft = { place: "outdoor", text: "{tag}", code: "qr" };
    const { labels } = await plant.run<{ labels: { over: { what: string }[] }[] }>("label.lay", {
      of: ["F-014"],
      at: "MH-03",
      sheet: "tape 9 mm",
      draft,
    });
    expect(labels[0]?.over.map(({ what }) => what)).toEqual(["code"]);
  });
});
