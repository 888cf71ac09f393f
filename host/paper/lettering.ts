/** Measures letters in the faces that paper is written in, and makes codes. */
import bwip from "bwip-js/node";
import PDFDocument from "pdfkit";
import type { CodeSquares, Lettering } from "../../core/ports.ts";
import { drawable, registerFaces } from "./letters.ts";

/** Nothing is ever drawn on it. */
const ruler = new PDFDocument({ autoFirstPage: false });
registerFaces(ruler);

/** Widths are measured at a size at which no rounding shows. */
const LARGE = 1000;

/** Making a code takes some milliseconds, and a label is drawn again with each key that is typed: so many are kept. */
const KEPT = 5000;
const codes = new Map<string, CodeSquares>();

function kept(key: string, make: () => CodeSquares): CodeSquares {
  const known = codes.get(key);
  if (known) return known;
  const made = make();
  const [oldest] = codes.keys();
  if (codes.size >= KEPT && oldest !== undefined) codes.delete(oldest);
  codes.set(key, made);
  return made;
}

export const lettering: Lettering = {
  measure(text, face) {
    const missing = new Set<string>();
    const drawn = drawable(ruler, text, face, missing);
    const width = ruler.font(face).fontSize(LARGE).widthOfString(drawn) / LARGE;
    return { drawn, width, missing: [...missing] };
  },
  symbol: (form, says) => kept(`${form} ${says}`, () => codeSquares(form, says)),
};

function codeSquares(form: "qr" | "data_matrix", says: string): CodeSquares {
  const options =
    form === "qr" ? { bcid: "qrcode", text: says, eclevel: "M" } : { bcid: "datamatrix", text: says, format: "square" };
  // The default export's `raw`: the export of that name by itself is a kind of bar code.
  const [symbol] = bwip.raw(options as Parameters<typeof bwip.raw>[0]);
  if (!symbol || !("pixs" in symbol)) throw new Error("the code came without squares");
  const { pixs, pixx, pixy } = symbol as { pixs: readonly number[]; pixx: number; pixy: number };
  return { columns: pixx, rows: pixy, dark: Array.from(pixs, (dark) => (dark ? "1" : "0")).join("") };
}
