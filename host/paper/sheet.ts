/** The sheets of one PDF: fonts, text measured and broken into lines, room on the page, outline and footers. */
import PDFDocument from "pdfkit";
import type { PaperSize } from "../../core/paper/document.ts";
import { spokenCode } from "../../core/words/language.ts";
import { say } from "../../core/words/say.ts";
import { drawable, type Face, registerFaces } from "./letters.ts";

export type { Face } from "./letters.ts";

export const INK = "#111111";
export const QUIET = "#555555";
export const RULE = "#999999";
/** Points, of which 72 make an inch. */
export const MARGIN = 42;
const FOOT = 30;
const LEADING = 1.28;

export class Sheet {
  readonly pdf: PDFKit.PDFDocument;
  /** Where the next block begins, from the top of the page. */
  y = MARGIN;
  readonly #missing = new Set<string>();

  constructor(size: PaperSize, title: string, made: Date, lying = false) {
    this.pdf = new PDFDocument({
      size: size === "a4" ? "A4" : "LETTER",
      layout: lying ? "landscape" : "portrait",
      margin: 0,
      bufferPages: true,
      pdfVersion: "1.7",
      lang: spokenCode(),
      tagged: true,
      displayTitle: true,
      info: { Title: title, Creator: "Strandbook", Producer: "Strandbook", CreationDate: made, ModDate: made },
    });
    registerFaces(this.pdf);
  }

  get width(): number {
    return this.pdf.page.width - 2 * MARGIN;
  }
  get bottom(): number {
    return this.pdf.page.height - MARGIN - FOOT;
  }
  /** Height of an empty page. */
  get tall(): number {
    return this.bottom - MARGIN;
  }
  /** Characters that the fonts can't draw, each once. */
  get missing(): readonly string[] {
    return [...this.#missing];
  }

  lineHeight = (size: number): number => size * LEADING;

  newPage(): void {
    this.pdf.addPage();
    this.y = MARGIN;
  }

  /** Begins a new page where less than `height` is left, and answers whether it did. */
  room(height: number): boolean {
    if (this.y + height <= this.bottom || this.y <= MARGIN) return false;
    this.newPage();
    return true;
  }

  /** What can be drawn of a text. */
  drawable(text: string, face: Face): string {
    return drawable(this.pdf, text, face, this.#missing);
  }

  widthOf(text: string, face: Face, size: number): number {
    return this.pdf.font(face).fontSize(size).widthOfString(text);
  }

  /** Breaks a text at its spaces; a word wider than the room is broken within. */
  lines(text: string, width: number, face: Face, size: number): string[] {
    return this.drawable(text, face)
      .split("\n")
      .flatMap((part) => this.#wrapped(part, width, face, size));
  }

  #wrapped(text: string, width: number, face: Face, size: number): string[] {
    const fits = (one: string): boolean => this.widthOf(one, face, size) <= width;
    const lines: string[] = [];
    let line = "";
    for (const word of text.split(" ").filter(Boolean)) {
      const longer = line === "" ? word : `${line} ${word}`;
      if (fits(longer)) {
        line = longer;
        continue;
      }
      if (line !== "") lines.push(line);
      line = "";
      for (const character of word) {
        if (line !== "" && !fits(line + character)) {
          lines.push(line);
          line = "";
        }
        line += character;
      }
    }
    return [...lines, line];
  }

  /** One line of text that was measured before; `y` is the top of its line. */
  write(text: string, x: number, y: number, face: Face, size: number, colour = INK): void {
    if (text === "") return;
    this.pdf.font(face).fontSize(size).fillColor(colour).text(text, x, y, { lineBreak: false });
  }

  /** Drawn as the content of a tag (`H1`, `P`, `TD`), so that the order can be read by those who listen. */
  tagged(tag: string, draw: () => void): void {
    this.pdf.addStructure(this.pdf.struct(tag, {}, draw));
  }

  /** Drawn beside the content: rules, page numbers. */
  aside(draw: () => void): void {
    this.pdf.markContent("Artifact");
    draw();
    this.pdf.endMarkedContent();
  }

  outline(text: string): void {
    this.pdf.outline.addItem(text);
  }

  rule(x: number, y: number, width: number, thickness = 0.5, colour = RULE): void {
    this.pdf
      .moveTo(x, y)
      .lineTo(x + width, y)
      .lineWidth(thickness)
      .strokeColor(colour)
      .stroke();
  }

  /** Puts `words` and "page n of m" below every page, and ends the document. */
  async finish(words: string): Promise<{ bytes: Buffer; pages: number }> {
    const { count } = this.pdf.bufferedPageRange();
    for (let page = 0; page < count; page++) {
      this.pdf.switchToPage(page);
      const y = this.bottom + 14;
      const number = say`page ${page + 1} of ${count}`;
      const room = this.widthOf(number, "text", 8);
      const [line = ""] = this.lines(words, this.width - room - 20, "text", 8);
      this.aside(() => {
        this.rule(MARGIN, y - 5, this.width);
        this.write(line, MARGIN, y, "text", 8, QUIET);
        this.write(number, MARGIN + this.width - room, y, "text", 8, QUIET);
      });
    }
    const pieces: Buffer[] = [];
    const whole = new Promise<void>((resolve, reject) => {
      this.pdf.on("data", (piece: Buffer) => pieces.push(piece));
      this.pdf.on("end", resolve);
      this.pdf.on("error", reject);
    });
    this.pdf.end();
    await whole;
    return { bytes: Buffer.concat(pieces), pages: count };
  }
}
