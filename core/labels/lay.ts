/** One label laid out: where each line and the code stand, in millimetres from its upper left corner, and what doesn't fit. */

import type { LaidCode, LaidLine } from "../paper/label-paper.ts";
import type { CodeSquares, Lettering } from "../ports.ts";
import type { Limits } from "../standards/limits/in-use.ts";
import type { LabelSheet } from "./sheets.ts";
import type { CodeForm } from "./wordings.ts";

/** What labels are drawn by, all in millimetres but for the counts and shares. */
export interface LabelStyle {
  readonly type_mm: number;
  readonly least_type_mm: number;
  readonly most_type_mm: number;
  readonly margin_mm: number;
  readonly module_mm: number;
  readonly most_module_mm: number;
  readonly first_line: number;
  readonly code_share: number;
  readonly module_dots: number;
  readonly quiet: Readonly<Record<"qr" | "data_matrix", number>>;
}

const value = (limits: Limits, name: string): number => {
  const limit = limits.get(`labels.${name}`);
  if (!limit) throw new Error(`labels.${name} has no published value`);
  return limit.value;
};

export const labelStyle = (limits: Limits): LabelStyle => ({
  type_mm: value(limits, "type_mm"),
  least_type_mm: value(limits, "least_type_mm"),
  most_type_mm: value(limits, "most_type_mm"),
  margin_mm: value(limits, "margin_mm"),
  module_mm: value(limits, "module_mm"),
  most_module_mm: value(limits, "most_module_mm"),
  first_line: value(limits, "first_line"),
  code_share: value(limits, "code_share"),
  module_dots: value(limits, "module_dots"),
  quiet: { qr: value(limits, "quiet.qr"), data_matrix: value(limits, "quiet.data_matrix") },
});

/** From one line to the next, and from the top of a line to where its letters stand, for each millimetre of type. */
const LEADING = 1.18;
const BASELINE = 0.94;
const INCH = 25.4;
/** What differs by less is the arithmetic's doing. */
const HAIR = 1e-9;

/** What doesn't fit, and by how much. */
export interface Overflow {
  readonly what: "line" | "height" | "code";
  /** The line's number, from 1; null for the others. */
  readonly line: number | null;
  readonly text: string | null;
  readonly by_mm: number;
  /** Whether smaller type cures it. */
  readonly fits_smaller: boolean;
}

export interface LaidLabel {
  readonly width_mm: number;
  readonly height_mm: number;
  /** The part that is printed, from the top. */
  readonly print_top_mm: number;
  readonly print_height_mm: number;
  /** Height of the type; the first line's may be greater. */
  readonly type_mm: number;
  readonly lines: readonly LaidLine[];
  readonly code: LaidCode | null;
  readonly over: readonly Overflow[];
  /** Characters that the letters lack. */
  readonly missing: readonly string[];
}

export interface LabelContent {
  readonly lines: readonly string[];
  readonly code: CodeForm;
  readonly says: string;
}

export interface LayOptions {
  readonly style: LabelStyle;
  readonly lettering: Lettering;
  /** Type may go below the usual size, down to the least. */
  readonly smaller: boolean;
  readonly dots_per_inch: number;
}

type Box = Pick<LabelSheet, "form" | "label_width_mm" | "label_height_mm" | "print_height_mm">;

/**
 * The code stands as large as the lines leave room for; it gives way before the type grows smaller than usual, down to the
 * least that is still read.
 */
export function layLabel(content: LabelContent, box: Box, options: LayOptions): LaidLabel {
  const { style, lettering } = options;
  const height = box.print_height_mm ?? box.label_height_mm;
  const top = box.form === "tape" ? (box.label_height_mm - height) / 2 : 0;
  const codes =
    content.code === "none" ? NO_CODE : sizedCodes(content.code, content.says, box.label_width_mm, height, options);
  const words = content.lines.map((text, index) => ({
    text,
    ...lettering.measure(text, index === 0 ? "bold" : "text"),
  }));
  const lay = (code: SizedCode | null, smaller: boolean): LaidText => {
    const left = code
      ? code.x_mm + code.columns * code.module_mm + Math.max(style.margin_mm, code.quiet_mm)
      : style.margin_mm;
    // What a tape's printer doesn't reach is free already.
    const room = { left, width: box.label_width_mm, height, free: Math.max(0, style.margin_mm - top) };
    return layText(words, room, style, smaller);
  };
  const tries = (options.smaller ? [false, true] : [false]).flatMap((smaller) =>
    codes.sizes.map((code) => ({ code, smaller })),
  );
  const least = { code: codes.sizes.at(-1) ?? null, smaller: options.smaller };
  const { code, smaller } = tries.find((one) => lay(one.code, one.smaller).over.length === 0) ?? least;
  const text = lay(code, smaller);
  return {
    width_mm: box.label_width_mm ?? text.width_mm,
    height_mm: box.label_height_mm,
    print_top_mm: top,
    print_height_mm: height,
    type_mm: text.type_mm,
    lines: text.lines.map((line) => ({ ...line, y_mm: line.y_mm + top })),
    code: code && { ...code, y_mm: code.y_mm + top },
    over: [...codes.over, ...text.over],
    missing: text.missing,
  };
}

interface LaidText {
  readonly type_mm: number;
  readonly width_mm: number;
  readonly lines: readonly LaidLine[];
  readonly over: readonly Overflow[];
  readonly missing: readonly string[];
}

type Words = ReturnType<Lettering["measure"]> & { readonly text: string };

interface Room {
  readonly left: number;
  readonly width: number | null;
  readonly height: number;
  /** Kept free above and below. */
  readonly free: number;
}

/** As large as the room allows, between the least and the greatest type; the first line larger, as far as it fits. */
function layText(
  measured: readonly Words[],
  { left, width, height, free }: Room,
  style: LabelStyle,
  smaller: boolean,
): LaidText {
  const over: Overflow[] = [];
  const others = measured.length - 1;
  const room = width === null ? Number.POSITIVE_INFINITY : Math.max(0, width - left - style.margin_mm);
  const tall = Math.max(0, height - 2 * free);
  const bounds = measured.map((one) => (one.width === 0 ? Number.POSITIVE_INFINITY : room / one.width));
  const wide = Math.min(...bounds, style.most_type_mm);
  const most = Math.min(wide, tall / (LEADING * measured.length));
  const least = smaller ? style.least_type_mm : style.type_mm;
  const fits = most >= least - HAIR;
  // With the first line as large as it should be; it gives that up before the others grow smaller than usual.
  const full = Math.min(wide, tall / (LEADING * (style.first_line + others)));
  const type = !fits ? least : full >= style.type_mm ? full : Math.min(most, style.type_mm);
  const head = fits
    ? Math.max(type, Math.min(type * style.first_line, bounds[0] ?? type, tall / LEADING - others * type))
    : type;
  if (!fits) {
    const cured = most >= style.least_type_mm - HAIR;
    measured.forEach((one, index) => {
      const by = one.width * type - room;
      if (by > HAIR)
        over.push({
          what: "line",
          line: index + 1,
          text: one.text,
          by_mm: hundredths(by),
          fits_smaller: cured,
        });
    });
    const by = LEADING * measured.length * type - tall;
    if (by > HAIR) over.push({ what: "height", line: null, text: null, by_mm: hundredths(by), fits_smaller: cured });
  }
  const used = LEADING * (head + others * type);
  let y = free + Math.max(0, (tall - used) / 2);
  const lines = measured.map((one, index): LaidLine => {
    const size = index === 0 ? head : type;
    const line: LaidLine = {
      text: one.drawn,
      face: index === 0 ? "bold" : "text",
      x_mm: left,
      y_mm: y + BASELINE * size,
      size_mm: size,
      width_mm: one.width * size,
    };
    y += LEADING * size;
    return line;
  });
  return {
    type_mm: type,
    width_mm: left + Math.max(0, ...lines.map((line) => line.width_mm)) + style.margin_mm,
    lines,
    over,
    missing: [...new Set(measured.flatMap((one) => one.missing))],
  };
}

type SizedCode = LaidCode & { readonly quiet_mm: number };

/** One code in the sizes it may have, the greatest first; none, with what is lacking, where there is room for none. */
interface Codes {
  readonly sizes: readonly (SizedCode | null)[];
  readonly over: readonly Overflow[];
}

const NO_CODE: Codes = { sizes: [null], over: [] };

/** Squares of whole printer dots. */
function sizedCodes(
  form: "qr" | "data_matrix",
  says: string,
  width: number | null,
  height: number,
  { style, lettering, dots_per_inch }: LayOptions,
): Codes {
  const symbol: CodeSquares = lettering.symbol(form, says);
  const dot = INCH / dots_per_inch;
  const quiet = style.quiet[form];
  const least = Math.max(style.module_dots, Math.ceil(style.module_mm / dot - HAIR));
  const across = symbol.columns + 2 * quiet;
  const down = symbol.rows + 2 * quiet;
  const lacks = Math.max(least * dot * down - height, width === null ? 0 : least * dot * across - width);
  if (lacks > HAIR)
    return {
      sizes: [null],
      over: [{ what: "code", line: null, text: null, by_mm: hundredths(lacks), fits_smaller: false }],
    };
  const share = width === null ? Number.POSITIVE_INFINITY : (width * style.code_share) / across;
  const room = Math.min(height / down, style.most_module_mm);
  const most = Math.max(least, Math.floor(Math.min(room, share) / dot + HAIR));
  const sizes = Array.from({ length: most - least + 1 }, (_, index): SizedCode => {
    const module_mm = (most - index) * dot;
    const quiet_mm = quiet * module_mm;
    return {
      form,
      says,
      x_mm: Math.max(quiet_mm, style.margin_mm),
      y_mm: (height - symbol.rows * module_mm) / 2,
      module_mm,
      columns: symbol.columns,
      rows: symbol.rows,
      dark: symbol.dark,
      quiet_mm,
    };
  });
  return { sizes, over: [] };
}

const hundredths = (mm: number): number => Math.ceil(mm * 100) / 100;
