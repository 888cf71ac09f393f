import { say } from "../../words/say.ts";
import { choice, integer, number, tag, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const labelSheet = defineKind({
  name: "label_sheet",
  one: say`label sheet`,
  many: say`label sheets`,
  group: "plant",
  help: say`A sheet of labels or a tape by its measures in millimetres, as its packet gives them.`,
  address: { parents: [], separator: "", name: "tag" },
  key: ["tag"],
  unique: true,
  fields: {
    tag: tag(say`A short name, such as 102 x 25.`),
    form: choice(
      say`form`,
      say`Labels on a sheet, labels that wrap round a cable under a clear tail, or a tape cut to length.`,
      { sheet: say`sheet`, wrap: say`wrap-around on a sheet`, tape: say`tape` },
      { required: true, initial: "sheet" },
    ),
    page_width_mm: number(say`page width`, say`Width of the sheet; of a tape it doesn't count.`, {
      unit: "mm",
      max: 2000,
    }),
    page_height_mm: number(say`page height`, say`Height of the sheet; of a tape it doesn't count.`, {
      unit: "mm",
      max: 2000,
    }),
    label_width_mm: number(
      say`label width`,
      say`Width of one label; empty on a tape whose labels are as long as their text.`,
      {
        unit: "mm",
        min: 1,
        max: 2000,
      },
    ),
    label_height_mm: number(say`label height`, say`Height of one label; of a tape its width.`, {
      unit: "mm",
      min: 1,
      max: 2000,
      required: true,
    }),
    print_height_mm: number(
      say`printable height`,
      say`Of a wrap-around label the upper part that is printed; the rest is clear.`,
      {
        unit: "mm",
        min: 1,
        max: 2000,
      },
    ),
    columns: integer(say`columns`, say`Labels side by side.`, { min: 1, max: 100 }),
    rows: integer(say`rows`, say`Labels one below the other.`, { min: 1, max: 200 }),
    left_mm: number(say`first from left`, say`From the left edge of the page to the first label.`, {
      unit: "mm",
      max: 2000,
    }),
    top_mm: number(say`first from top`, say`From the upper edge of the page to the first label.`, {
      unit: "mm",
      max: 2000,
    }),
    pitch_x_mm: number(say`pitch across`, say`From the left edge of a label to that of the next.`, {
      unit: "mm",
      max: 2000,
    }),
    pitch_y_mm: number(say`pitch down`, say`From the upper edge of a label to that of the one below.`, {
      unit: "mm",
      max: 2000,
    }),
    corner_mm: number(say`corner radius`, say`How round its corners are.`, { unit: "mm", max: 500 }),
    source: text(say`source`, say`Where the measures come from.`, { max: 400 }),
    notes: provenance.notes,
  },
});
