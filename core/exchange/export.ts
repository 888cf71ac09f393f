/** The whole plant as CSV, one file a kind. The same content always gives the same bytes. */
import { KIND_NAMES, type KindName, kindOf, type Value } from "../model/dictionary.ts";
import type { Reader } from "../store/handle.ts";
import { FIELD_NAMES, named, REFERRERS, SUBJECTS } from "../store/relations.ts";
import { shielded } from "./cells.ts";
import { AGAIN, EXCHANGE_COLUMNS } from "./columns.ts";
import { cellText, written } from "./csv.ts";
import { Directory, MAY_BE_UNCLEAR, NAMING } from "./directory.ts";
import { KeyTable } from "./key-table.ts";

const PAGE = 2_000;

export interface ExportOptions {
  /** Shields cells that a spreadsheet would run as formulas. The metadata says so, and reading takes it off again. */
  readonly forSpreadsheet: boolean;
}

/** A stored row: its id, then its fields in declared order. */
type Row = readonly Value[];
/** A column: where its value stands in a row, and its text in the file when that isn't null. */
interface Cell {
  readonly at: number;
  readonly text: (value: string | number, row: Row) => string;
}

/**
 * Kinds that nothing written before them refers to: who they are is taken in while they are written, and costs no
 * reading of its own. The largest kinds are among them.
 */
const NAMED_WHILE_WRITTEN: ReadonlySet<KindName> = new Set(
  KIND_NAMES.filter((kind, at) => {
    const earlier = (other: KindName) => KIND_NAMES.indexOf(other) <= at;
    return (
      NAMING[kind] !== null &&
      ![...MAY_BE_UNCLEAR].some((one) => liesUnder(one, kind)) &&
      !REFERRERS[kind].some((one) => earlier(one.kind)) &&
      !SUBJECTS.some((one) => earlier(one.kind))
    );
  }),
);

/** Whether records of a kind are named after records of another, or are such records themselves. */
function liesUnder(kind: KindName, above: KindName): boolean {
  if (kind === above) return true;
  return NAMING[kind]?.parents.some((parent) => parent.kind !== kind && liesUnder(parent.kind, above)) ?? false;
}

/** Names everything, then answers the text of each kind's file, to be asked for in the order of the dictionary. */
export class Exporter {
  readonly #reader: Reader;
  readonly #options: ExportOptions;
  readonly #directory = new Directory();
  /** For records that no address names: their number in their file, by which others refer to them. */
  readonly #numbers = new Map<KindName, ReadonlyMap<number, number>>();

  constructor(reader: Reader, options: ExportOptions) {
    this.#reader = reader;
    this.#options = options;
  }

  /** Reads what everything is called. */
  async prepare(progress: (done: number, total: number) => Promise<void>): Promise<void> {
    const kinds = KIND_NAMES.filter((kind) => NAMING[kind] !== null && !NAMED_WHILE_WRITTEN.has(kind));
    await this.#directory.load(this.#reader, kinds, progress);
    for (const kind of KIND_NAMES) {
      const ids = NAMING[kind] ? this.#unclear(kind) : await this.#referredTo(kind);
      this.#numbers.set(kind, new Map(ids.map((id, index) => [id, index + 1])));
    }
  }

  /** Records whose address names another of their kind as well, or that have none because they lie inside themselves. */
  #unclear(kind: KindName): number[] {
    if (!MAY_BE_UNCLEAR.has(kind)) return [];
    const unclear: number[] = [];
    for (const id of this.#directory.tables[kind].ids()) {
      const address = this.#directory.addressOf(kind, id);
      if (address === null || this.#directory.find(kind, address).length > 1) unclear.push(id);
    }
    return unclear;
  }

  /** Records without an address that others refer to. */
  async #referredTo(kind: KindName): Promise<number[]> {
    // What records refer to by a field of their own (papers) is numbered whole: looking for who does would mean to read
    // every table.
    const sources =
      REFERRERS[kind].length > 0
        ? [`select id from "${kind}"`]
        : SUBJECTS.map(
            ({ kind: from, field, kindField }) => `select "${field}" from "${from}" where "${kindField}" = '${kind}'`,
          );
    const rows = await this.#reader.lists(`${sources.join(" union ")} order by 1`);
    return rows.map(([id]) => id as number);
  }

  async count(kind: KindName): Promise<number> {
    const [row] = await this.#reader.rows<{ n: number }>(`select count(*) as n from "${kind}"`);
    return row?.n ?? 0;
  }

  /** A kind's file in pieces. `progress` hears of rows. */
  async *file(kind: KindName, progress: (rows: number) => Promise<void>): AsyncIterable<string> {
    const columns = EXCHANGE_COLUMNS[kind];
    // Spreadsheets take a file for UTF-8 only when it begins with this mark; reading takes it off.
    const mark = this.#options.forSpreadsheet ? "\ufeff" : "";
    yield `${mark}${written([columns.map(({ name }) => name)])}`;
    const cells = columns.map((_, i) => this.#cellOf(kind, i));
    const fields = FIELD_NAMES[kind].map(named).join(", ");
    const sql = `select id, ${fields} from "${kind}" where id > ? order by id limit ${PAGE}`;
    const name = NAMED_WHILE_WRITTEN.has(kind) ? this.#keyOf(kind) : null;
    for (let after = 0; ; ) {
      const rows = await this.#reader.lists(sql, [after]);
      let text = "";
      for (const row of rows) {
        if (name) this.#directory.add(kind, row[0] as number, name(row));
        for (let i = 0; i < cells.length; i += 1) {
          const cell = cells[i] as Cell;
          const value = row[cell.at] as Value;
          if (i > 0) text += ",";
          if (value !== null) text += cell.text(value, row);
        }
        text += "\r\n";
      }
      yield text;
      await progress(rows.length);
      if (rows.length < PAGE) return;
      after = rows.at(-1)?.[0] as number;
    }
  }

  /** Makes the text of a column's cells. */
  #cellOf(kind: KindName, column: number): Cell {
    const { holds, field, declared, to } = EXCHANGE_COLUMNS[kind][
      column
    ] as (typeof EXCHANGE_COLUMNS)[KindName][number];
    const at = placeOf(kind, field);
    const shown = this.#options.forSpreadsheet ? (text: string) => cellText(shielded(text)) : cellText;
    switch (holds) {
      case "value": {
        // Numbers, days and words of a list need no quotes.
        const plain = declared?.type !== "text" && declared?.type !== "shape";
        return { at, text: (value) => (typeof value === "number" ? String(value) : plain ? value : shown(value)) };
      }
      case "reference":
        return this.#references(() => to, at, shown);
      case "subject": {
        const kindAt = placeOf(kind, declared?.type === "subject" ? declared.kindField : null);
        return this.#references((row) => row[kindAt] as KindName, at, shown);
      }
      case AGAIN:
        return this.#repeats(kind);
      default: {
        const numbers = this.#numbers.get(kind);
        return { at: 0, text: (id) => String(numbers?.get(id as number) ?? "") };
      }
    }
  }

  #references(kindIn: (row: Row) => KindName | null, at: number, shown: (text: string) => string): Cell {
    let last: { readonly kind: KindName; readonly id: number; readonly text: string } | null = null;
    const textOf: Cell["text"] = (value, row) => {
      const id = value as number;
      const kind = kindIn(row);
      if (kind === null) return "";
      // Neighbouring rows often refer to the same.
      if (last?.id === id && last.kind === kind) return last.text;
      const numbers = this.#numbers.get(kind);
      const number = numbers && numbers.size > 0 ? numbers.get(id) : undefined;
      const text = number === undefined ? shown(this.#directory.addressOf(kind, id) ?? "") : `#${number}`;
      last = { kind, id, text };
      return text;
    };
    return { at, text: textOf };
  }

  /** Counts exact repeats: rows come by id, which is the order in which repeats are told apart. */
  #repeats(kind: KindName): Cell {
    const keyOf = this.#keyOf(kind);
    const before = new KeyTable(kindOf(kind).key.length);
    const textOf: Cell["text"] = (id, row) => {
      const key = keyOf(row);
      const same = before.count(key);
      before.add(id as number, key);
      return same === 0 ? "" : String(same + 1);
    };
    return { at: 0, text: textOf };
  }

  #keyOf(kind: KindName): (row: Row) => readonly number[] {
    const places = kindOf(kind).key.map((field) => placeOf(kind, field));
    const key = new Array<number>(places.length).fill(0);
    return (row) => {
      for (let i = 0; i < places.length; i += 1) {
        key[i] = this.#directory.part(row[places[i] as number] as Value);
      }
      return key;
    };
  }
}

/** Where a field stands in a row. */
const placeOf = (kind: KindName, field: string | null): number =>
  field === null ? -1 : FIELD_NAMES[kind].indexOf(field) + 1;
