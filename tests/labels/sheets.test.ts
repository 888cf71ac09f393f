/** Sheets that the plant adds, and measures that can't be. */
import { describe, expect, it } from "vitest";
import { street } from "./street.ts";

const SHEET = {
  tag: "office sheet",
  form: "sheet",
  page_width_mm: 210,
  page_height_mm: 297,
  label_width_mm: 90,
  label_height_mm: 50,
  columns: 2,
  rows: 5,
  left_mm: 10,
  top_mm: 20,
  pitch_x_mm: 95,
  pitch_y_mm: 52,
};

describe("a sheet of the plant's own", () => {
  it("can be chosen by its name, and its measures are kept", async () => {
    const plant = await street();
    await plant.run("record.add", { kind: "label_sheet", values: SHEET });
    const { labels, sheet } = await plant.run<{ labels: { at: object }[]; sheet: object }>("label.lay", {
      of: ["F-014"],
      sheet: "Office sheet",
      start: 2,
    });
    expect(sheet).toMatchObject({ name: "office sheet", per_page: 10 });
    expect(labels.map(({ at }) => at)).toEqual([
      { page: 0, row: 0, column: 1, x_mm: 105, y_mm: 20 },
      { page: 0, row: 1, column: 0, x_mm: 10, y_mm: 72 },
      { page: 0, row: 1, column: 1, x_mm: 105, y_mm: 72 },
    ]);
  });

  it.each([
    [{ columns: 3 }, "columns", "is 3: the labels reach to 290 of a page width of 210"],
    [{ pitch_y_mm: 40 }, "pitch_y_mm", "is 40: labels of 50 would lie on each other"],
    [{ page_width_mm: null }, "page_width_mm", "is not on record"],
    [{ print_height_mm: 60 }, "print_height_mm", "is 60: more than the label's height of 50"],
  ])("whose measures can't be (%j) is refused by the field", async (values, field, reason) => {
    const plant = await street();
    await plant.run("record.add", { kind: "label_sheet", values: { ...SHEET, ...values } });
    expect(await plant.call("label.print", { of: ["F-014"], sheet: "office sheet" })).toMatchObject({
      ok: false,
      error: { code: "bad_input", problems: [{ record: "office sheet", field, reason }] },
    });
  });

  it("hides one known here of the same name", async () => {
    const plant = await street();
    await plant.run("record.add", { kind: "label_sheet", values: { ...SHEET, tag: "102 x 25, 2 by 10" } });
    const { sheets } = await plant.run<{ sheets: { name: string; label_height_mm: number }[] }>("label.sheets");
    expect(sheets.filter(({ name }) => name === "102 x 25, 2 by 10")).toMatchObject([{ label_height_mm: 50 }]);
  });
});

describe("the sheets known here", () => {
  it("all lie on their pages", async () => {
    const { sheets } = await (await street()).run<{ sheets: { name: string; faults: unknown[] }[] }>("label.sheets");
    expect(sheets.flatMap(({ name, faults }) => (faults.length > 0 ? [name] : []))).toEqual([]);
    expect(sheets.length).toBeGreaterThan(10);
  });
});

describe("the first free place", () => {
  it("is one that the sheet has", async () => {
    const plant = await street();
    expect(await plant.call("label.print", { of: ["F-014"], start: 21 })).toMatchObject({
      ok: false,
      error: { problems: [{ field: "start", reason: "is 21: the sheet has 20 labels" }] },
    });
  });
});
