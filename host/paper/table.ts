/** Tables on paper: the head stands again on each page, a row stays whole unless it is taller than a page. */
import type { Band, Cell, Chip, Column, Piece, TableBlock, WriteCell } from "../../core/paper/document.ts";
import { say } from "../../core/words/say.ts";
import { INK, MARGIN, QUIET, RULE, type Sheet } from "./sheet.ts";

const SIZE = 8.5;
const PAD = 3;
/** Above and below what stands in a row; of a dense table half of it. */
const padOf = ({ dense }: TableBlock): number => (dense ? PAD / 2 : PAD);
/** Between a number, which stands at the right, and the text of the next column. */
const AFTER_NUMBER = 10;
const SWATCH = 8;
const UNKNOWN = say`not known`;

/** One line of a cell. A chip's swatch stands before its first line. */
interface CellLine {
  readonly text: string;
  readonly chip: Chip | null;
  readonly indent: number;
}
type Laid = readonly CellLine[] | { readonly tick: boolean } | WriteCell;

export function layCell(sheet: Sheet, cell: Cell, width: number): Laid {
  if (cell !== null && typeof cell === "object" && ("tick" in cell || "write" in cell)) return cell;
  const pieces: readonly Piece[] = Array.isArray(cell) ? cell : [cell as Piece];
  return pieces.flatMap((piece): CellLine[] => {
    const chip = typeof piece === "object" && piece !== null ? piece : null;
    const indent = chip?.fill ? (chip.unit ? 2 : 1) * SWATCH + 4 : 0;
    const text = chip ? chip.words : ((piece as string | null) ?? UNKNOWN);
    return sheet
      .lines(text, width - indent, "text", SIZE)
      .map((line, index) => ({ text: line, chip: index === 0 ? chip : null, indent }));
  });
}

const linesIn = (laid: Laid): number => ("length" in laid ? laid.length : 1);
export const heightOf = (sheet: Sheet, laid: Laid): number => linesIn(laid) * sheet.lineHeight(SIZE);

export function drawCell(sheet: Sheet, laid: Laid, x: number, y: number, width: number, numeric = false): void {
  const { pdf } = sheet;
  if (!("length" in laid)) {
    if ("write" in laid) {
      const { beside = "" } = laid;
      sheet.write(sheet.drawable(beside, "text"), x, y, "text", SIZE);
      const taken = beside === "" ? 0 : sheet.widthOf(beside, "text", SIZE) + PAD;
      sheet.rule(x + taken, y + sheet.lineHeight(SIZE), width - taken, 0.7, INK);
      return;
    }
    pdf
      .rect(x, y + 1, 9, 9)
      .lineWidth(0.8)
      .strokeColor(INK)
      .stroke();
    if (laid.tick)
      pdf
        .moveTo(x + 2, y + 5.5)
        .lineTo(x + 4, y + 8)
        .lineTo(x + 7.5, y + 2.5)
        .lineWidth(1.3)
        .stroke();
    return;
  }
  laid.forEach(({ text, chip, indent }, index) => {
    const top = y + index * sheet.lineHeight(SIZE);
    if (chip?.fill) drawChip(sheet, chip, chip.fill, x, top + 1.5);
    const left = numeric ? x + width - sheet.widthOf(text, "text", SIZE) : x + indent;
    sheet.write(text, left, top, "text", SIZE);
  });
}

function drawChip(sheet: Sheet, chip: Chip, fill: string, x: number, y: number): void {
  // A strand lies in its unit: the unit's colour shows on both sides of it.
  if (chip.unit) drawSwatch(sheet, chip.unit, null, x, y, 2 * SWATCH);
  drawSwatch(sheet, fill, chip.stripe, chip.unit ? x + SWATCH / 2 : x, y);
}

function drawSwatch({ pdf }: Sheet, fill: string, stripe: string | null, x: number, y: number, width = SWATCH): void {
  pdf.rect(x, y, width, SWATCH).fillColor(fill).fill();
  if (stripe)
    pdf
      .rect(x, y + SWATCH / 2 - 1.2, width, 2.4)
      .fillColor(stripe)
      .fill();
  pdf.rect(x, y, width, SWATCH).lineWidth(0.6).strokeColor(INK).stroke();
}

/** A table that takes no more than this part of a page stands on one: to leave more of a page empty would be dearer. */
const SHORT = 0.25;
/** So many rows at least stand below the head where a longer one begins. */
const OPENING = 3;

/** So many rows are laid or drawn before other work may breathe. */
const LOT = 200;

/** A table measured: its columns, its head, and how much of it stands together on one page. */
function measured(sheet: Sheet, table: TableBlock) {
  const { caption, columns, rows } = table;
  const pad = padOf(table);
  const widths = widthsOf(sheet, table);
  const lefts = widths.map((_, index) => MARGIN + widths.slice(0, index).reduce((total, width) => total + width, 0));
  const inner = widths.map((width, index) => width - 2 * PAD - afterNumber(columns, index));
  const heads = columns.map(({ head }, index) => sheet.lines(head, inner[index] as number, "bold", SIZE));
  const line = sheet.lineHeight(SIZE);
  const headHeight = Math.max(...heads.map((lines) => lines.length)) * line + 2 * PAD;
  const captions = caption ? sheet.lines(caption, sheet.width, "bold", SIZE) : [];
  const again = caption ? sheet.lines(say`Continued: ${caption}`, sheet.width, "bold", SIZE) : [];
  const roomFor = (lines: readonly string[]): number => (lines.length > 0 ? lines.length * line + 4 : 0);
  const captionHeight = roomFor(again);
  const most = Math.max(1, Math.floor((sheet.tall - captionHeight - headHeight - 2 * pad) / line));
  // A row is laid when its turn comes: a long table isn't held twice.
  const laidOf = (row: readonly Cell[]): (readonly Laid[])[] =>
    split(
      columns.map((_, index) => layCell(sheet, index < row.length ? (row[index] as Cell) : "", inner[index] as number)),
      most,
    );
  const heightOfRow = (row: readonly Laid[]): number => Math.max(...row.map(linesIn)) * line + 2 * pad;
  const bands = new Map(table.bands?.map((band) => [band.at, layBand(sheet, band)]));
  const tall = roomFor(captions) + headHeight;
  let [together, whole] = [tall, tall];
  for (const [index, row] of rows.entries()) {
    const [laid = []] = laidOf(row);
    const height = heightOfRow(laid) + (bands.get(index)?.height ?? 0);
    if (index === 0 || (index < OPENING && whole + height <= sheet.tall * SHORT)) together += height;
    whole += height;
    if (whole > sheet.tall * SHORT) break;
  }
  if (whole <= sheet.tall * SHORT) together = Math.max(whole, tall + line);
  return { lefts, inner, heads, line, headHeight, captions, again, roomFor, laidOf, heightOfRow, bands, together };
}

interface LaidBand {
  readonly title: string;
  readonly text: readonly string[];
  readonly height: number;
}

function layBand(sheet: Sheet, { title, text = [] }: Band): LaidBand {
  const width = sheet.width - 2 * PAD;
  const [first = ""] = sheet.lines(title, width, "bold", SIZE);
  const lines = text.flatMap((one) => sheet.lines(one, width, "text", SIZE));
  return { title: first, text: lines, height: (1 + lines.length) * sheet.lineHeight(SIZE) + 2 * PAD };
}

function drawBand(sheet: Sheet, { title, text, height }: LaidBand): void {
  const line = sheet.lineHeight(SIZE);
  sheet.aside(() => sheet.pdf.rect(MARGIN, sheet.y, sheet.width, height).fillColor("#f4f4f4").fill());
  sheet.tagged("TH", () => {
    sheet.write(title, MARGIN + PAD, sheet.y + PAD, "bold", SIZE);
    text.forEach((words, index) => {
      sheet.write(words, MARGIN + PAD, sheet.y + PAD + (index + 1) * line, "text", SIZE, QUIET);
    });
  });
  sheet.y += height;
  sheet.aside(() => sheet.rule(MARGIN, sheet.y, sheet.width, 0.5, RULE));
}

/** How much of a table has to stand together on the page where it begins. */
export const heldTogether = (sheet: Sheet, table: TableBlock): number => measured(sheet, table).together;

/** @param heard told of each lot of rows that was drawn; what it throws ends the drawing */
export async function drawTable(
  sheet: Sheet,
  table: TableBlock,
  heard: (rows: number) => Promise<void>,
): Promise<void> {
  const { columns, rows, none } = table;
  const { lefts, inner, heads, line, headHeight, captions, again, roomFor, laidOf, heightOfRow, bands, together } =
    measured(sheet, table);
  let under: LaidBand | undefined;

  const drawHead = (): void => {
    sheet.aside(() => sheet.pdf.rect(MARGIN, sheet.y, sheet.width, headHeight).fillColor("#e8e8e8").fill());
    heads.forEach((lines, index) => {
      sheet.tagged("TH", () => {
        lines.forEach((text, at) => {
          const shift = columns[index]?.numeric ? (inner[index] as number) - sheet.widthOf(text, "bold", SIZE) : 0;
          sheet.write(text, (lefts[index] as number) + PAD + shift, sheet.y + PAD + at * line, "bold", SIZE);
        });
      });
    });
    sheet.y += headHeight;
    sheet.aside(() => sheet.rule(MARGIN, sheet.y, sheet.width, 0.9, INK));
  };

  const drawCaption = (lines: readonly string[]): void => {
    lines.forEach((text, at) => {
      sheet.write(text, MARGIN, sheet.y + at * line, "bold", SIZE);
    });
  };

  const drawGoingOn = ({ title }: LaidBand): void => {
    const [words = ""] = sheet.lines(say`Continued: ${title}`, sheet.width - 2 * PAD, "bold", SIZE);
    sheet.write(words, MARGIN + PAD, sheet.y + PAD, "bold", SIZE, QUIET);
    sheet.y += line + 2 * PAD;
    sheet.rule(MARGIN, sheet.y, sheet.width, 0.5, RULE);
  };

  sheet.room(together);
  if (captions.length > 0) sheet.tagged("Caption", () => drawCaption(captions));
  sheet.y += roomFor(captions);
  drawHead();
  const draw = (row: readonly Laid[], band?: LaidBand): void => {
    const height = heightOfRow(row);
    if (sheet.room(height + (band?.height ?? 0))) {
      // A page that is taken out by itself says which table it goes on with; who listens has heard it.
      if (again.length > 0) sheet.aside(() => drawCaption(again));
      sheet.y += roomFor(again);
      drawHead();
      if (under && !band) sheet.aside(() => drawGoingOn(under as LaidBand));
    }
    if (band) drawBand(sheet, band);
    under = band ?? under;
    row.forEach((laid, index) => {
      // Where rows lie close together, the rule below them is the line one writes on.
      if (table.dense && "write" in laid && laid.beside === undefined) return;
      const x = (lefts[index] as number) + PAD;
      const cell = () =>
        drawCell(sheet, laid, x, sheet.y + padOf(table), inner[index] as number, columns[index]?.numeric);
      sheet.tagged("TD", cell);
    });
    sheet.y += height;
    sheet.aside(() => sheet.rule(MARGIN, sheet.y, sheet.width, 0.5, RULE));
  };
  if (rows.length === 0) {
    const laid = layCell(sheet, none ?? say`none`, sheet.width - 2 * PAD);
    sheet.tagged("TD", () => drawCell(sheet, laid, MARGIN + PAD, sheet.y + PAD, sheet.width - 2 * PAD));
    sheet.y += heightOf(sheet, laid) + 2 * PAD;
    sheet.aside(() => sheet.rule(MARGIN, sheet.y, sheet.width, 0.5, RULE));
  }
  for (let from = 0; from < rows.length; from += LOT) {
    const lot = rows.slice(from, from + LOT);
    for (const [index, row] of lot.entries())
      laidOf(row).forEach((part, at) => {
        draw(part, at === 0 ? bands.get(from + index) : undefined);
      });
    await heard(lot.length);
  }
  sheet.y += 8;
}

const afterNumber = (columns: TableBlock["columns"], index: number): number => {
  const next = columns[index + 1];
  return columns[index]?.numeric && next && !next.numeric ? AFTER_NUMBER : 0;
};

/** By the columns' shares, but none so narrow that a word of it or a number would be broken, while there is room for that. */
function widthsOf(sheet: Sheet, { columns, rows }: TableBlock): number[] {
  const fair = sheet.width / columns.length;
  const wanted = columns.map((column, index) => {
    const pad = 2 * PAD + afterNumber(columns, index);
    const head = Math.max(
      ...words(sheet.drawable(column.head, "bold")).map((word) => sheet.widthOf(word, "bold", SIZE)),
    );
    return Math.max(head, unbroken(sheet, column, index, rows)) + pad + 0.1;
  });
  // Where all have room, a narrow column of many may be wider than its part.
  const least =
    wanted.reduce((sum, width) => sum + width, 0) <= sheet.width
      ? wanted
      : wanted.map((width) => Math.min(fair, width));
  const held = new Set<number>();
  for (;;) {
    const rest = sheet.width - [...held].reduce((sum, index) => sum + (least[index] as number), 0);
    const shares = columns.map(({ weight = 1 }, index) => (held.has(index) ? 0 : weight));
    const sum = shares.reduce((total, share) => total + share, 0);
    const widths = shares.map((share, index) => (held.has(index) ? (least[index] as number) : (share / sum) * rest));
    const narrow = widths.flatMap((width, index) => (width < (least[index] as number) ? [index] : []));
    if (narrow.length === 0) return widths;
    for (const index of narrow) held.add(index);
  }
}

/** A row taller than a page goes on in further rows; any other stays as it is. */
function split(row: readonly Laid[], most: number): (readonly Laid[])[] {
  const parts = Math.ceil(Math.max(...row.map(linesIn)) / most);
  return Array.from({ length: Math.max(parts, 1) }, (_, part) =>
    row.map((laid): Laid => ("length" in laid ? laid.slice(part * most, (part + 1) * most) : part === 0 ? laid : [])),
  );
}

const words = (text: string): string[] => text.split(/\s/);

/** So many letters fewer a word may have and still be the wider one: letters differ. */
const LETTERS = 3;

/** Room of what must not be broken in a column: of a number all of it, of text and colours their widest word. */
function unbroken(sheet: Sheet, { numeric }: Column, index: number, rows: TableBlock["rows"]): number {
  let [longest, widest, indent] = [0, 0, 0];
  for (const row of rows) {
    const cell = row[index] ?? null;
    if (typeof cell === "object" && cell !== null && ("tick" in cell || "write" in cell)) continue;
    for (const piece of (Array.isArray(cell) ? cell : [cell]) as readonly Piece[]) {
      const chip = typeof piece === "object" && piece !== null;
      if (chip && piece.fill) indent = (piece.unit ? 2 : 1) * SWATCH + 4;
      const text = chip ? piece.words : (piece ?? UNKNOWN);
      for (const word of numeric && /\d/.test(text) ? [text] : words(text)) {
        if (word.length + LETTERS <= longest) continue;
        longest = Math.max(longest, word.length);
        widest = Math.max(widest, sheet.widthOf(sheet.drawable(word, "text"), "text", SIZE));
      }
    }
  }
  return widest + indent;
}
