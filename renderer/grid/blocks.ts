/** Blocks of cells as the clipboard carries them: tab-separated lines, cells quoted where they hold tabs, quotes or line breaks. */
import Papa from "papaparse";

const needsQuotes = /[\t\n\r"]/;

export const writeBlock = (cells: readonly (readonly string[])[]): string =>
  cells
    .map((row) => row.map((cell) => (needsQuotes.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell)).join("\t"))
    .join("\r\n");

/**
 * Rows of cells of what was copied, here or in a spreadsheet. A quote that is never closed is an ordinary sign (an inch),
 * so such a text is divided at its tabs and line ends alone.
 */
export function readBlock(text: string): string[][] {
  const body = text.replace(/\r\n?/g, "\n").replace(/\n$/, "");
  const { data, errors } = Papa.parse<string[]>(body, { delimiter: "\t", newline: "\n" });
  if (errors.some((error) => error.type === "Quotes")) return body.split("\n").map((line) => line.split("\t"));
  return data;
}
