/** Writes labels to PDF, each thing exactly where the layout puts it. The same labels make the same bytes. */
import PDFDocument from "pdfkit";
import type { LabelPage, LabelPaper, LaidCode, Outline } from "../../core/paper/label-paper.ts";
import { spokenCode } from "../../core/words/language.ts";
import { registerFaces } from "./letters.ts";
import type { Heard, Printed } from "./pdf.ts";
import { INK } from "./sheet.ts";

/** Points to the millimetre. */
const MM = 72 / 25.4;
const HAIRLINE = 0.3;

/** Of what pdfkit keeps, the wishes to whoever shows the file. */
interface Rooted {
  readonly _root: { readonly data: { readonly ViewerPreferences: { readonly data: Record<string, unknown> } } };
}

/** @param heard told of each page that was drawn; what it throws ends the drawing */
export async function labelsPdf(
  { title, made_on, pages, missing }: LabelPaper,
  heard: Heard = async () => {},
): Promise<Printed> {
  const made = new Date(`${made_on}T00:00:00Z`);
  const pdf = new PDFDocument({
    autoFirstPage: false,
    pdfVersion: "1.7",
    lang: spokenCode(),
    displayTitle: true,
    info: { Title: title, Creator: "Strandbook", Producer: "Strandbook", CreationDate: made, ModDate: made },
  });
  registerFaces(pdf);
  const pieces: Buffer[] = [];
  const whole = new Promise<void>((resolve, reject) => {
    pdf.on("data", (piece: Buffer) => pieces.push(piece));
    pdf.on("end", resolve);
    pdf.on("error", reject);
  });
  // Whoever prints at another size than the page's own spoils every measure: the reader is asked not to scale.
  (pdf as unknown as Rooted)._root.data.ViewerPreferences.data.PrintScaling = "None";
  for (const [index, page] of pages.entries()) {
    drawPage(pdf, page);
    await heard(index + 1, pages.length);
  }
  pdf.end();
  await whole;
  return { bytes: Buffer.concat(pieces), pages: pages.length, missing };
}

function drawPage(pdf: PDFKit.PDFDocument, page: LabelPage): void {
  pdf.addPage({ size: [page.width_mm * MM, page.height_mm * MM], margin: 0 });
  for (const outline of page.outlines) drawOutline(pdf, outline);
  for (const [x, y, toX, toY] of page.rules) drawRule(pdf, x, y, toX, toY);
  for (const code of page.codes) drawCode(pdf, code);
  pdf.fillColor(INK);
  for (const { text, face, x_mm, y_mm, size_mm } of page.lines) {
    if (text === "") continue;
    pdf
      .font(face)
      .fontSize(size_mm * MM)
      .text(text, x_mm * MM, y_mm * MM, { lineBreak: false, baseline: "alphabetic" });
  }
}

/** Neighbouring dark squares of a row are one bar: a printer leaves no hair between them. */
function drawCode(pdf: PDFKit.PDFDocument, { x_mm, y_mm, module_mm, columns, rows, dark }: LaidCode): void {
  pdf.fillColor("#000000");
  for (let row = 0; row < rows; row += 1) {
    for (const bar of dark.slice(row * columns, (row + 1) * columns).matchAll(/1+/g)) {
      pdf.rect(
        (x_mm + bar.index * module_mm) * MM,
        (y_mm + row * module_mm) * MM,
        bar[0].length * module_mm * MM,
        module_mm * MM,
      );
    }
  }
  pdf.fill();
}

function drawOutline(pdf: PDFKit.PDFDocument, { x_mm, y_mm, width_mm, height_mm, corner_mm }: Outline): void {
  pdf.lineWidth(HAIRLINE).strokeColor(INK);
  const box = [x_mm * MM, y_mm * MM, width_mm * MM, height_mm * MM] as const;
  if (corner_mm > 0) pdf.roundedRect(...box, corner_mm * MM).stroke();
  else pdf.rect(...box).stroke();
}

/** A rule with a stroke across at either end. */
function drawRule(pdf: PDFKit.PDFDocument, x: number, y: number, toX: number, toY: number): void {
  const [dx, dy] = x === toX ? [1.5, 0] : [0, 1.5];
  pdf.lineWidth(HAIRLINE).strokeColor(INK);
  pdf.moveTo(x * MM, y * MM).lineTo(toX * MM, toY * MM);
  for (const [atX, atY] of [
    [x, y],
    [toX, toY],
  ] as const)
    pdf.moveTo((atX - dx) * MM, (atY - dy) * MM).lineTo((atX + dx) * MM, (atY + dy) * MM);
  pdf.stroke();
}
