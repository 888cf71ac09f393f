/** Files and text that hold no text: told by their first bytes, or by characters that nobody writes. */
import { refuse } from "../result.ts";
import { say } from "../words/say.ts";
import { decoded, encodingOf } from "./decode.ts";
import { isZip } from "./workbook.ts";

/** What packed files begin with: gzip (RFC 1952, 2.3.1), RAR, 7z, bzip2 and xz as their formats' own descriptions say. */
const PACKED: readonly (readonly number[])[] = [
  [0x1f, 0x8b],
  [0x52, 0x61, 0x72, 0x21, 0x1a, 0x07],
  [0x37, 0x7a, 0xbc, 0xaf, 0x27, 0x1c],
  [0x42, 0x5a, 0x68],
  [0xfd, 0x37, 0x7a, 0x58, 0x5a, 0x00],
];

/** Files that are known by their first bytes and hold no text. */
export function refuseOther(name: string, bytes: Uint8Array): void {
  const begins = (...first: number[]) => first.every((byte, i) => bytes[i] === byte);
  const what = begins(0xd0, 0xcf, 0x11, 0xe0)
    ? say`is a workbook of the old form (.xls); save it as .xlsx or CSV`
    : begins(0x25, 0x50, 0x44, 0x46)
      ? say`is a PDF; only its table saved as CSV or .xlsx can be read`
      : begins(0x89, 0x50, 0x4e, 0x47) || begins(0xff, 0xd8, 0xff)
        ? say`is a picture`
        : PACKED.some((first) => begins(...first))
          ? say`is packed; unpack it first`
          : null;
  if (what) refuse("file", `${name} ${what}.`, [{ file: name, reason: what }]);
}

/** The text of a file of crews' notes, however its letters are stored. */
export function notesOf(name: string, bytes: Uint8Array): string {
  refuseOther(name, bytes);
  if (isZip(bytes))
    refuse("file", say`${name} is not a text file.`, [{ file: name, reason: say`is packed or a workbook` }]);
  return decoded(bytes, encodingOf(bytes));
}

/** Control characters but those of lines, tabs and pages: text has none, and what isn't text is full of them. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
const NO_TEXT = /[\u0000-\u0008\u000e-\u001f\u007f]/;

/** One character in fifty that nobody writes: a stray one in a cell is that row's trouble, so many are no table. */
const MOST_STRAY = 0.02;

/** A file that is neither a workbook nor text, whatever it is called. */
export function refuseNoTable(name: string, text: string): void {
  const start = [...text.slice(0, 4096)];
  const stray = start.filter((one) => NO_TEXT.test(one)).length;
  if (stray > start.length * MOST_STRAY)
    refuse("file", say`${name} is neither a workbook nor a text file.`, [
      { file: name, reason: say`holds characters that nobody writes` },
    ]);
}

export function refuseNoText(text: string): void {
  const row = text.split(/\r\n|\r|\n/).findIndex((line) => NO_TEXT.test(line)) + 1;
  if (row > 0)
    refuse("bad_input", say`The notes are no text: line ${row} holds characters that nobody writes.`, [
      { row, field: "text", reason: say`holds control characters; is it a text file?` },
    ]);
}
