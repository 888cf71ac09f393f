/** Measures letters in the faces that paper is written in, and makes codes. */
import bwip from "bwip-js/node";
import PDFDocument from "pdfkit";
import encodeQR from "qr";
import type { CodeSquares, Lettering } from "../../core/ports.ts";
import { drawable, registerFaces } from "./letters.ts";

/** Nothing is ever drawn on it. */
const ruler = new PDFDocument({ autoFirstPage: false });
registerFaces(ruler);

/** Widths are measured at a size at which no rounding shows. */
const LARGE = 1000;

/** A label is drawn again with each key that is typed, and a tray's code takes some milliseconds: so many are kept. */
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
  symbol: (form, says) => kept(`${form} ${says}`, () => (form === "qr" ? qrSquares(says) : dataMatrixSquares(says))),
};

/** Error correction M, by bytes; a stack of labels has one for each, which the library for all codes is too slow for. */
function qrSquares(says: string): CodeSquares {
  // The library draws at least one square of the quiet zone; labels and papers keep their own, of the standard's width.
  const framed = encodeQR(says, "raw", { ecc: "medium", encoding: "byte", border: 1 });
  const rows = framed.slice(1, -1).map((row) => row.slice(1, -1));
  return {
    columns: rows.length,
    rows: rows.length,
    dark: rows.map((row) => row.map((dark) => (dark ? "1" : "0")).join("")).join(""),
  };
}

function dataMatrixSquares(says: string): CodeSquares {
  // The default export's `raw`: the export of that name by itself is a kind of bar code.
  const [symbol] = bwip.raw({ bcid: "datamatrix", text: says, format: "square" } as Parameters<typeof bwip.raw>[0]);
  if (!symbol || !("pixs" in symbol)) throw new Error("the code came without squares");
  const { pixs, pixx, pixy } = symbol as { pixs: readonly number[]; pixx: number; pixy: number };
  return { columns: pixx, rows: pixy, dark: Array.from(pixs, (dark) => (dark ? "1" : "0")).join("") };
}
