/** RFC 4180 text in and out, in pieces, through papaparse. */
import Papa from "papaparse";
import { refuse } from "../result.ts";
import { say } from "../words/say.ts";

export interface Record4180 {
  readonly cells: readonly string[];
  /** Its number in the file, the heading being 1. */
  readonly row: number;
}

/** Characters read at a time: few enough that what they become is gone again before it is kept as long-lived. */
const LOT = 65_536;
/** A longer row is a missing quote. */
const LONGEST = 64_000_000;

/** What parts the cells of a row; the standard's is the comma. */
export type Delimiter = "," | ";" | "\t" | "|";

/**
 * Records in lots, as the text comes; lines end in CR LF or LF, and blank ones are left out. Refuses a file that ends
 * inside a quoted cell or breaks the quoting rules.
 */
export async function* records(
  file: string,
  pieces: AsyncIterable<string>,
  delimiter: Delimiter = ",",
): AsyncIterable<Record4180[]> {
  let row = 0;
  const take = (text: string, last: boolean): { lot: Record4180[]; used: number } => {
    const { data, errors, meta } = parse(text, last, delimiter);
    const [error] = errors;
    if (error) {
      refuse("bad_input", say`${file} can't be read as CSV.`, [
        { file, row: row + (error.row ?? 0) + 1, reason: WORDS[error.code] ?? error.message },
      ]);
    }
    const lot: Record4180[] = [];
    for (const cells of data) {
      row += 1;
      withoutReturn(cells);
      if (cells.length > 1 || cells[0] !== "") lot.push({ cells, row });
    }
    return { lot, used: meta.cursor };
  };

  let waiting = "";
  for await (const piece of pieces) {
    waiting += piece;
    let from = 0;
    for (let size = LOT; waiting.length - from >= size; ) {
      // Cut behind a line break, so that a quote and what follows it are never apart.
      let end = waiting.lastIndexOf("\n", from + size - 1) + 1;
      if (end <= from) end = waiting.indexOf("\n", from + size) + 1;
      const { lot, used } = end <= from ? { lot: [], used: 0 } : take(waiting.slice(from, end), false);
      if (lot.length > 0) yield lot;
      from += used;
      // A cell of many lines may be longer than a lot.
      size = used === 0 ? size * 2 : LOT;
    }
    waiting = waiting.slice(from);
    if (waiting.length > LONGEST) {
      refuse("bad_input", say`${file} has a row of more than ${LONGEST / 1_000_000} million characters.`, [
        { file, row: row + 1, reason: say`never ends: a quote is probably missing` },
      ]);
    }
  }
  if (waiting === "") return;
  const { lot } = take(waiting, true);
  if (lot.length > 0) yield lot;
}

const WORDS: Readonly<Record<string, string>> = {
  MissingQuotes: say`begins a quoted cell that never ends: the file may be cut off`,
  InvalidQuotes: say`has a quote inside a quoted cell that isn't doubled`,
};

interface Parsed {
  readonly data: string[][];
  readonly errors: readonly { readonly code: string; readonly message: string; readonly row?: number }[];
  readonly meta: { readonly cursor: number };
}

function parse(text: string, last: boolean, delimiter: Delimiter): Parsed {
  // The library's own parser of one piece: it leaves a last row that may go on in the next piece.
  const parser = new Papa.Parser({ delimiter, newline: "\n", quoteChar: '"', escapeChar: '"' });
  return parser.parse(text, 0, !last) as unknown as Parsed;
}

/** Lines are cut at LF, so that a file may mix both line ends; the CR of the others is taken off here. */
function withoutReturn(cells: string[]): void {
  const end = cells.length - 1;
  const cell = cells[end] as string;
  if (cell.charCodeAt(cell.length - 1) === 13) cells[end] = cell.slice(0, -1);
}

/** What can't stand in a cell as it is; blanks at its ends can, but some readers take them off. */
const QUOTED = /[",\r\n]|^\s|\s$/;

/** A cell as it stands in a file. The library takes as long for this as the database for the rows (measured). */
export const cellText = (cell: string): string => (QUOTED.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell);

/** Rows as text, each ended by CR LF. */
export const written = (rows: readonly (readonly string[])[]): string =>
  rows.map((row) => `${row.map(cellText).join(",")}\r\n`).join("");
