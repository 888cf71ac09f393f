/** Sheets of labels and tapes by their measures in millimetres: those known here, and the plant's own. */
import type { Row } from "../model/dictionary.ts";
import type { PaperSize } from "../paper/document.ts";
import { type Problem, refuse } from "../result.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";

export interface LabelSheet {
  /** By it a sheet is chosen, kept and typed: the same in every language. */
  readonly name: string;
  readonly form: "sheet" | "wrap" | "tape";
  /** Null for a tape: each label is a page of its own. */
  readonly page_width_mm: number | null;
  readonly page_height_mm: number | null;
  /** Null on a tape whose labels are as long as their text. */
  readonly label_width_mm: number | null;
  readonly label_height_mm: number;
  /** The part that can be printed: the upper part of a label that wraps round, the middle of a tape; null for all of it. */
  readonly print_height_mm: number | null;
  readonly columns: number;
  readonly rows: number;
  readonly left_mm: number;
  readonly top_mm: number;
  readonly pitch_x_mm: number;
  readonly pitch_y_mm: number;
  readonly corner_mm: number;
  readonly source: string;
  /** The plant's own record; null for one known here. */
  readonly id: number | null;
}

const INCH = 25.4;
const PUBLIC_LIST = "A free label designer's public list of templates, in inches";
const MEMORY = "From memory";

type Inches = readonly [
  w: number,
  h: number,
  columns: number,
  rows: number,
  x: number,
  y: number,
  dx: number,
  dy: number,
];

const letter = (name: string, [w, h, columns, rows, x, y, dx, dy]: Inches): LabelSheet => ({
  name,
  form: "sheet",
  page_width_mm: 8.5 * INCH,
  page_height_mm: 11 * INCH,
  label_width_mm: w * INCH,
  label_height_mm: h * INCH,
  print_height_mm: null,
  columns,
  rows,
  left_mm: x * INCH,
  top_mm: y * INCH,
  pitch_x_mm: dx * INCH,
  pitch_y_mm: dy * INCH,
  corner_mm: 1.5,
  source: PUBLIC_LIST,
  id: null,
});

/** In millimetres, on A4. */
const a4 = (name: string, [w, h, columns, rows, x, y, dx, dy]: Inches): LabelSheet => ({
  ...letter(name, [0, 0, columns, rows, 0, 0, 0, 0]),
  page_width_mm: 210,
  page_height_mm: 297,
  label_width_mm: w,
  label_height_mm: h,
  left_mm: x,
  top_mm: y,
  pitch_x_mm: dx,
  pitch_y_mm: dy,
  source: MEMORY,
});

const tape = (width: number, print: number): LabelSheet => ({
  ...letter(`tape ${width} mm`, [0, 0, 1, 1, 0, 0, 0, 0]),
  form: "tape",
  page_width_mm: null,
  page_height_mm: null,
  label_width_mm: null,
  label_height_mm: width,
  print_height_mm: print,
  corner_mm: 0,
  source: `${MEMORY}: what printers with 180 dots to the inch reach`,
});

export const KNOWN_SHEETS: readonly LabelSheet[] = [
  letter("102 x 25, 2 by 10", [4, 1, 2, 10, 0.15625, 0.5, 4.1875, 1]),
  letter("67 x 25, 3 by 10", [2.625, 1, 3, 10, 0.15625, 0.5, 2.78125, 1]),
  letter("102 x 34, 2 by 7", [4, 1.333, 2, 7, 0.15625, 0.8333, 4.1875, 1.333]),
  letter("102 x 51, 2 by 5", [4, 2, 2, 5, 0.1625, 0.5, 4.1875, 2]),
  letter("102 x 85, 2 by 3", [4, 3.333, 2, 3, 0.15625, 0.5, 4.1875, 3.333]),
  letter("44 x 13, 4 by 20", [1.75, 0.5, 4, 20, 0.28125, 0.5, 2.0625, 0.5]),
  a4("63.5 x 38.1, 3 by 7, A4", [63.5, 38.1, 3, 7, 7.25, 15.15, 66, 38.1]),
  a4("70 x 37, 3 by 8, A4", [70, 37, 3, 8, 0, 0.5, 70, 37]),
  a4("99.1 x 33.9, 2 by 8, A4", [99.1, 33.9, 2, 8, 4.65, 12.9, 101.6, 33.9]),
  {
    ...letter("wrap 51 x 76", [2, 3, 4, 3, 0.25, 0.75, 2, 3.25]),
    form: "wrap",
    print_height_mm: INCH,
    source: "An example of a wrap-around sheet, not a published one: measure yours",
  },
  tape(9, 7.1),
  tape(12, 9.9),
  tape(18, 15.8),
  tape(24, 18.1),
];

/** The sheets that can be chosen: the plant's own in place of one of the same name. */
export async function readSheets(reader: Reader): Promise<LabelSheet[]> {
  const rows = await reader.rows<Row<"label_sheet">>("select * from label_sheet order by tag_key, tag");
  const own = rows.map(ownSheet);
  const names = new Set(own.map(({ name }) => name));
  return [...own, ...KNOWN_SHEETS.filter(({ name }) => !names.has(name))];
}

function ownSheet(row: Row<"label_sheet">): LabelSheet {
  const { id, tag, form, label_width_mm, label_height_mm } = row;
  return {
    name: tag,
    form,
    page_width_mm: form === "tape" ? null : row.page_width_mm,
    page_height_mm: form === "tape" ? null : row.page_height_mm,
    label_width_mm,
    label_height_mm,
    print_height_mm: row.print_height_mm,
    columns: row.columns ?? 1,
    rows: row.rows ?? 1,
    left_mm: row.left_mm ?? 0,
    top_mm: row.top_mm ?? 0,
    // Labels that touch, where nobody says that they don't.
    pitch_x_mm: row.pitch_x_mm ?? label_width_mm ?? 0,
    pitch_y_mm: row.pitch_y_mm ?? label_height_mm,
    corner_mm: row.corner_mm ?? 0,
    source: row.source ?? say`The plant's record, which names no source`,
    id,
  };
}

/** Measures that are rounded on a packet may seem to reach over an edge by this much. */
const ROUNDED_MM = 0.1;

/** Why labels can't lie like this, by the field of the record. */
export function sheetFaults(sheet: LabelSheet): Problem[] {
  const { name: record, form, columns, rows } = sheet;
  const faults: Problem[] = [];
  const fault = (field: string, reason: string): void => {
    faults.push({ record, field, reason });
  };
  const { print_height_mm: print, label_height_mm: height } = sheet;
  if (print !== null && print > height)
    fault("print_height_mm", say`is ${print}: more than the label's height of ${height}`);
  if (form === "tape") return faults;
  for (const field of ["page_width_mm", "page_height_mm", "label_width_mm"] as const) {
    if (sheet[field] === null) fault(field, say`is not on record`);
  }
  const ways = [
    [
      "width",
      columns,
      sheet.left_mm,
      sheet.pitch_x_mm,
      sheet.label_width_mm,
      sheet.page_width_mm,
      "pitch_x_mm",
      "columns",
    ],
    ["height", rows, sheet.top_mm, sheet.pitch_y_mm, height, sheet.page_height_mm, "pitch_y_mm", "rows"],
  ] as const;
  for (const [way, count, first, pitch, label, page, pitchField, countField] of ways) {
    if (label === null || page === null) continue;
    if (count > 1 && pitch < label - ROUNDED_MM)
      fault(pitchField, say`is ${round(pitch)}: labels of ${round(label)} would lie on each other`);
    const reach = first + (count - 1) * pitch + label;
    if (reach > page + ROUNDED_MM)
      fault(countField, say`is ${count}: the labels reach to ${round(reach)} of a page ${way} of ${round(page)}`);
  }
  return faults;
}

const round = (mm: number): number => Math.round(mm * 100) / 100;

/** The usual sheet of who prints on A4, by its number among the known; of anybody else the first. */
const USUAL_ON_A4 = 8;

const usualSheet = (paper: PaperSize | undefined): LabelSheet =>
  KNOWN_SHEETS[paper === "a4" ? USUAL_ON_A4 : 0] as LabelSheet;

/** The sheet of a name; the usual one of the paper where none is named. Refuses one that isn't there or can't be. */
export async function sheetNamed(reader: Reader, name: string | undefined, paper?: PaperSize): Promise<LabelSheet> {
  const sheets = await readSheets(reader);
  const wanted = (name ?? usualSheet(paper).name).trim().toLowerCase();
  const sheet = sheets.find((one) => one.name.toLowerCase() === wanted);
  if (!sheet) {
    return refuse("not_found", say`There is no label sheet ${name}.`, [
      {
        field: "sheet",
        record: name ?? "",
        reason: say`is not on record; there are ${sheets.map((one) => one.name).join("; ")}`,
      },
    ]);
  }
  const faults = sheetFaults(sheet);
  if (faults.length > 0) refuse("bad_input", say`Labels can't lie on ${sheet.name} as its measures say.`, faults);
  return sheet;
}
