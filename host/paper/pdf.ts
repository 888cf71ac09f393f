/** Writes a document to PDF. The same document makes the same bytes: nothing comes from the clock. */
import { shownDay } from "../../core/model/wording.ts";
import type { Block, Document, NoteSign, PaperSize } from "../../core/paper/document.ts";
import { plural } from "../../core/words/counted.ts";
import { say } from "../../core/words/say.ts";
import { drawCampus, heightOfCampus } from "./campus-drawing.ts";
import { drawFace, heightOfFace } from "./face-drawing.ts";
import { keepPdf } from "./keep.ts";
import { drawLine } from "./line-drawing.ts";
import { drawOpening } from "./opening-drawing.ts";
import { drawQr, QR_SIDE } from "./qr.ts";
import { drawSection } from "./section-drawing.ts";
import { type Face, INK, MARGIN, QUIET, Sheet } from "./sheet.ts";
import { drawCell, drawTable, heightOf, heldTogether, layCell } from "./table.ts";
import { drawWalls } from "./walls-drawing.ts";

export interface Printed {
  readonly bytes: Buffer;
  readonly pages: number;
  /** Characters that the fonts lack; each stands by its code on the paper. */
  readonly missing: readonly string[];
}

const BODY = 9.5;
const SIGNS: Readonly<Record<NoteSign, { readonly sign: string; readonly word: string; readonly edge: number }>> = {
  danger: { sign: "⚠", word: say`DANGER`, edge: 2.4 },
  caution: { sign: "⚠", word: say`Caution`, edge: 1.4 },
  note: { sign: "ℹ", word: say`Note`, edge: 0.6 },
};

/** Told how many rows of its tables, or pages of labels, are drawn; it may breathe, and what it throws ends the printing. */
export type Heard = (done: number, total: number) => Promise<void>;

export async function pdfOf(document: Document, size: PaperSize, heard: Heard = async () => {}): Promise<Printed> {
  const rows = document.blocks.reduce((sum, block) => sum + (block.is === "table" ? block.rows.length : 0), 0);
  let drawn = 0;
  const drew = (more: number): Promise<void> => {
    drawn += more;
    return heard(drawn, rows);
  };
  const { title } = document;
  const sheet = new Sheet(size, title.what, new Date(`${title.made_on}T00:00:00Z`), document.lying);
  drawTitle(sheet, document);
  for (const [index, block] of document.blocks.entries()) {
    if (block.is === "heading") keepWithNext(sheet, document.blocks.slice(index + 1));
    if (block.is === "table") await drawTable(sheet, block, drew);
    else drawBlock(sheet, block);
  }
  const foot = [
    title.what,
    title.plant,
    shownDay(title.made_on),
    title.revision === null ? "" : say`revision ${title.revision}`,
    title.content ? say`content ${title.content.slice(0, 16)}` : "",
  ]
    .filter(Boolean)
    .join(" · ");
  if (sheet.missing.length > 0) {
    const codes = sheet.missing.map(
      (character) => `U+${character.codePointAt(0)?.toString(16).toUpperCase().padStart(4, "0")}`,
    );
    const text = plural(
      codes.length,
      "The fonts of this paper lack a character, printed by code in brackets: {1}.",
      "The fonts of this paper lack some characters, printed by code in brackets: {1}.",
      codes.join(", "),
    );
    drawBlock(sheet, { is: "note", sign: "note", text });
  }
  const { missing } = sheet;
  return { ...(await sheet.finish(foot)), missing };
}

/**
 * Writes a document to a file, which gets its name when it is whole.
 * @param replace puts it in the place of an older PDF; nothing else is ever replaced
 * @throws Refusal `file` when the name is taken, its folder isn't there or can't be written
 */
export async function writePdf(
  document: Document,
  size: PaperSize,
  path: string,
  { replace = false }: { readonly replace?: boolean } = {},
): Promise<Omit<Printed, "bytes">> {
  const { bytes, ...told } = await pdfOf(document, size);
  await keepPdf(bytes, path, { replace });
  return told;
}

function drawTitle(sheet: Sheet, { title }: Document): void {
  const top = sheet.y;
  const side = title.code ? QR_SIDE + 8 : 0;
  text(sheet, "H1", title.what, "bold", 17, sheet.width - side);
  const facts = [
    title.plant,
    say`made on ${shownDay(title.made_on)}`,
    title.revision === null ? "" : say`revision ${title.revision} of the record`,
    title.who === null ? "" : say`by ${title.who}`,
  ].filter(Boolean);
  text(sheet, "P", facts.join(" · "), "text", BODY, sheet.width - side, QUIET);
  if (title.code) {
    const { code } = title;
    const x = MARGIN + sheet.width - QR_SIDE;
    sheet.tagged("Figure", () => drawQr(sheet, code, x, top - 6));
    const y = top + QR_SIDE - 8;
    const lines = sheet.lines(code.words, QR_SIDE, "text", 7.5);
    sheet.tagged("P", () => {
      lines.forEach((line, index) => {
        sheet.write(line, x + 8, y + index * sheet.lineHeight(7.5), "text", 7.5);
      });
    });
    sheet.y = Math.max(sheet.y, y + lines.length * sheet.lineHeight(7.5));
  }
  sheet.y += 4;
  sheet.aside(() => sheet.rule(MARGIN, sheet.y, sheet.width, 1.2, INK));
  sheet.y += 10;
}

const HEADING = 30;

/** More lines than these are more than the words that lead to a table. */
const LEADING = 6;

/** A heading doesn't stand at the foot of a page by itself, nor with further headings alone or words that lead to a table. */
function keepWithNext(sheet: Sheet, after: readonly Block[]): void {
  const further = after.findIndex(({ is }) => is !== "heading");
  const [first, second] = [after[further], after[further + 1]];
  const lines = first?.is === "paragraph" ? sheet.lines(first.text, sheet.width, "text", BODY).length : 0;
  const leads = lines > 0 && lines <= LEADING && (second?.is === "table" || second?.is === "face");
  const next = leads ? second : first;
  const headings = HEADING * (1 + Math.max(0, further)) + (leads ? lines * sheet.lineHeight(BODY) + 5 : 0);
  // A table and a face say themselves how much of them stands together; the heading is a line and its room.
  if (next?.is === "table") sheet.room(headings + heldTogether(sheet, next));
  else if (next?.is === "face") sheet.room(headings + heightOfFace(sheet, next.drawing));
  else if (next?.is === "campus") sheet.room(headings + heightOfCampus(sheet, next.drawing, headings));
  else
    sheet.room(headings - HEADING + (next?.is === "line" || next?.is === "opening" || next?.is === "walls" ? 190 : 70));
}

function drawBlock(sheet: Sheet, block: Exclude<Block, { is: "table" }>): void {
  switch (block.is) {
    case "heading":
      sheet.y += block.level === 1 ? 8 : 4;
      if (block.level === 1) sheet.outline(sheet.drawable(block.text, "bold"));
      text(sheet, block.level === 1 ? "H2" : "H3", block.text, "bold", block.level === 1 ? 13 : 10.5);
      sheet.y += 3;
      return;
    case "paragraph":
      text(sheet, "P", block.text, "text", BODY);
      sheet.y += 5;
      return;
    case "note":
      drawNote(sheet, block.sign, block.text);
      return;
    case "values":
      drawValues(sheet, block.rows);
      return;
    case "line":
      drawLine(sheet, block.drawing);
      return;
    case "opening":
      drawOpening(sheet, block.drawing);
      return;
    case "walls":
      drawWalls(sheet, block.drawing);
      return;
    case "face":
      drawFace(sheet, block.drawing);
      return;
    case "campus":
      drawCampus(sheet, block.drawing);
      return;
    case "section":
      drawSection(sheet, block.drawing);
      return;
    case "code": {
      sheet.room(QR_SIDE + 4);
      const { code } = block;
      const { y } = sheet;
      sheet.tagged("Figure", () => drawQr(sheet, code, MARGIN, y));
      sheet.y = y + QR_SIDE;
      text(sheet, "P", code.words, "text", BODY);
      sheet.y += 6;
      return;
    }
    case "sign":
      drawSigns(sheet, block.roles);
      return;
    case "page":
      sheet.newPage();
  }
}

/** Text over the width, over as many pages as it needs. */
function text(
  sheet: Sheet,
  tag: string,
  words: string,
  face: Face,
  size: number,
  width = sheet.width,
  colour = INK,
): void {
  const height = sheet.lineHeight(size);
  const lines = sheet.lines(words, width, face, size);
  while (lines.length > 0) {
    // Never a single line of several before the page ends.
    sheet.room(height * Math.min(2, lines.length));
    const part = lines.splice(0, Math.max(1, Math.floor((sheet.bottom - sheet.y) / height)));
    sheet.tagged(tag, () => {
      part.forEach((line, index) => {
        sheet.write(line, MARGIN, sheet.y + index * height, face, size, colour);
      });
    });
    sheet.y += part.length * height;
  }
}

function drawNote(sheet: Sheet, kind: NoteSign, words: string): void {
  const { sign, word, edge } = SIGNS[kind];
  const height = sheet.lineHeight(BODY);
  const head = `${sign} ${word}`;
  const left = 82;
  const all = sheet.lines(words, sheet.width - left - 8, "text", BODY);
  const most = Math.floor((sheet.tall - 12) / height);
  for (let from = 0; from < all.length; from += most) {
    const lines = all.slice(from, from + most);
    const tall = lines.length * height + 10;
    sheet.room(tall);
    const { y } = sheet;
    sheet.aside(() => sheet.pdf.rect(MARGIN, y, sheet.width, tall).lineWidth(edge).strokeColor(INK).stroke());
    sheet.tagged("Note", () => {
      sheet.write(sheet.drawable(head, "bold"), MARGIN + 8, y + 5, "bold", BODY);
      lines.forEach((line, index) => {
        sheet.write(line, MARGIN + left, y + 5 + index * height, "text", BODY);
      });
    });
    sheet.y = y + tall + 5;
  }
}

type ValueRows = Extract<Block, { is: "values" }>["rows"];
const VALUE_WORD = 130;
const VALUE_GAP = 16;
/** From so many values on that are short, they stand in two columns. */
const MANY_VALUES = 6;

function drawValues(sheet: Sheet, rows: ValueRows): void {
  const half = (sheet.width - VALUE_GAP) / 2;
  const short = (one: ValueRows[number]): boolean => layValue(sheet, one, half).tall <= sheet.lineHeight(8.5) + 3;
  const down = Math.ceil(rows.length / 2);
  const tall = sheet.lineHeight(8.5) + 3;
  if (rows.length >= MANY_VALUES && down * tall <= sheet.tall && rows.every(short)) {
    sheet.room(down * tall);
    const top = sheet.y;
    rows.forEach((one, index) => {
      const right = index >= down;
      sheet.y = top + (right ? index - down : index) * tall;
      drawValue(sheet, one, right ? MARGIN + half + VALUE_GAP : MARGIN, half);
    });
    sheet.y = top + down * tall + 6;
    return;
  }
  for (const one of rows) {
    const { tall } = layValue(sheet, one, sheet.width);
    sheet.room(tall);
    const { y } = sheet;
    drawValue(sheet, one, MARGIN, sheet.width);
    sheet.y = y + tall;
  }
  sheet.y += 6;
}

function layValue(sheet: Sheet, { word, value }: ValueRows[number], width: number) {
  const names = sheet.lines(word, VALUE_WORD - 8, "bold", 8.5);
  const laid = layCell(sheet, value, width - VALUE_WORD);
  return { names, laid, tall: Math.max(names.length * sheet.lineHeight(8.5), heightOf(sheet, laid)) + 3 };
}

function drawValue(sheet: Sheet, one: ValueRows[number], x: number, width: number): void {
  const { names, laid } = layValue(sheet, one, width);
  const { y } = sheet;
  sheet.tagged("P", () => {
    names.forEach((line, index) => {
      sheet.write(line, x, y + index * sheet.lineHeight(8.5), "bold", 8.5);
    });
    drawCell(sheet, laid, x + VALUE_WORD, y, width - VALUE_WORD);
  });
}

const SIGNATURE = 32;

function drawSigns(sheet: Sheet, roles: readonly string[]): void {
  // Together: a sheet with half of the signatures is easily lost.
  sheet.room(Math.min(SIGNATURE * roles.length, sheet.tall));
  for (const role of roles) {
    sheet.room(SIGNATURE);
    const y = sheet.y + 20;
    const half = sheet.width * 0.62;
    sheet.aside(() => {
      sheet.rule(MARGIN, y, half - 16, 0.7, INK);
      sheet.rule(MARGIN + half, y, sheet.width - half, 0.7, INK);
    });
    sheet.tagged("P", () => {
      const [line = ""] = sheet.lines(say`${role} (name, signature)`, half - 16, "text", 7.5);
      sheet.write(line, MARGIN, y + 2, "text", 7.5, QUIET);
      sheet.write(say`day, time`, MARGIN + half, y + 2, "text", 7.5, QUIET);
    });
    sheet.y = y + 14;
  }
}
