/**
 * First reading of a folder: which record each row is. Parents come before what is named after them, so an address can
 * name a record that is new in the same folder.
 */
import { Fault, quoted } from "../model/clean-text.ts";
import { isKindName, KIND_NAMES, type KindName, kindOf } from "../model/dictionary.ts";
import { plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type ReadCell, readerOf } from "./cells.ts";
import { AGAIN, type Column, EXCHANGE_COLUMNS, REF } from "./columns.ts";
import type { Record4180 } from "./csv.ts";
import { Directory, NAMING } from "./directory.ts";
import { Fates, REFUSED } from "./fates.ts";
import type { Folder, ReadFile } from "./folder.ts";
import { apart, Numbers } from "./key-table.ts";

/** What a reference cell means: an id, or why it means none. */
export type Target = number | Fault;

/** A row whose parent may still come later in the folder. */
interface Waiting {
  readonly file: ReadFile;
  readonly parts: readonly KeyPart[];
  readonly record: Record4180;
  /** What its record is to have should it be new, so that ids are in the order of rows. */
  readonly id: number;
}

/** Why it isn't known which record a row is. */
interface Unknown {
  /** It may be known once more of the folder is read. */
  readonly later: boolean;
  readonly field: string | null;
  readonly reason: string;
}

/** How one part of a key is read from a row. */
interface KeyPart {
  readonly column: Column;
  /** Place in the row, or -1. */
  readonly place: number;
  readonly read: ReadCell;
  /** For a subject: place of its kind. */
  readonly kindPlace: number;
}

export class Identities {
  readonly directory = new Directory();
  readonly fates = new Fates();
  readonly #refs = new Map<KindName, Map<string, number>>();
  /** By kind and id: which row of its file is that record; 0 where none is. */
  readonly #claims = Object.fromEntries(KIND_NAMES.map((kind) => [kind, new Numbers()])) as Record<KindName, Numbers>;
  readonly #next: Map<KindName, number>;
  readonly #firstNew: ReadonlyMap<KindName, number>;
  readonly #plantId: number;
  #waiting: Waiting[] = [];

  /** `firstNew`: by kind, the id that the first new record will have. */
  constructor(firstNew: ReadonlyMap<KindName, number>, plantId: number) {
    this.#firstNew = firstNew;
    this.#next = new Map(firstNew);
    this.#plantId = plantId;
  }

  /** The id of the first new record. */
  firstNew(kind: KindName): number {
    return this.#firstNew.get(kind) as number;
  }

  isNew(kind: KindName, id: number): boolean {
    return id >= this.firstNew(kind);
  }

  /** Whether the record is new in this folder and its row is refused. */
  isRefusedNew(kind: KindName, id: number): boolean {
    return this.isNew(kind, id) && this.fates.is(kind, indexOf({ row: this.#claims[kind].at(id) }), REFUSED);
  }

  async read(
    folder: Folder,
    file: ReadFile,
    taste: (text: string) => void,
    progress: (rows: number) => Promise<void>,
  ): Promise<void> {
    const parts = partsOf(file);
    const waiting: Waiting[] = [];
    for await (const lot of folder.rows(file, taste)) {
      for (const record of lot) {
        const index = indexOf(record);
        this.fates.rows[file.kind].meet(index);
        const has = record.cells.length;
        if (has !== file.columns.length) {
          const reason = plural(
            has,
            "has {0} cell where the heading has {1}",
            "has {0} cells where the heading has {1}",
            file.columns.length,
          );
          this.#refuse(file, index, record, { field: null, reason });
          continue;
        }
        const unknown = this.#identify(file, parts, record, null);
        if (unknown?.later) waiting.push({ file, parts, record, id: this.#reserve(file.kind) });
        else if (unknown) this.#refuse(file, index, record, unknown);
      }
      await progress(lot.length);
    }
    this.#waiting.push(...this.#settled(waiting));
  }

  /** Once every file is read: what still waits for something is refused. */
  finish(): void {
    for (const { file, parts, record } of this.#settled(this.#waiting)) {
      this.#refuse(file, indexOf(record), record, this.#identify(file, parts, record, null) as Unknown);
    }
    this.#waiting = [];
  }

  /** Tries again as long as that helps; answers what waits on. */
  #settled(waiting: readonly Waiting[]): readonly Waiting[] {
    for (let before = -1; waiting.length !== before; ) {
      before = waiting.length;
      waiting = waiting.filter(({ file, parts, record, id }) => {
        const unknown = this.#identify(file, parts, record, id);
        if (unknown && !unknown.later) this.#refuse(file, indexOf(record), record, unknown);
        return unknown?.later;
      });
    }
    return waiting;
  }

  /** What a reference cell means. */
  target(to: KindName, cell: string): Target {
    if (cell.startsWith("#")) {
      const id = this.#refs.get(to)?.get(cell.slice(1));
      return id ?? new Fault(say`is ${quoted(cell)}: no row of ${to}.csv is called so in its column ${REF}`);
    }
    const found = this.directory.find(to, cell.trim());
    const [id] = found;
    if (id === undefined) {
      return new Fault(say`is ${quoted(cell)}: no such ${kindOf(to).one}, on record or in this folder`);
    }
    if (found.length > 1)
      return new Fault(say`is ${quoted(cell)}: ${found.length} records are called so; say which by #name`);
    return id;
  }

  /** Finds out which record a row is, or that it is a new one, which then gets the reserved id or the next. */
  #identify(file: ReadFile, parts: readonly KeyPart[], record: Record4180, reserved: number | null): Unknown | null {
    const { kind } = file;
    const key = new Array<number>(parts.length);
    if (kind !== "plant") {
      for (let i = 0; i < parts.length; i += 1) {
        const part = this.#partOf(parts[i] as KeyPart, record);
        if (typeof part !== "number") return part;
        key[i] = part;
      }
      const naming = NAMING[kind];
      if (naming && !naming.mayStandAlone && naming.parents.every(({ at }) => key[at] === 0)) {
        const field = parts[naming.parents.at(-1)?.at as number]?.column.name ?? null;
        return { later: false, field, reason: say`is missing` };
      }
    }
    const place = file.places.get(AGAIN);
    const cell = place === undefined ? "" : (record.cells[place] as string);
    const again = cell === "" ? 1 : Number(cell);
    if (!Number.isInteger(again) || again < 1) {
      return { later: false, field: AGAIN, reason: say`is ${quoted(cell)}: must be a whole number from 1, or empty` };
    }
    const id = this.#find(kind, key, again);
    return typeof id === "number" ? this.#take(file, record, key, id, reserved) : id;
  }

  /** One part of a key from its cell; 0 for not known. */
  #partOf({ column, place, read, kindPlace }: KeyPart, record: Record4180): number | Unknown {
    const cell = place < 0 ? "" : (record.cells[place] as string);
    if (cell === "" || column.holds === "value") {
      const value = read(cell);
      if (value instanceof Fault) return { later: false, field: column.name, reason: value.reason };
      return this.directory.part(value);
    }
    const to = column.to ?? kindIn(record, kindPlace);
    if (to === null) return { later: false, field: column.name, reason: say`has no kind beside it` };
    const target = this.target(to, cell);
    return typeof target === "number" ? target : { later: true, field: column.name, reason: target.reason };
  }

  #take(
    file: ReadFile,
    record: Record4180,
    key: readonly number[],
    id: number,
    reserved: number | null,
  ): Unknown | null {
    const { kind } = file;
    const index = indexOf(record);
    const claims = this.#claims[kind];
    const refPlace = file.places.get(REF);
    const ref = refPlace === undefined ? "" : (record.cells[refPlace] as string).trim();
    const refs = this.#refs.get(kind) ?? new Map<string, number>();
    this.#refs.set(kind, refs);
    const before = id === 0 ? 0 : claims.at(id);
    if (before !== 0) {
      this.#refuse(file, index, record, { field: null, reason: say`says the same record as row ${before}` });
      const first = indexOf({ row: before });
      const reason = say`says the same record as row ${record.row}`;
      const problem = { file: file.name, row: before, record: calledBy(file, record), reason };
      if (!this.fates.is(kind, first, REFUSED)) this.fates.refuse(kind, first, problem);
      return null;
    }
    if (ref !== "" && refs.has(ref)) {
      return { later: false, field: REF, reason: say`is ${quoted(ref)}, as in a row before` };
    }
    const own = id !== 0 ? id : (reserved ?? this.#reserve(kind));
    if (id === 0) this.directory.add(kind, own, key);
    claims.set(own, record.row);
    this.fates.rows[kind].ids.set(index, own);
    if (ref !== "") refs.set(apart(ref), own);
    return null;
  }

  /** The record with this key, 0 when it is new. */
  #find(kind: KindName, key: readonly number[], again: number): number | Unknown {
    if (kind === "plant") return this.#plantId;
    const table = this.directory.tables[kind];
    if (again === 1) return table.find(key);
    const all = table.all(key);
    if (again > all.length + 1) {
      const before = plural(all.length, "there is only {0} before it", "there are only {0} before it");
      return { later: false, field: AGAIN, reason: say`is ${again}, but ${before}` };
    }
    return all[again - 1] ?? 0;
  }

  /** The next new id of a kind. */
  #reserve(kind: KindName): number {
    const id = this.#next.get(kind) as number;
    this.#next.set(kind, id + 1);
    return id;
  }

  #refuse(
    file: ReadFile,
    index: number,
    record: Record4180,
    { field, reason }: Pick<Unknown, "field" | "reason">,
  ): void {
    this.fates.refuse(file.kind, index, {
      file: file.name,
      row: record.row,
      record: calledBy(file, record),
      ...(field ? { field } : {}),
      reason,
    });
  }
}

/** Where a row's fate is kept: rows count from 1 and the first is the heading. */
export const indexOf = ({ row }: Pick<Record4180, "row">): number => row - 2;

/** What a row calls its record, for problems: its address as far as the row says it, or its key. */
export function calledBy(file: ReadFile, record: Record4180): string {
  const cells = COLUMNS[file.kind].map((column) => record.cells[file.places.get(column.name) ?? -1] ?? "");
  const naming = NAMING[file.kind];
  if (!naming) return cells.filter(Boolean).join(" ").slice(0, LONGEST);
  const parent = naming.parents.map(({ at }) => cells[at]).find(Boolean);
  return `${parent ? parent + naming.separator : ""}${cells[naming.own]}`.slice(0, LONGEST);
}

/** The kind that a cell names, or null. */
export function kindIn(record: Record4180, place: number): KindName | null {
  const cell = record.cells[place] ?? "";
  return isKindName(cell) ? cell : null;
}

/** The columns of each kind's key, in its order. */
const COLUMNS = Object.fromEntries(
  KIND_NAMES.map((kind) => [
    kind,
    kindOf(kind).key.map((field) => EXCHANGE_COLUMNS[kind].find((column) => column.field === field) as Column),
  ]),
) as unknown as Readonly<Record<KindName, readonly Column[]>>;
const LONGEST = 120;

function partsOf(file: ReadFile): readonly KeyPart[] {
  return COLUMNS[file.kind].map((column) => {
    const kindField = column.declared?.type === "subject" ? column.declared.kindField : "";
    return {
      column,
      place: file.places.get(column.name) ?? -1,
      read: readerOf(file.kind, column.field as string),
      kindPlace: file.places.get(kindField) ?? -1,
    };
  });
}

/** Kinds in the order in which they are identified: what names others first, then what they name, subjects last. */
export const READING_ORDER: readonly KindName[] = order();

function order(): KindName[] {
  const done: KindName[] = [];
  const visit = (kind: KindName): void => {
    if (done.includes(kind)) return;
    for (const parent of NAMING[kind]?.parents ?? []) if (parent.kind !== kind) visit(parent.kind);
    done.push(kind);
  };
  const hasSubject = (kind: KindName) => EXCHANGE_COLUMNS[kind].some(({ holds }) => holds === "subject");
  const rank = (kind: KindName): number => (NAMING[kind] ? 0 : hasSubject(kind) ? 2 : 1);
  for (const wanted of [0, 1, 2]) for (const kind of KIND_NAMES) if (rank(kind) === wanted) visit(kind);
  return done;
}
