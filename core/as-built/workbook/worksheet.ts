/** One worksheet as a table of text: what each cell shows, with merged cells and hidden rows told. */
import { refuse } from "../../result.ts";
import { say } from "../../words/say.ts";
import { MOST_COLUMNS, MOST_ROWS, type SheetRow, type SheetTable, trimmed } from "../table.ts";
import { type Shown, shownNumber } from "./formats.ts";
import { attribute, tags, unescaped } from "./xml.ts";

export interface Book {
  readonly strings: readonly string[];
  readonly formats: readonly Shown[];
  readonly from1904: boolean;
}

/** Column and row of `AB12`, from 0 and from 1. */
export function placeOf(reference: string): { column: number; row: number } | null {
  const match = /^\$?([A-Z]{1,3})\$?(\d{1,7})$/.exec(reference);
  if (!match) return null;
  const letters = match[1] ?? "";
  const column = [...letters].reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 64, 0) - 1;
  return { column, row: Number(match[2]) };
}

interface Cell {
  readonly column: number;
  readonly type: string;
  readonly style: number;
  value: string | null;
  inline: string;
  formula: boolean;
}

export function worksheet(name: string, xml: string, book: Book): SheetTable {
  const rows = new Map<number, string[]>();
  const merges: string[] = [];
  let row = 0;
  let cell: Cell | null = null;
  let hidden = 0;
  const unvalued = new Map<number, number[]>();
  let nextColumn = 0;
  let phonetic = false;
  const put = ({ column, ...own }: Cell) => {
    const text = textOf(own, book);
    const lacks = own.formula && text.trim() === "" && (own.value === null || own.type === "n");
    if (text.trim() === "" && !lacks) return;
    if (column >= MOST_COLUMNS) tooBig(name, say`has a cell in column ${column + 1}; at most ${MOST_COLUMNS} are read`);
    const cells = rows.get(row) ?? [];
    while (cells.length < column) cells.push("");
    cells[column] = text;
    rows.set(row, cells);
    if (lacks) unvalued.set(row, [...(unvalued.get(row) ?? []), column]);
    if (rows.size > MOST_ROWS) tooBig(name, say`has more than ${MOST_ROWS} rows`);
  };
  for (const { name: tag, opens, closes, attributes, before } of tags(name, xml)) {
    if (tag === "row" && opens) {
      row = Number(attribute(attributes, "r") ?? row + 1);
      nextColumn = 0;
      if (attribute(attributes, "hidden") === "1") hidden += 1;
    } else if (tag === "c") {
      if (opens) {
        const place = placeOf(attribute(attributes, "r") ?? "");
        const column = place?.column ?? nextColumn;
        nextColumn = column + 1;
        const type = attribute(attributes, "t") ?? "n";
        const style = Number(attribute(attributes, "s") ?? 0);
        cell = { column, type, style, value: null, inline: "", formula: false };
      }
      if (closes && cell) {
        put(cell);
        cell = null;
      }
    } else if (tag === "f" && cell) cell.formula = true;
    else if (tag === "v" && !opens && cell) cell.value = unescaped(before);
    else if (tag === "rPh") phonetic = opens && !closes;
    else if (tag === "t" && !opens && cell && !phonetic) cell.inline += unescaped(before);
    else if (tag === "mergeCell" && opens) merges.push(attribute(attributes, "ref") ?? "");
  }
  const filled = merges.reduce((sum, reference) => sum + fillDown(rows, reference), 0);
  const list = [...rows]
    .sort(([a], [b]) => a - b)
    .map(([at, cells]): SheetRow => {
      const lacking = unvalued.get(at);
      return { row: at, cells: full(cells), ...(lacking ? { unvalued: lacking } : {}) };
    });
  const unreckoned = [...unvalued.values()].reduce((sum, { length }) => sum + length, 0);
  return { name, rows: trimmed(list), notices: noticesOf(filled, hidden, unreckoned) };
}

const full = (cells: readonly (string | undefined)[]): string[] => Array.from(cells, (cell) => cell ?? "");

function tooBig(name: string, reason: string): never {
  return refuse("bad_input", say`${name} is too big for a sheet.`, [{ record: name, reason }]);
}

function textOf(cell: Omit<Cell, "column">, { strings, formats, from1904 }: Book): string {
  const { type, value } = cell;
  if (type === "inlineStr") return cell.inline;
  if (value === null || (value.trim() === "" && type === "n")) return "";
  if (type === "s") return strings[Number(value)] ?? "";
  if (type === "b") return value === "1" ? "yes" : "no";
  if (type === "d") return value.slice(0, 10);
  if (type !== "n") return value;
  const number = Number(value);
  return Number.isFinite(number) ? shownNumber(number, formats[cell.style], from1904) : value;
}

/** What stands in a merged cell holds for each row beside it; a title over several columns stands once. */
function fillDown(rows: Map<number, string[]>, reference: string): number {
  const [first, last] = reference.split(":");
  const from = placeOf(first ?? "");
  const to = placeOf(last ?? "");
  if (!from || !to || to.row <= from.row) return 0;
  const text = rows.get(from.row)?.[from.column];
  if (!text) return 0;
  let count = 0;
  for (const [row, cells] of rows) {
    if (row <= from.row || row > to.row) continue;
    while (cells.length <= from.column) cells.push("");
    if (cells[from.column]) continue;
    cells[from.column] = text;
    count += 1;
  }
  return count;
}

function noticesOf(filled: number, hidden: number, unreckoned: number): string[] {
  const said = (count: number, one: string, many: string) =>
    count === 0 ? [] : [count === 1 ? one : `${count} ${many}`];
  return [
    ...said(
      filled,
      say`1 cell under a merged cell is read as what stands in it.`,
      say`cells under merged cells are read as what stands in them.`,
    ),
    ...said(
      hidden,
      say`1 row is hidden in the workbook and read all the same.`,
      say`rows are hidden in the workbook and read all the same.`,
    ),
    ...said(
      unreckoned,
      say`1 cell holds a formula without its value: its row is refused where that cell is taken over.`,
      say`cells hold formulas without their values: their rows are refused where those cells are taken over.`,
    ),
  ];
}
