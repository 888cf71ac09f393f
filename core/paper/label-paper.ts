/**
 * Labels as they lie on their pages, as a plain tree that survives JSON. Everything has its exact place: a writer to paper
 * and a window draw the same. Millimetres from the page's upper left corner.
 */

export interface LaidLine {
  readonly text: string;
  readonly face: "text" | "bold";
  readonly x_mm: number;
  /** Where its letters stand. */
  readonly y_mm: number;
  /** Height of the type. */
  readonly size_mm: number;
  readonly width_mm: number;
}

export interface LaidCode {
  readonly form: "qr" | "data_matrix";
  readonly says: string;
  /** The symbol itself, without the quiet zone round it. */
  readonly x_mm: number;
  readonly y_mm: number;
  readonly module_mm: number;
  readonly columns: number;
  readonly rows: number;
  /** Row by row, `1` for a dark square. */
  readonly dark: string;
}

export interface Outline {
  readonly x_mm: number;
  readonly y_mm: number;
  readonly width_mm: number;
  readonly height_mm: number;
  readonly corner_mm: number;
}

export interface LabelPage {
  readonly width_mm: number;
  readonly height_mm: number;
  readonly lines: readonly LaidLine[];
  readonly codes: readonly LaidCode[];
  /** Drawn on a test page only. */
  readonly outlines: readonly Outline[];
  /** Rules of a known length, to be measured on a test page; from, to. */
  readonly rules: readonly (readonly [x_mm: number, y_mm: number, to_x_mm: number, to_y_mm: number])[];
}

export interface LabelPaper {
  /** Tells it from any other answer. */
  readonly paper: "labels";
  readonly title: string;
  /** `YYYY-MM-DD`; the same input makes the same bytes. */
  readonly made_on: string;
  readonly pages: readonly LabelPage[];
  /** How many labels are on the pages. */
  readonly labels: number;
  /** Characters that the letters lack; each stands by its code. */
  readonly missing: readonly string[];
  /** Labels that are on none of them, with the first reasons: their name and why they don't fit or can't be worded. */
  readonly left_out: {
    readonly labels: number;
    readonly why: readonly { readonly record: string; readonly reason: string }[];
  };
}

export const isLabelPaper = (value: unknown): value is LabelPaper =>
  typeof value === "object" && value !== null && "paper" in value && value.paper === "labels" && "pages" in value;
