/** Reads a PDF back with another program's reader: its text by page, and where each piece of text stands. */
import { getDocument } from "pdfjs-dist/legacy/build/pdf.mjs";

export interface ReadText {
  readonly text: string;
  /** Points from the left and from the foot of the page. */
  readonly left: number;
  readonly right: number;
  readonly foot: number;
}
export interface ReadPage {
  readonly width: number;
  readonly height: number;
  readonly pieces: readonly ReadText[];
  readonly text: string;
}
export interface ReadPdf {
  readonly pages: readonly ReadPage[];
  readonly text: string;
  readonly info: Readonly<Record<string, unknown>>;
  readonly outline: readonly string[];
}

export async function readPdf(bytes: Uint8Array): Promise<ReadPdf> {
  const pdf = await getDocument({ data: new Uint8Array(bytes), useSystemFonts: false, verbosity: 0 }).promise;
  const pages: ReadPage[] = [];
  for (let number = 1; number <= pdf.numPages; number++) {
    const page = await pdf.getPage(number);
    const { width, height } = page.getViewport({ scale: 1 });
    const { items } = await page.getTextContent();
    const pieces = items.flatMap((item) =>
      "str" in item && item.str.trim() !== ""
        ? [{ text: item.str, left: item.transform[4], right: item.transform[4] + item.width, foot: item.transform[5] }]
        : [],
    );
    pages.push({ width, height, pieces, text: pieces.map(({ text }) => text).join("\n") });
  }
  const { info } = await pdf.getMetadata();
  const outline = ((await pdf.getOutline()) ?? []).map(({ title }) => title);
  await pdf.destroy();
  return { pages, text: pages.map(({ text }) => text).join("\n"), info: info as Record<string, unknown>, outline };
}
