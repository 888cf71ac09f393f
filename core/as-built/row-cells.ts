/** One row seen through the mapping of its columns: cells by name, read as what they are, what is wrong kept beside. */
import { unshielded } from "../exchange/cells.ts";
import { Fault } from "../model/clean-text.ts";
import { isFormula, type TextUse } from "../model/formula.ts";
import { type DayOrder, readDay } from "../model/read-day.ts";
import {
  formatLength,
  formatMark,
  formatNumber,
  type LengthUnit,
  parseLength,
  parseMark,
  parseNumber,
} from "../model/units.ts";
import { shownDay } from "../model/wording.ts";
import type { Problem } from "../result.ts";
import { say } from "../words/say.ts";
import type { SheetRow } from "./table.ts";

export interface Manner {
  /** Where each column of the shape stands in the sheet. */
  readonly places: ReadonlyMap<string, number>;
  /** What a bare number in a column of lengths counts. */
  readonly units: ReadonlyMap<string, LengthUnit>;
  /** How the sheet writes decimals; null where it isn't known. */
  readonly decimal: "comma" | "point" | null;
  /** A workbook keeps a number itself, told here with a decimal point: nobody wrote points between its thousands. */
  readonly workbook?: boolean;
  readonly days: DayOrder | null;
  readonly today: string;
  /** What stands for every row where the sheet has no such column or an empty cell: the cable of a list of strands. */
  readonly fixed: ReadonlyMap<string, string>;
}

/** A cell as it was read, by the label of its column. */
export interface ReadCell {
  readonly label: string;
  readonly value: string;
}

/** What a row needs of its shape: the words for its columns, and which of them name records. */
interface Columns {
  readonly columns: readonly {
    readonly name: string;
    readonly label: string;
    readonly names?: string;
    readonly under?: string;
  }[];
}

/** Columns of prose, and columns that say what a record will be called; those that name another record do so too. */
const REMARKS: ReadonlySet<string> = new Set(["notes", "why", "text", "text_read"]);
const NAMES: ReadonlySet<string> = new Set(["tag", "name"]);
/** Columns whose fields keep text of several lines. */
const LINES: ReadonlySet<string> = new Set(["notes", "text", "text_read"]);

/** Units in which a column of numbers counts, by the end of its name, as they may stand behind a number. */
const UNITS: readonly (readonly [end: string, unit: string])[] = [
  ["_db", "dB"],
  ["_nm", "nm"],
];

export class RowCells {
  readonly row: number;
  readonly problems: Problem[] = [];
  /** Doubts about what is said, as sentences. */
  readonly notices: string[] = [];
  readonly #shape: Columns;
  readonly #cells: readonly string[];
  readonly #unvalued: ReadonlySet<number>;
  readonly #manner: Manner;
  readonly #said = new Map<string, string>();

  constructor(shape: Columns, { row, cells, unvalued, repeated }: SheetRow, manner: Manner) {
    this.row = row;
    this.#unvalued = new Set(unvalued);
    this.#shape = shape;
    this.#cells = cells;
    this.#manner = manner;
    const dittos = [...manner.places].flatMap(([name, at]) => (repeated?.includes(at) ? [this.label(name)] : []));
    if (dittos.length > 0) this.doubt(say`Ditto marks are read as what stands above: ${dittos.join(", ")}.`);
  }

  /** Whether the row seems to sum up the rows above: its first word says so. */
  get sums(): boolean {
    const first = this.#cells.find((cell) => cell.trim() !== "")?.trim() ?? "";
    return /^(?:sub-?\s?|grand\s)?(?:totals?|sums?|averages?)\b[\s:.]*$/i.test(first);
  }

  /** What people call a column. */
  label(name: string): string {
    return this.#shape.columns.find((column) => column.name === name)?.label ?? name;
  }

  problem(name: string, reason: string, record?: string): void {
    this.problems.push({
      row: this.row,
      ...(record === undefined ? {} : { record }),
      field: this.label(name),
      reason,
    });
  }

  /** Told once, however often the cell is read. */
  doubt(sentence: string): void {
    if (!this.notices.includes(sentence)) this.notices.push(sentence);
  }

  text(name: string): string | undefined {
    const at = this.#manner.places.get(name);
    const cell = at === undefined ? undefined : this.#onLines(name, this.#cells[at] ?? "");
    if (this.#lacksValue(name)) this.#once(name, say`is a formula without its value`);
    // Text of ours that only begins as a formula is shielded by an apostrophe.
    if (cell !== undefined && isFormula(cell, this.#use(name))) this.#formula(name, cell);
    const own = unshielded(cell ?? "");
    const bare = own ? own : this.#manner.fixed.get(name);
    const said = bare === undefined ? undefined : this.#whole(name, bare);
    if (said !== undefined && !this.#said.has(name)) this.#said.set(name, said);
    return said;
  }

  /** With what it lies in, where that stands in a cell of its own: port 07 of panel LIB/101/A is LIB/101/A:07. */
  #whole(name: string, own: string): string {
    const under = this.#shape.columns.find((column) => column.name === name)?.under;
    const over = under === undefined || own.includes(":") ? undefined : this.text(under);
    return over === undefined ? own : `${over}:${own}`;
  }

  /** Several lines stay where the field is text of lines; elsewhere they are read as one, and that is told. */
  #onLines(name: string, cell: string): string {
    const lines = cell.split(/\r\n|[\n\r\u2028\u2029]/).map((line) => line.replace(/\s+/g, " ").trim());
    const text = lines.join("\n").trim();
    if (LINES.has(name) || !text.includes("\n")) return text;
    this.doubt(say`${this.label(name)} stands on several lines and is read as one.`);
    return text.replace(/\n+/g, " ");
  }

  /** What was read so far, in the order of the columns, without what stands in these words already. */
  read(words: string): ReadCell[] {
    const told = new Set(words.split(/[\s,;]+/));
    return this.#shape.columns.flatMap(({ name, label }) => {
      const value = this.#said.get(name);
      return value === undefined || told.has(value) ? [] : [{ label, value }];
    });
  }

  #use(name: string): TextUse {
    if (REMARKS.has(name)) return "remark";
    const names = this.#shape.columns.some((column) => column.name === name && column.names !== undefined);
    return names || NAMES.has(name) ? "name" : "value";
  }

  #formula(name: string, cell: string): void {
    const reason = cell.startsWith("=")
      ? say`is a formula and not what it came to: save the sheet with its values`
      : say`begins as a formula: write an apostrophe before it if it is meant as a name`;
    this.#once(name, reason, cell);
  }

  /** Told once, however often the cell is read. */
  #once(name: string, reason: string, record?: string): void {
    const field = this.label(name);
    if (!this.problems.some((one) => one.field === field && one.reason === reason)) this.problem(name, reason, record);
  }

  #lacksValue(name: string): boolean {
    return this.#unvalued.has(this.#manner.places.get(name) ?? -1);
  }

  needed(name: string): string {
    const own = this.text(name);
    if (own === undefined && !this.#lacksValue(name)) this.problem(name, say`is empty`);
    return own ?? "";
  }

  /**
   * A number, with or without the unit of its column; in a sheet that writes decimals one way, `1,234` can be read in one
   * way.
   */
  number(name: string): number | undefined {
    const own = this.text(name);
    if (own === undefined) return undefined;
    // A wavelength is a name more than a count: nobody parts its thousands.
    const shown = name.endsWith("_nm") ? String : (value: number): string => formatNumber(value, 3);
    return this.#kept(name, this.#counted(name, own), shown);
  }

  #counted(name: string, text: string): number | Fault {
    const [, figures, written] = /^(.*\d)\s*(\p{L}+)$/u.exec(text) ?? [];
    if (figures === undefined || written === undefined) return this.#number(text);
    const unit = UNITS.find(([end]) => name.endsWith(end))?.[1];
    const value = this.#number(figures);
    if (value instanceof Fault || written.toLowerCase() === unit?.toLowerCase()) return value;
    return new Fault(
      unit === undefined
        ? say`is “${text}”: must be a number, without its unit`
        : say`is “${text}”: must be a number in ${unit}, without its unit`,
    );
  }

  #number(text: string): number | Fault {
    const sign = /^[-−]/.test(text) ? -1 : 1;
    const plain = this.#plain(sign < 0 ? text.slice(1) : text);
    const value = plain instanceof Fault ? plain : parseNumber(plain);
    return value instanceof Fault ? value : sign * value;
  }

  whole(name: string): number | undefined {
    const value = this.number(name);
    if (value === undefined || Number.isInteger(value)) return value;
    this.problem(name, say`is ${this.text(name)}: must be a whole number`);
    return undefined;
  }

  /** Metres; a bare number counts in the unit of its column. */
  length_m(name: string): number | undefined {
    const own = this.text(name);
    if (own === undefined) return undefined;
    const plain = this.#plain(own);
    const value = plain instanceof Fault ? plain : parseLength(plain, this.#manner.units.get(name) ?? "m");
    return this.#kept(name, value, (length_m) => formatLength(length_m, "m", 2));
  }

  /** What the heading of a column, or whoever mapped it, says that its numbers count; undefined where nobody does. */
  unitOf(name: string): LengthUnit | undefined {
    return this.#manner.units.get(name);
  }

  /** A sheath mark, still as text with the unit written beside it: a mark is kept as printed. */
  mark(name: string): string | undefined {
    const own = this.text(name);
    if (own === undefined) return undefined;
    const plain = this.#plain(own);
    const value = plain instanceof Fault ? plain : parseMark(plain, null);
    // Told with the unit of its heading, where no cell says it: nobody is to wonder what was taken over.
    const unit = this.text("mark_unit") === undefined ? (this.unitOf(name) ?? null) : null;
    const kept = this.#kept(name, value, (mark) => formatMark(mark, unit));
    return kept === undefined ? undefined : (plain as string);
  }

  day(name: string): string | undefined {
    const own = this.text(name);
    if (own === undefined) return undefined;
    const { today, days } = this.#manner;
    const day = this.#kept(name, readDay(own, today, days ?? undefined), (kept) => kept);
    if (day !== undefined && day > today) this.doubt(say`${this.label(name)} ${shownDay(day)} is a day to come.`);
    return day;
  }

  /** One of a closed list, as its value or in its words. */
  choice<V extends string>(name: string, values: Readonly<Record<V, string>>): V | undefined {
    const own = this.text(name)?.toLowerCase();
    if (own === undefined) return undefined;
    const fold = (text: string) => text.toLowerCase().replaceAll("_", " ");
    const found = (Object.keys(values) as V[]).find(
      (one) => fold(one) === fold(own) || fold(values[one]) === fold(own),
    );
    if (found === undefined)
      this.problem(name, say`is “${this.text(name)}”: must be one of ${listed(Object.values<string>(values))}`);
    else this.#said.set(name, values[found]);
    return found;
  }

  #kept<T>(name: string, value: T | Fault, shown: (value: T) => string): T | undefined {
    if (!(value instanceof Fault)) {
      this.#said.set(name, shown(value));
      return value;
    }
    this.problem(name, value.reason);
    return undefined;
  }

  /** With a decimal point and nothing between thousands, as this sheet writes; what can be read two ways is asked. */
  #plain(text: string): string | Fault {
    const { decimal, workbook } = this.#manner;
    if (decimal === "comma" && /^\d+,\d+\b/.test(text)) return text.replace(",", ".");
    if (decimal === "point" && /^\d{1,3}(,\d{3})+\b/.test(text)) return text.replaceAll(",", "");
    const [pointed] = /^[1-9]\d{0,2}\.\d{3}(?![\d.,])/.exec(text) ?? [];
    if (pointed === undefined || workbook || decimal === "point") return text;
    if (decimal === "comma") return text.replace(".", "");
    return new Fault(
      say`is “${text}”: may be ${pointed.replace(".", "")} or ${pointed}; say whether the sheet writes decimals with a comma or a point`,
    );
  }
}

/** A list whose entries may hold a comma themselves. */
const listed = (entries: readonly string[]): string =>
  (entries.some((entry) => entry.includes(",")) ? entries.map((entry) => `“${entry}”`) : entries).join(", ");

/**
 * How a sheet writes decimals, from what can be read in one way only: `0,5` and `1234,5`, or `0.5`; null where mixed.
 * `1,234` and `1.234` tell nothing: either may be a thousand and some.
 */
export function decimalOf(rows: readonly SheetRow[]): "comma" | "point" | null {
  const seen = new Set<"comma" | "point">();
  for (const { cells } of rows)
    for (const cell of cells) {
      const text = cell
        .trim()
        .replace(/^[-−]/, "")
        .replace(/\s*[a-z]+$/i, "");
      if (/^(0,\d+|\d+,(\d{1,2}|\d{4,})|\d{1,3}(\.\d{3})+,\d+)$/.test(text)) seen.add("comma");
      else if (/^(0\.\d+|\d+\.(\d{1,2}|\d{4,})|\d{4,}\.\d{3}|\d{1,3}(,\d{3})+\.\d+)$/.test(text)) seen.add("point");
    }
  return seen.size === 1 ? ([...seen][0] as "comma" | "point") : null;
}
