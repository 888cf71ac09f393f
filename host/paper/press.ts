/** The writer of PDFs as it is handed to whoever answers a window. */
import type { Document, PaperSize } from "../../core/paper/document.ts";
import type { Printed } from "./pdf.ts";

/** Fonts and codes are loaded when something is printed for the first time. */
export async function press(document: Document, size: PaperSize): Promise<Printed> {
  const { pdfOf } = await import("./pdf.ts");
  return pdfOf(document, size);
}
