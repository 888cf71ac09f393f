import { choice, integer, number, tag, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const labelSheet = defineKind({
  name: "label_sheet",
  one: "label sheet",
  many: "label sheets",
  group: "plant",
  help: "A sheet of labels or a tape by its measures in millimetres, as its packet gives them.",
  address: { parents: [], separator: "", name: "tag" },
  key: ["tag"],
  unique: true,
  fields: {
    tag: tag("A short name, such as 102 x 25."),
    form: choice(
      "form",
      "Labels on a sheet, labels that wrap round a cable under a clear tail, or a tape cut to length.",
      { sheet: "sheet", wrap: "wrap-around on a sheet", tape: "tape" },
      { required: true, initial: "sheet" },
    ),
    page_width_mm: number("page width", "Width of the sheet; of a tape it doesn't count.", { unit: "mm", max: 2000 }),
    page_height_mm: number("page height", "Height of the sheet; of a tape it doesn't count.", {
      unit: "mm",
      max: 2000,
    }),
    label_width_mm: number(
      "label width",
      "Width of one label; empty on a tape whose labels are as long as their text.",
      {
        unit: "mm",
        min: 1,
        max: 2000,
      },
    ),
    label_height_mm: number("label height", "Height of one label; of a tape its width.", {
      unit: "mm",
      min: 1,
      max: 2000,
      required: true,
    }),
    print_height_mm: number(
      "printable height",
      "Of a wrap-around label the upper part that is printed; the rest is clear.",
      {
        unit: "mm",
        min: 1,
        max: 2000,
      },
    ),
    columns: integer("columns", "Labels side by side.", { min: 1, max: 100 }),
    rows: integer("rows", "Labels one below the other.", { min: 1, max: 200 }),
    left_mm: number("first from left", "From the left edge of the page to the first label.", { unit: "mm", max: 2000 }),
    top_mm: number("first from top", "From the upper edge of the page to the first label.", { unit: "mm", max: 2000 }),
    pitch_x_mm: number("pitch across", "From the left edge of a label to that of the next.", { unit: "mm", max: 2000 }),
    pitch_y_mm: number("pitch down", "From the upper edge of a label to that of the one below.", {
      unit: "mm",
      max: 2000,
    }),
    corner_mm: number("corner radius", "How round its corners are.", { unit: "mm", max: 500 }),
    source: text("source", "Where the measures come from.", { max: 400 }),
    notes: provenance.notes,
  },
});
