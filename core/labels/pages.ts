/** Labels on their pages: which place each takes, and everything moved as this printer needs it. */
import type { LabelPage, LaidCode, LaidLine, Outline } from "../paper/label-paper.ts";
import type { LaidLabel } from "./lay.ts";
import type { LabelSheet } from "./sheets.ts";

/** What this printer does to a page, as measured on a test page. */
export interface Printer {
  readonly shift_x_mm: number;
  readonly shift_y_mm: number;
  /** 1 where it draws to size; 1.01 where all comes out a hundredth too small. */
  readonly scale_x: number;
  readonly scale_y: number;
  readonly dots_per_inch: number;
}

export const TRUE_PRINTER: Printer = { shift_x_mm: 0, shift_y_mm: 0, scale_x: 1, scale_y: 1, dots_per_inch: 300 };

export const perPage = ({ form, columns, rows }: Pick<LabelSheet, "form" | "columns" | "rows">): number =>
  form === "tape" ? 1 : columns * rows;

/** Where a label lies: page, row and column from 0. `place` counts from 0 through all pages, row by row. */
export function placeOf(sheet: LabelSheet, place: number) {
  const each = perPage(sheet);
  const on = place % each;
  const columns = sheet.form === "tape" ? 1 : sheet.columns;
  return { page: Math.floor(place / each), row: Math.floor(on / columns), column: on % columns };
}

export const cornerOf = (sheet: LabelSheet, row: number, column: number): { x_mm: number; y_mm: number } =>
  sheet.form === "tape"
    ? { x_mm: 0, y_mm: 0 }
    : { x_mm: sheet.left_mm + column * sheet.pitch_x_mm, y_mm: sheet.top_mm + row * sheet.pitch_y_mm };

interface Drawn {
  readonly label: LaidLabel;
  /** From 0, through all pages. */
  readonly place: number;
}

/** The pages of some labels. Pages before the first label are not made. */
export function pagesOf(sheet: LabelSheet, labels: readonly Drawn[], printer: Printer): LabelPage[] {
  const pages = Map.groupBy(labels, ({ place }) => placeOf(sheet, place).page);
  return [...pages].map(([, own]): LabelPage => {
    const [first] = own as [Drawn, ...Drawn[]];
    return {
      ...sizeOf(sheet, first.label),
      lines: own.flatMap(({ label, place }) =>
        label.lines.map((line) => movedLine(line, corner(sheet, place), printer)),
      ),
      codes: own.flatMap(({ label, place }) =>
        label.code ? [movedCode(label.code, corner(sheet, place), printer)] : [],
      ),
      outlines: [],
      rules: [],
    };
  });
}

const corner = (sheet: LabelSheet, place: number) => {
  const { row, column } = placeOf(sheet, place);
  return cornerOf(sheet, row, column);
};

const sizeOf = (sheet: LabelSheet, label: { width_mm: number; height_mm: number }) =>
  sheet.page_width_mm === null || sheet.page_height_mm === null
    ? { width_mm: label.width_mm, height_mm: label.height_mm }
    : { width_mm: sheet.page_width_mm, height_mm: sheet.page_height_mm };

const acrossOf = (x: number, { shift_x_mm, scale_x }: Printer): number => shift_x_mm + x * scale_x;
const downOf = (y: number, { shift_y_mm, scale_y }: Printer): number => shift_y_mm + y * scale_y;

const movedLine = (line: LaidLine, at: { x_mm: number; y_mm: number }, printer: Printer): LaidLine => ({
  ...line,
  x_mm: acrossOf(at.x_mm + line.x_mm, printer),
  y_mm: downOf(at.y_mm + line.y_mm, printer),
  size_mm: line.size_mm * printer.scale_y,
  width_mm: line.width_mm * printer.scale_y,
});

/** The squares keep their whole dots; only their place is corrected. */
const movedCode = (code: LaidCode, at: { x_mm: number; y_mm: number }, printer: Printer): LaidCode => ({
  form: code.form,
  says: code.says,
  x_mm: acrossOf(at.x_mm + code.x_mm, printer),
  y_mm: downOf(at.y_mm + code.y_mm, printer),
  module_mm: code.module_mm,
  columns: code.columns,
  rows: code.rows,
  dark: code.dark,
});

/** Length of the rules on a test page. */
export const RULE_MM = 100;
const RULE_SHORT_MM = 20;
/** A tape's test label is this long. */
const TEST_LENGTH_MM = 60;

/** One page of outlines, each with its number, and two rules to be measured: what is off is this printer's doing. */
export function outlinePage(sheet: LabelSheet, printer: Printer): LabelPage {
  const width = sheet.label_width_mm ?? TEST_LENGTH_MM;
  const size = sizeOf(sheet, { width_mm: width, height_mm: sheet.label_height_mm });
  const outlines: Outline[] = [];
  const lines: LaidLine[] = [];
  const each = perPage(sheet);
  for (let place = 0; place < each; place += 1) {
    const { x_mm, y_mm } = corner(sheet, place);
    outlines.push({
      x_mm: acrossOf(x_mm, printer),
      y_mm: downOf(y_mm, printer),
      width_mm: width * printer.scale_x,
      height_mm: sheet.label_height_mm * printer.scale_y,
      corner_mm: sheet.corner_mm,
    });
    lines.push(word(String(place + 1), x_mm + 2, y_mm + 4.5, printer));
  }
  const long = Math.min(size.width_mm, size.height_mm) > RULE_MM + 20 ? RULE_MM : RULE_SHORT_MM;
  const [x, y] = [size.width_mm / 2 - long / 2, size.height_mm / 2];
  const rules =
    size.height_mm < RULE_SHORT_MM * 2
      ? []
      : ([
          [x, y, x + long, y],
          [size.width_mm / 2, y - long / 2, size.width_mm / 2, y + long / 2],
        ] as const);
  if (rules.length > 0) lines.push(word(`${long} mm`, x + 2, y - 1.5, printer));
  return {
    ...size,
    lines,
    codes: [],
    outlines,
    rules: rules.map(([ax, ay, bx, by]) => [
      acrossOf(ax, printer),
      downOf(ay, printer),
      acrossOf(bx, printer),
      downOf(by, printer),
    ]),
  };
}

const word = (text: string, x: number, y: number, printer: Printer): LaidLine => ({
  text,
  face: "text",
  x_mm: acrossOf(x, printer),
  y_mm: downOf(y, printer),
  size_mm: 3,
  width_mm: 0,
});
