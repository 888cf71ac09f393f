/** One row seen through the mapping of its columns: cells by name, read as what they are, what is wrong kept beside. */
import { unshielded } from "../exchange/cells.ts";
import { Fault } from "../model/clean-text.ts";
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

/** What a row needs of its shape: the words for its columns. */
/**
 * A formula that a spreadsheet would run, as text: the sheet was saved without what it came to. Text of ours that only
 * begins so is shielded by an apostrophe, and a remark such as "= as above" is none.
 */
const FORMULA = /^=\s*(?:[A-Z][A-Z0-9.]*\(|\$?[A-Z]{1,3}\$?\d|[-+(\d"{]|\w+\|)/i;

/** A cell as it was read, by the label of its column. */
export interface ReadCell {
  readonly label: string;
  readonly value: string;
}

interface Columns {
  readonly columns: readonly { readonly name: string; readonly label: string }[];
}

export class RowCells {
  readonly row: number;
  readonly problems: Problem[] = [];
  readonly #shape: Columns;
  readonly #cells: readonly string[];
  readonly #manner: Manner;
  readonly #said = new Map<string, string>();

  constructor(shape: Columns, { row, cells }: SheetRow, manner: Manner) {
    this.row = row;
    this.#shape = shape;
    this.#cells = cells;
    this.#manner = manner;
  }

  #label(name: string): string {
    return this.#shape.columns.find((column) => column.name === name)?.label ?? name;
  }

  problem(name: string, reason: string, record?: string): void {
    this.problems.push({
      row: this.row,
      ...(record === undefined ? {} : { record }),
      field: this.#label(name),
      reason,
    });
  }

  text(name: string): string | undefined {
    const at = this.#manner.places.get(name);
    const cell = at === undefined ? undefined : this.#cells[at]?.replace(/\s+/g, " ").trim();
    if (cell !== undefined && FORMULA.test(cell)) this.#formula(name, cell);
    const own = unshielded(cell ?? "");
    const said = own ? own : this.#manner.fixed.get(name);
    if (said !== undefined && !this.#said.has(name)) this.#said.set(name, said);
    return said;
  }

  /** What was read so far, in the order of the columns, without what stands in these words already. */
  read(words: string): ReadCell[] {
    const told = new Set(words.split(/[\s,;]+/));
    return this.#shape.columns.flatMap(({ name, label }) => {
      const value = this.#said.get(name);
      return value === undefined || told.has(value) ? [] : [{ label, value }];
    });
  }

  /** Told once, however often the cell is read. */
  #formula(name: string, cell: string): void {
    if (this.problems.some(({ record, field }) => record === cell && field === this.#label(name))) return;
    this.problem(name, say`is a formula and not what it came to: save the sheet with its values`, cell);
  }

  needed(name: string): string {
    const own = this.text(name);
    if (own === undefined) this.problem(name, say`is empty`);
    return own ?? "";
  }

  /** A number; in a sheet that writes decimals one way, `1,234` can be read in one way. */
  number(name: string): number | undefined {
    const own = this.text(name);
    return own === undefined ? undefined : this.#kept(name, this.#number(own), (value) => formatNumber(value, 3));
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

  /** A sheath mark, still as text with the unit written beside it: a mark is kept as printed. */
  mark(name: string): string | undefined {
    const own = this.text(name);
    if (own === undefined) return undefined;
    const plain = this.#plain(own);
    const value = plain instanceof Fault ? plain : parseMark(plain, null);
    const kept = this.#kept(name, value, (mark) => formatMark(mark, null));
    return kept === undefined ? undefined : (plain as string);
  }

  day(name: string): string | undefined {
    const own = this.text(name);
    if (own === undefined) return undefined;
    return this.#kept(name, readDay(own, this.#manner.today, this.#manner.days ?? undefined), (day) => day);
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
      this.problem(name, say`is “${this.text(name)}”: must be one of ${Object.values(values).join(", ")}`);
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
