/** The writer of PDFs as it is handed to whoever answers a window. */
import type { Document, PaperSize } from "../../core/paper/document.ts";
import { isLabelPaper, type LabelPaper } from "../../core/paper/label-paper.ts";
import type { Heard, Printed } from "./pdf.ts";

/** Fonts and codes are loaded when something is printed for the first time. */
export async function press(document: Document | LabelPaper, size: PaperSize, heard?: Heard): Promise<Printed> {
  if (isLabelPaper(document)) {
    const { labelsPdf } = await import("./label-pdf.ts");
    return labelsPdf(document, heard);
  }
  const { pdfOf } = await import("./pdf.ts");
  return pdfOf(document, size, heard);
}
