/** An operation's document as a PDF for a window: the program runs the operation itself, no page hands in a document. */
import { type Document, isDocument, type PaperSize } from "../../core/paper/document.ts";
import { isLabelPaper, type LabelPaper } from "../../core/paper/label-paper.ts";
import { refuse } from "../../core/result.ts";
import { say } from "../../core/words/say.ts";

/** Writes a document to PDF; injected, because fonts and codes belong to the program and not to what answers windows. */
export type Press = (
  document: Document | LabelPaper,
  size: PaperSize,
  /** Told how far it is; it may breathe, and what it throws ends the printing. */
  heard?: (done: number, total: number) => Promise<void>,
) => Promise<{ readonly bytes: Uint8Array; readonly pages: number; readonly missing: readonly string[] }>;

export interface Pressed {
  /** What a file of it would be called. */
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly pages: number;
  /** Characters that the fonts lack; each stands by its code on the paper. */
  readonly missing: readonly string[];
}

/**
 * @param value what the operation `asked` answered
 * @throws Refusal `bad_input` when that is no document
 */
export async function pressed(
  press: Press,
  asked: string,
  value: unknown,
  size: PaperSize,
  heard?: Parameters<Press>[2],
): Promise<Pressed> {
  // Labels have sheets of their own, whatever paper is asked for.
  if (isLabelPaper(value)) return { name: fileName(value.title), ...(await press(value, size, heard)) };
  if (!isDocument(value)) return refuse("bad_input", say`${asked} answers nothing that could be printed.`);
  return { name: fileName(value.title.what), ...(await press(value, size, heard)) };
}

const LONGEST = 80;

/** A name that every system takes: letters, digits and a few signs, the rest a dash. */
function fileName(what: string): string {
  const plain = what
    .normalize("NFC")
    .replace(/[^\p{L}\p{N} ._-]+/gu, "-")
    .replace(/^[ .-]+|[ .-]+$/gu, "");
  return `${[...plain].slice(0, LONGEST).join("") || "paper"}.pdf`;
}
