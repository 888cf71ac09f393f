/** The faces that paper is written in, and what they can draw. */
import { createRequire } from "node:module";

export type Face = "text" | "bold";

const find = createRequire(import.meta.url);
const FONTS: Readonly<Record<Face, string>> = {
  text: find.resolve("dejavu-fonts-ttf/ttf/DejaVuSansCondensed.ttf"),
  bold: find.resolve("dejavu-fonts-ttf/ttf/DejaVuSansCondensed-Bold.ttf"),
};

export function registerFaces(pdf: PDFKit.PDFDocument): void {
  for (const face of ["text", "bold"] as const) pdf.registerFont(face, FONTS[face]);
}

/** Of what pdfkit keeps for a face, the part that says which characters it can draw. */
interface Drawn {
  readonly _font: { readonly font: { hasGlyphForCodePoint(code: number): boolean } };
}

const HELD = "\u00a0";
const spaced = (text: string): string =>
  text.replace(/[\u00a0\u2007\u2009\u202f]|(?<=±) /gu, HELD).replace(/[\t\r]|(?!\u00a0)\p{Zs}/gu, " ");

/**
 * What can be drawn of a text: a character the font lacks is written by its code, never left out, and put among `missing`.
 * The spaces within a number and before its unit stay of a kind at which no line breaks.
 */
export function drawable(pdf: PDFKit.PDFDocument, text: string, face: Face, missing: Set<string>): string {
  pdf.font(face);
  const { font } = (pdf as unknown as Drawn)._font;
  let all = "";
  for (const character of spaced(text.normalize("NFC"))) {
    const code = character.codePointAt(0) as number;
    if (character === "\n" || font.hasGlyphForCodePoint(code)) all += character;
    else {
      missing.add(character);
      all += `[U+${code.toString(16).toUpperCase().padStart(4, "0")}]`;
    }
  }
  return all;
}
