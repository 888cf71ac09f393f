/** A row's values: cells to stored values, references to ids, everything checked as the gateway would check it. */
import { Fault } from "../model/clean-text.ts";
import { type KindName, kindOf, type Value } from "../model/dictionary.ts";
import { FIELD_NAMES } from "../store/relations.ts";
import { say } from "../words/say.ts";
import { type ReadCell, readerOf, valueUnsaid } from "./cells.ts";
import { AGAIN } from "./columns.ts";
import type { Record4180 } from "./csv.ts";
import type { ReadFile } from "./folder.ts";
import { type Identities, kindIn, type Target } from "./identify.ts";

export interface CellProblem {
  /** The column's name. */
  readonly field: string;
  readonly reason: string;
}

/** A column whose cells are values. */
interface ValueColumn {
  readonly name: string;
  readonly place: number;
  /** Its field's place among the kind's fields. */
  readonly at: number;
  readonly read: ReadCell;
}

/** A column whose cells name records. Neighbouring rows often name the same, so the last answer is kept. */
interface ReferenceColumn extends ValueColumn {
  readonly to: KindName | null;
  /** For a subject: place of its kind. */
  readonly kindPlace: number;
  /** Its part of the key, by which the row was identified, or -1. */
  readonly keyPart: number;
  last: { readonly to: KindName; readonly cell: string; readonly target: Target } | null;
}

/** Reads the rows of one file, once all rows of the folder are identified. */
export class RowReader {
  readonly #identities: Identities;
  readonly #file: ReadFile;
  readonly #values: ValueColumn[] = [];
  readonly #references: ReferenceColumn[] = [];
  /** Fields that the file has no column for, and what a new record has there. */
  readonly #unsaid: { readonly name: string; readonly at: number; readonly value: Value | Fault }[] = [];
  readonly #againPlace: number;

  constructor(identities: Identities, file: ReadFile) {
    this.#identities = identities;
    this.#file = file;
    this.#againPlace = file.places.get(AGAIN) ?? -1;
    const { kind } = file;
    const { key } = kindOf(kind);
    const said = new Set<string>();
    file.columns.forEach(({ name, field, holds, declared, to }, place) => {
      if (field === null) return;
      said.add(field);
      const column = { name, place, at: FIELD_NAMES[kind].indexOf(field), read: readerOf(kind, field) };
      if (holds === "value") this.#values.push(column);
      else {
        const kindPlace = declared?.type === "subject" ? (file.places.get(declared.kindField) ?? -1) : -1;
        const keyPart = kind === "plant" ? -1 : key.indexOf(field);
        this.#references.push({ ...column, to, kindPlace, keyPart, last: null });
      }
    });
    FIELD_NAMES[kind].forEach((name, at) => {
      if (!said.has(name)) this.#unsaid.push({ name, at, value: valueUnsaid(kind, name) });
    });
  }

  /**
   * The stored values of an identified row in the order of the kind's fields; undefined where the file has no column,
   * except in a `whole` record, which is new. Adds what is wrong to `problems`.
   */
  read(record: Record4180, id: number, whole: boolean, problems: CellProblem[]): (Value | undefined)[] {
    const values = new Array<Value | undefined>(FIELD_NAMES[this.#file.kind].length);
    values.fill(undefined);
    for (const { name, place, at, read } of this.#values) {
      const value = read(record.cells[place] as string);
      if (value instanceof Fault) problems.push({ field: name, reason: value.reason });
      else values[at] = value;
    }
    for (const column of this.#references) {
      const target = this.#target(column, record, id);
      if (target instanceof Fault) problems.push({ field: column.name, reason: target.reason });
      else values[column.at] = target;
    }
    if (!whole) return values;
    for (const { name, at, value } of this.#unsaid) {
      if (value instanceof Fault) problems.push({ field: name, reason: value.reason });
      else values[at] = value;
    }
    return values;
  }

  /** Why a row can't be taken because of another row that is refused, or null. */
  restsOnRefused(record: Record4180, id: number): CellProblem | null {
    const { kind } = this.#file;
    for (const column of this.#references) {
      const target = this.#target(column, record, id);
      const to = this.#kindOf(column, record);
      if (typeof target === "number" && to && this.#identities.isRefusedNew(to, target)) {
        return { field: column.name, reason: say`rests on a row that is refused` };
      }
    }
    if (this.#againPlace < 0 || record.cells[this.#againPlace] === "") return null;
    const { directory } = this.#identities;
    const table = directory.tables[kind];
    const key = Array.from({ length: table.parts }, (_, i) => table.part(id, i));
    const before = table.all(key).filter((other) => other < id);
    const refused = before.some((other) => this.#identities.isRefusedNew(kind, other));
    return refused ? { field: AGAIN, reason: say`repeats a row that is refused` } : null;
  }

  #kindOf({ to, kindPlace }: ReferenceColumn, record: Record4180): KindName | null {
    return to ?? kindIn(record, kindPlace);
  }

  #target(column: ReferenceColumn, record: Record4180, id: number): number | null | Fault {
    const { kind } = this.#file;
    if (column.keyPart >= 0) return this.#identities.directory.tables[kind].part(id, column.keyPart) || null;
    const cell = record.cells[column.place] as string;
    if (cell === "") return column.read("") as null | Fault;
    const to = this.#kindOf(column, record);
    if (to === null) return new Fault(say`has no kind beside it`);
    const { last } = column;
    if (last && last.to === to && last.cell === cell) return last.target;
    const target = this.#identities.target(to, cell);
    column.last = { to, cell, target };
    return target;
  }
}
