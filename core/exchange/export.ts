/** The whole plant as CSV, one file a kind. The same content always gives the same bytes. */
import { KIND_NAMES, type KindName, kindOf, type Value } from "../model/dictionary.ts";
import type { Reader } from "../store/handle.ts";
import { REFERRERS, SUBJECTS } from "../store/relations.ts";
import { cellOf, shielded } from "./cells.ts";
import { AGAIN, type Column, EXCHANGE_COLUMNS, REF } from "./columns.ts";
import { written } from "./csv.ts";
import { Directory, MAY_BE_UNCLEAR, NAMING } from "./directory.ts";

type Stored = Readonly<Record<string, Value>> & { readonly id: number };
const PAGE = 5_000;

export interface ExportOptions {
  /** Shields cells that a spreadsheet would run as formulas. The metadata says so, and reading takes it off again. */
  readonly forSpreadsheet: boolean;
}

/** Names everything, then answers the text of each kind's file in turn. */
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
    const kinds = KIND_NAMES.filter((kind) => NAMING[kind] !== null || !kindOf(kind).unique);
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
    const sources = [
      ...REFERRERS[kind].map(
        ({ kind: from, field }) => `select "${field}" as id from "${from}" where "${field}" is not null`,
      ),
      ...SUBJECTS.map(
        ({ kind: from, field, kindField }) => `select "${field}" as id from "${from}" where "${kindField}" = '${kind}'`,
      ),
    ];
    const rows = await this.#reader.rows<{ id: number }>(`${sources.join(" union ")} order by 1`);
    return rows.map(({ id }) => id);
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
    const sql = `select * from "${kind}" where id > ? order by id limit ${PAGE}`;
    for (let after = 0; ; ) {
      const rows = await this.#reader.rows<Stored>(sql, [after]);
      yield written(rows.map((stored) => columns.map((column) => this.#shown(kind, column, stored))));
      await progress(rows.length);
      if (rows.length < PAGE) return;
      after = (rows.at(-1) as Stored).id;
    }
  }

  #shown(kind: KindName, column: Column, stored: Stored): string {
    const cell = this.#cell(kind, column, stored);
    return this.#options.forSpreadsheet ? shielded(cell) : cell;
  }

  #cell(kind: KindName, column: Column, stored: Stored): string {
    switch (column.holds) {
      case "value":
        return cellOf(stored[column.field as string]);
      case "reference":
        return this.#reference(column.to as KindName, stored[column.field as string] ?? null);
      case "subject": {
        const declared = column.declared;
        const to = declared?.type === "subject" ? stored[declared.kindField] : null;
        return this.#reference(to as KindName, stored[column.field as string] ?? null);
      }
      case AGAIN: {
        const same = this.#directory.tables[kind].all(this.#directory.keyOfValues(kind, stored));
        return same.length < 2 || same[0] === stored.id ? "" : String(same.indexOf(stored.id) + 1);
      }
      case REF:
        return cellOf(this.#numbers.get(kind)?.get(stored.id));
    }
  }

  #reference(to: KindName, id: Value): string {
    if (typeof id !== "number") return "";
    const number = this.#numbers.get(to)?.get(id);
    return number === undefined ? (this.#directory.addressOf(to, id) ?? "") : `#${number}`;
  }
}
