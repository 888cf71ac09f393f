/** Text parted by any of the usual marks, as one table. */
import { type Delimiter, records } from "../exchange/csv.ts";
import { refuse } from "../result.ts";
import { say } from "../words/say.ts";
import { MOST_COLUMNS, MOST_ROWS, type SheetRow, type SheetTable, trimmed } from "./table.ts";

export const DELIMITERS = [",", ";", "\t", "|"] as const;

/** Characters of a file that are looked at to find its mark. */
const TASTE = 20_000;

/**
 * The mark that parts the most rows into the same number of cells, more than one; the comma where none does. A
 * spreadsheet's first line `sep=;` says it.
 */
export function delimiterOf(text: string): Delimiter {
  const named = /^sep=([,;\t|])\r?\n/i.exec(text);
  if (named) return named[1] as Delimiter;
  // A quoted cell is some text, whatever marks are in it: a row of nothing but such cells parted by tabs is no blank one.
  const bare = text.slice(0, TASTE).replace(/"(?:[^"]|"")*"/g, '"');
  const lines = bare.split(/\r?\n/).filter((line) => line.trim() !== "");
  // The last line may be cut off, unless it is all that was tasted: a heading of thousands of columns.
  const whole = text.length > TASTE && lines.length > 1 ? lines.slice(0, -1) : lines;
  let best: { mark: Delimiter; rows: number; cells: number } = { mark: ",", rows: 0, cells: 1 };
  for (const mark of DELIMITERS) {
    const counts = new Map<number, number>();
    for (const line of whole) {
      const cells = line.split(mark).length;
      if (cells > 1) counts.set(cells, (counts.get(cells) ?? 0) + 1);
    }
    for (const [cells, rows] of counts)
      if (rows > best.rows || (rows === best.rows && cells > best.cells)) best = { mark, rows, cells };
  }
  return best.mark;
}

export async function csvTable(name: string, text: string, delimiter: Delimiter): Promise<SheetTable> {
  const rows: SheetRow[] = [];
  async function* whole() {
    yield text;
  }
  for await (const lot of records(name, whole(), delimiter)) {
    for (const { cells, row } of lot) {
      if (row === 1 && cells.length <= 2 && /^sep=/i.test(cells[0] ?? "")) continue;
      if (cells.length > MOST_COLUMNS)
        refuse("bad_input", say`${name} has more than ${MOST_COLUMNS} columns.`, [
          {
            file: name,
            row,
            reason: say`has ${cells.length} cells; at most ${MOST_COLUMNS} are read; is it parted by another mark?`,
          },
        ]);
      // A million rows of nothing are nothing.
      if (cells.some((cell) => cell.trim() !== "")) rows.push({ row, cells });
    }
    if (rows.length > MOST_ROWS)
      refuse("bad_input", say`${name} has more than ${MOST_ROWS} rows.`, [
        { file: name, reason: say`is longer than ${MOST_ROWS} rows; divide it` },
      ]);
  }
  return { name, rows: trimmed(rows), notices: [] };
}
