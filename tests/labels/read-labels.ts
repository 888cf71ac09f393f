/**
 * Reads a PDF of labels back: its pages in millimetres, each text with its place, each filled square, and what decoders of
 * other makers find in the squares. Nothing here knows how the labels were laid out.
 */
import { BinaryBitmap, DataMatrixReader, HybridBinarizer, RGBLuminanceSource } from "@zxing/library";
import jsQR from "jsqr";
import { getDocument, OPS } from "pdfjs-dist/legacy/build/pdf.mjs";

/** Its own types say that the module is what it exports by default. */
const decodeQr = jsQR as unknown as (
  picture: Uint8ClampedArray,
  width: number,
  height: number,
) => { readonly data: string } | null;

const MM = 25.4 / 72;

export interface Box {
  readonly x_mm: number;
  readonly y_mm: number;
  readonly width_mm: number;
  readonly height_mm: number;
}

export interface ReadLabelPage {
  readonly width_mm: number;
  readonly height_mm: number;
  /** Where each text begins, and where its letters stand, from the upper left corner. */
  readonly texts: readonly {
    readonly text: string;
    readonly x_mm: number;
    readonly y_mm: number;
    readonly size_mm: number;
  }[];
  /** Filled rectangles, and outlines by what they enclose. */
  readonly filled: readonly Box[];
  readonly outlined: readonly Box[];
}

export async function readLabels(bytes: Uint8Array): Promise<ReadLabelPage[]> {
  const pdf = await getDocument({ data: new Uint8Array(bytes), verbosity: 0 }).promise;
  const pages: ReadLabelPage[] = [];
  for (let number = 1; number <= pdf.numPages; number += 1) {
    const page = await pdf.getPage(number);
    const { width, height } = page.getViewport({ scale: 1 });
    const { items } = await page.getTextContent();
    const texts = items.flatMap((item) =>
      "str" in item && item.str.trim() !== ""
        ? [
            {
              text: item.str,
              x_mm: item.transform[4] * MM,
              y_mm: (height - item.transform[5]) * MM,
              size_mm: item.transform[3] * MM,
            },
          ]
        : [],
    );
    const { fnArray, argsArray } = await page.getOperatorList();
    const filled: Box[] = [];
    const outlined: Box[] = [];
    fnArray.forEach((fn, at) => {
      if (fn !== OPS.constructPath) return;
      const [paint, [path], bounds] = argsArray[at] as [number, [Record<number, number>], Record<number, number>];
      if (paint === OPS.fill) filled.push(...rectangles(Object.values(path)));
      if (paint === OPS.stroke) outlined.push(boxOf(Object.values(bounds)));
    });
    pages.push({ width_mm: width * MM, height_mm: height * MM, texts, filled, outlined });
  }
  await pdf.destroy();
  return pages;
}

const boxOf = ([left = 0, top = 0, right = 0, bottom = 0]: readonly number[]): Box => ({
  x_mm: left * MM,
  y_mm: top * MM,
  width_mm: (right - left) * MM,
  height_mm: (bottom - top) * MM,
});

/** The reader gives a path as numbers: 0 x y begins, 1 x y goes on, 4 closes. */
function rectangles(path: readonly number[]): Box[] {
  const boxes: Box[] = [];
  let xs: number[] = [];
  let ys: number[] = [];
  for (let at = 0; at < path.length; ) {
    const op = path[at] as number;
    if (op === 4) {
      boxes.push(boxOf([Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)]));
      at += 1;
      continue;
    }
    if (op !== 0 && op !== 1) throw new Error(`a path of more than straight lines (${op})`);
    if (op === 0) [xs, ys] = [[], []];
    xs.push(path[at + 1] as number);
    ys.push(path[at + 2] as number);
    at += 3;
  }
  return boxes;
}

/** Fine enough that the smallest square has several points. */
const POINTS_TO_MM = 24;

/** The part of a page as a picture, dark on white. */
function picture({ filled }: ReadLabelPage, part: Box): { width: number; height: number; grey: Uint8ClampedArray } {
  const width = Math.round(part.width_mm * POINTS_TO_MM);
  const height = Math.round(part.height_mm * POINTS_TO_MM);
  const grey = new Uint8ClampedArray(width * height).fill(255);
  for (const box of filled) {
    const left = Math.max(0, Math.round((box.x_mm - part.x_mm) * POINTS_TO_MM));
    const right = Math.min(width, Math.round((box.x_mm + box.width_mm - part.x_mm) * POINTS_TO_MM));
    const top = Math.max(0, Math.round((box.y_mm - part.y_mm) * POINTS_TO_MM));
    const bottom = Math.min(height, Math.round((box.y_mm + box.height_mm - part.y_mm) * POINTS_TO_MM));
    for (let y = top; y < bottom; y += 1) grey.fill(0, y * width + left, Math.max(y * width + left, y * width + right));
  }
  return { width, height, grey };
}

/** What a QR code in a part of a page says; null where there is none. */
export function qrIn(page: ReadLabelPage, part: Box): string | null {
  const { width, height, grey } = picture(page, part);
  const colours = new Uint8ClampedArray(width * height * 4);
  for (const [at, shade] of grey.entries()) colours.set([shade, shade, shade, 255], at * 4);
  return decodeQr(colours, width, height)?.data ?? null;
}

/** What a Data Matrix in a part of a page says. The decoder begins to look in the middle, so it gets the dark part with a rim. */
export function dataMatrixIn(page: ReadLabelPage, part: Box): string | null {
  const dark = darkIn(page, part);
  const rim = { x_mm: dark.x_mm - 1, y_mm: dark.y_mm - 1, width_mm: dark.width_mm + 2, height_mm: dark.height_mm + 2 };
  const { width, height, grey } = picture(page, rim);
  const bitmap = new BinaryBitmap(new HybridBinarizer(new RGBLuminanceSource(grey, width, height)));
  try {
    return new DataMatrixReader().decode(bitmap).getText();
  } catch {
    return null;
  }
}

/** The smallest box around all that is filled in a part of a page. */
export function darkIn({ filled }: ReadLabelPage, part: Box): Box {
  const inside = filled.filter(
    ({ x_mm, y_mm }) =>
      x_mm >= part.x_mm - 0.01 &&
      y_mm >= part.y_mm - 0.01 &&
      x_mm < part.x_mm + part.width_mm &&
      y_mm < part.y_mm + part.height_mm,
  );
  const left = Math.min(...inside.map(({ x_mm }) => x_mm));
  const top = Math.min(...inside.map(({ y_mm }) => y_mm));
  return {
    x_mm: left,
    y_mm: top,
    width_mm: Math.max(...inside.map(({ x_mm, width_mm }) => x_mm + width_mm)) - left,
    height_mm: Math.max(...inside.map(({ y_mm, height_mm }) => y_mm + height_mm)) - top,
  };
}
