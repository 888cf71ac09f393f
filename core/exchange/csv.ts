/** RFC 4180 text in and out, in pieces, through papaparse. */
import Papa from "papaparse";
import { refuse } from "../result.ts";

export interface Record4180 {
  readonly cells: readonly string[];
  /** Its number in the file, the heading being 1. */
  readonly row: number;
}

/** Records in lots, as the text comes; refuses a file that ends inside a quoted cell or breaks the quoting rules. */
export async function* records(file: string, pieces: AsyncIterable<string>): AsyncIterable<Record4180[]> {
  let waiting = "";
  let row = 0;
  let newline: Newline | null = null;
  const take = (text: string, last: boolean): Record4180[] => {
    // The heading's own line break holds for the whole file: later pieces may begin inside a cell of several lines.
    newline ??= newlineOf(text);
    const { data, errors, meta } = parse(text, newline, last);
    const [error] = errors;
    if (error) {
      refuse("bad_input", `${file} can't be read as CSV.`, [
        { file, row: row + (error.row ?? 0) + 1, reason: WORDS[error.code] ?? error.message },
      ]);
    }
    waiting = last ? "" : text.slice(meta.cursor);
    return data.map((cells) => ({ cells, row: ++row }));
  };
  for await (const piece of pieces) {
    waiting += piece;
    if (waiting.length < 262_144) continue;
    const lot = take(waiting, false);
    if (lot.length > 0) yield lot;
    else if (waiting.length > 64_000_000) {
      refuse("bad_input", `${file} has a row of more than 64 million characters: a quote is probably missing.`, [
        { file, row: row + 1, reason: "never ends" },
      ]);
    }
  }
  if (waiting !== "") yield take(waiting, true);
}

const WORDS: Readonly<Record<string, string>> = {
  MissingQuotes: "begins a quoted cell that never ends: the file may be cut off",
  InvalidQuotes: "has a quote inside a cell that isn't doubled",
};

interface Parsed {
  readonly data: string[][];
  readonly errors: readonly { readonly code: string; readonly message: string; readonly row?: number }[];
  readonly meta: { readonly cursor: number };
}

function parse(text: string, newline: Newline, last: boolean): Parsed {
  // The library's own parser of one piece: it leaves a last row that may go on in the next piece.
  const parser = new Papa.Parser({ delimiter: ",", newline, quoteChar: '"', escapeChar: '"' });
  const parsed = parser.parse(text, 0, !last) as unknown as Parsed;
  // A file's last line break ends its last record and begins none.
  const data = parsed.data;
  if (last && data.at(-1)?.length === 1 && data.at(-1)?.[0] === "") data.pop();
  return { ...parsed, data };
}

type Newline = "\r\n" | "\n";
const newlineOf = (text: string): Newline => {
  const at = text.indexOf("\n");
  return at > 0 && text[at - 1] === "\r" ? "\r\n" : "\n";
};

/** Rows as text, each ended by CR LF. */
export const written = (rows: readonly (readonly string[])[]): string =>
  rows.length === 0 ? "" : `${Papa.unparse(rows as string[][], { newline: "\r\n" })}\r\n`;
