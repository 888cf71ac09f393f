/**
 * First reading of a folder: which record each row is. Parents come before what is named after them, so an address can
 * name a record that is new in the same folder.
 */

import { checkValue } from "../model/check-values.ts";
import { Fault } from "../model/clean-text.ts";
import { KIND_NAMES, type KindName, kindOf, type Value } from "../model/dictionary.ts";
import type { Problem } from "../result.ts";
import { SUBJECT } from "../store/relations.ts";
import { valueIn } from "./cells.ts";
import { AGAIN, type Column, EXCHANGE_COLUMNS, REF } from "./columns.ts";
import type { Record4180 } from "./csv.ts";
import { Directory, KEYING } from "./directory.ts";
import { Fates } from "./fates.ts";
import type { Folder, ReadFile } from "./folder.ts";
import { ById } from "./key-table.ts";

/** What a reference cell means: an id, or why it means none. */
export type Target = number | Fault;

/** A row whose parent may still come later in the folder. */
interface Waiting {
  readonly index: number;
  readonly record: Record4180;
}

export class Identities {
  readonly directory = new Directory();
  readonly fates = new Fates();
  readonly #refs = new Map<KindName, Map<string, number>>();
  /** By kind and id: which row of this folder, from 1, is that record. */
  readonly #claims = new Map<KindName, ById>();
  readonly #next: Map<KindName, number>;
  readonly firstNew: ReadonlyMap<KindName, number>;
  readonly #plantId: number | null;

  /** `firstNew`: by kind, the id that the first new record will have. */
  constructor(firstNew: ReadonlyMap<KindName, number>, plantId: number | null) {
    this.firstNew = firstNew;
    this.#next = new Map(firstNew);
    this.#plantId = plantId;
  }

  /** How many new ids a kind takes. */
  taken(kind: KindName): number {
    return (this.#next.get(kind) as number) - (this.firstNew.get(kind) as number);
  }

  async read(
    folder: Folder,
    file: ReadFile,
    taste: (text: string) => void,
    progress: (rows: number) => Promise<void>,
  ): Promise<void> {
    const mayWait = waits(file.kind);
    let waiting: Waiting[] = [];
    for await (const lot of folder.rows(file, taste)) {
      for (const record of lot) {
        const index = this.fates.ids[file.kind].length;
        this.fates.meet(file.kind, 0);
        if (record.cells.length !== file.columns.length) {
          const has = record.cells.length;
          this.#refuse(file, index, record, null, `has ${has} cells where the heading has ${file.columns.length}`);
          continue;
        }
        const key = this.#keyOf(file, record);
        if (!isProblem(key)) this.#take(file, index, record, key);
        else if (mayWait && key.later) waiting.push({ index, record });
        else this.#refuse(file, index, record, key.field, key.reason);
      }
      await progress(lot.length);
    }
    while (waiting.length > 0) {
      const still: Waiting[] = [];
      for (const one of waiting) {
        const key = this.#keyOf(file, one.record);
        if (isProblem(key)) still.push(one);
        else this.#take(file, one.index, one.record, key);
      }
      if (still.length === waiting.length) {
        for (const { index, record } of still) {
          const key = this.#keyOf(file, record) as KeyProblem;
          this.#refuse(file, index, record, key.field, key.reason);
        }
        return;
      }
      waiting = still;
    }
  }

  /** What a reference cell of a column means. */
  target(to: KindName, cell: string): Target {
    if (cell.startsWith("#")) {
      const id = this.#refs.get(to)?.get(cell.slice(1));
      return id ?? new Fault(`is ${cell}: no row of ${to}.csv is called so in its column ${REF}`);
    }
    const found = this.directory.find(to, cell.trim());
    const [id] = found;
    if (id === undefined)
      return new Fault(`is “${cell.slice(0, 80)}”: no such ${kindOf(to).one}, on record or in this folder`);
    if (found.length > 1) return new Fault(`is “${cell}”: ${found.length} records are called so; say which by #name`);
    return id;
  }

  #keyOf(file: ReadFile, record: Record4180): number[] | KeyProblem {
    const { kind } = file;
    const { naming, fields } = KEYING[kind];
    if (kind === "plant") return [0];
    if (!naming) {
      const parts: number[] = [];
      for (const { name } of fields) {
        const part = this.#partOf(file, record, name);
        if (isProblem(part)) return part;
        parts.push(part);
      }
      return parts;
    }
    let option = -1;
    let parent = 0;
    for (let i = 0; i < naming.parents.length && option < 0; i += 1) {
      const found = this.#partOf(file, record, naming.parents[i]?.field as string);
      if (isProblem(found)) return found;
      if (found !== 0) {
        option = i;
        parent = found;
      }
    }
    if (option < 0 && !naming.mayStandAlone) {
      const field = naming.parents.at(-1)?.field as string;
      return { problem: true, later: false, field: kindOf(kind).fields[field]?.label ?? field, reason: "is missing" };
    }
    const own = this.#partOf(file, record, naming.nameField);
    return isProblem(own) ? own : [option < 0 ? 9 : option, parent, own];
  }

  /** One part of a key from its cell; 0 for not known. */
  #partOf(file: ReadFile, record: Record4180, field: string): number | KeyProblem {
    const column = COLUMN_OF[file.kind].get(field) as Column;
    const place = file.places.get(column.name);
    const cell = place === undefined ? "" : (record.cells[place] as string);
    const label = column.declared?.label ?? field;
    if (column.holds === "reference" || column.holds === "subject") {
      if (cell === "")
        return column.declared?.required ? { problem: true, later: false, field: label, reason: "is missing" } : 0;
      const to = column.to ?? this.#subjectKind(file, record);
      if (to === null) return { problem: true, later: false, field: label, reason: "has no kind beside it" };
      const target = this.target(to, cell);
      return typeof target === "number" ? target : { problem: true, later: true, field: label, reason: target.reason };
    }
    const given = column.declared ? valueIn(column.declared, cell) : null;
    const checked = given instanceof Fault ? given : checkValue(file.kind, field, given);
    if (checked instanceof Fault) {
      // An initial value stands in for a choice that isn't said.
      const initial = cell === "" && column.declared?.type === "choice" ? column.declared.initial : undefined;
      if (initial !== undefined) return this.directory.texts.numberOf(initial);
      return { problem: true, later: false, field: label, reason: checked.reason };
    }
    return this.#number(checked);
  }

  #number(value: Value): number {
    if (value === null) return 0;
    return typeof value === "number" ? value : this.directory.texts.numberOf(value);
  }

  #subjectKind(file: ReadFile, record: Record4180): KindName | null {
    const subject = SUBJECT[file.kind];
    const place = subject ? file.places.get(subject.kindField) : undefined;
    const cell = place === undefined ? "" : (record.cells[place] as string);
    return KIND_NAMES.find((kind) => kind === cell) ?? null;
  }

  #take(file: ReadFile, index: number, record: Record4180, key: readonly number[]): void {
    const { kind } = file;
    const place = file.places.get(AGAIN);
    const again = place === undefined || record.cells[place] === "" ? 1 : Number(record.cells[place]);
    const id = this.#find(kind, key, again);
    if (id < 0) {
      this.#refuse(
        file,
        index,
        record,
        AGAIN,
        `is ${again}, but there ${-id - 1 === 1 ? "is" : "are"} only ${-id - 1} before it`,
      );
      return;
    }
    const claims = this.#claimsOf(kind);
    // Rows count from 1 here; the file's own count has the heading before them.
    const before = id === 0 ? 0 : claims.get(id);
    if (before !== 0) {
      this.#refuse(file, index, record, null, `claims the same record as row ${before + 1}`);
      this.fates.refuse(kind, before - 1, {
        file: file.name,
        row: before + 1,
        record: this.#called(file, record),
        reason: `claims the same record as row ${record.row}`,
      });
      return;
    }
    const own = id === 0 ? this.#newId(kind, key) : id;
    claims.set(own, index + 1);
    this.fates.ids[kind].set(index, own);
    const refPlace = file.places.get(REF);
    const ref = refPlace === undefined ? "" : (record.cells[refPlace] as string);
    if (ref !== "") {
      const refs = this.#refs.get(kind) ?? new Map<string, number>();
      this.#refs.set(kind, refs);
      refs.set(ref, own);
    }
  }

  /** The record with this key, 0 when it is new, or below 0 when repeats before it are missing. */
  #find(kind: KindName, key: readonly number[], again: number): number {
    if (kind === "plant") return this.#plantId ?? 0;
    const table = this.directory.tables[kind];
    if (again === 1) return table.find(key);
    const all = table.all(key);
    if (!Number.isInteger(again) || again < 1 || again > all.length + 1) return -all.length - 1;
    return all[again - 1] ?? 0;
  }

  #newId(kind: KindName, key: readonly number[]): number {
    const id = this.#next.get(kind) as number;
    this.#next.set(kind, id + 1);
    if (kind !== "plant") this.directory.add(kind, id, key);
    return id;
  }

  /** Whether new records have their ids in the order of their rows. */
  ascending(kind: KindName): boolean {
    const ids = this.fates.ids[kind];
    for (let i = 0, last = 0; i < ids.length; i += 1) {
      const id = ids.at(i);
      if (!this.isNew(kind, id)) continue;
      if (id < last) return false;
      last = id;
    }
    return true;
  }

  isNew(kind: KindName, id: number): boolean {
    return id >= (this.firstNew.get(kind) as number);
  }

  #claimsOf(kind: KindName): ById {
    let claims = this.#claims.get(kind);
    if (!claims) {
      claims = new ById();
      this.#claims.set(kind, claims);
    }
    return claims;
  }

  /** What the row calls its record, for problems. */
  #called(file: ReadFile, record: Record4180): string {
    return EXCHANGE_COLUMNS[file.kind]
      .filter((column) => column.key)
      .map((column) => record.cells[file.places.get(column.name) ?? -1] ?? "")
      .filter(Boolean)
      .join(" ")
      .slice(0, 120);
  }

  #refuse(file: ReadFile, index: number, record: Record4180, field: string | null, reason: string): void {
    const problem: Problem = {
      file: file.name,
      row: record.row,
      record: this.#called(file, record),
      ...(field ? { field } : {}),
      reason,
    };
    this.fates.refuse(file.kind, index, { ...problem, file: file.name, row: record.row });
  }
}

interface KeyProblem {
  readonly problem: true;
  /** What it names may still come later in the folder. */
  readonly later: boolean;
  readonly field: string;
  readonly reason: string;
}
const isProblem = (value: unknown): value is KeyProblem =>
  typeof value === "object" && value !== null && "problem" in value;

const COLUMN_OF = Object.fromEntries(
  KIND_NAMES.map((kind) => [
    kind,
    new Map<string | null, Column>(EXCHANGE_COLUMNS[kind].map((column) => [column.field, column])),
  ]),
) as unknown as Readonly<Record<KindName, ReadonlyMap<string | null, Column>>>;

/** Kinds whose rows may name rows of the same file, or of a file read later. */
const waits = (kind: KindName): boolean =>
  SUBJECT[kind] !== null || (KEYING[kind].naming?.parents.some((parent) => parent.kind === kind) ?? false);

/** Kinds in the order in which they are identified: what names others first, then what they name, subjects last. */
export const READING_ORDER: readonly KindName[] = order();

function order(): KindName[] {
  const done: KindName[] = [];
  const visit = (kind: KindName): void => {
    if (done.includes(kind)) return;
    for (const parent of KEYING[kind].naming?.parents ?? []) if (parent.kind !== kind) visit(parent.kind);
    done.push(kind);
  };
  const rank = (kind: KindName): number => (KEYING[kind].naming ? 0 : SUBJECT[kind] ? 2 : 1);
  for (const wanted of [0, 1, 2]) for (const kind of KIND_NAMES) if (rank(kind) === wanted) visit(kind);
  return done;
}
