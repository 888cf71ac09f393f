/** What becomes of each row of a folder: one byte a row, and its record's id. */
import { KIND_NAMES, type KindName } from "../model/dictionary.ts";
import type { Problem } from "../result.ts";
import { say } from "../words/say.ts";
import { apart, Numbers } from "./key-table.ts";

export const REFUSED = 0;
export const NEW = 1;
export const CHANGED = 2;
export const SAME = 3;
/** No row at all: a line left blank. */
const BLANK = 4;
export type Fate = typeof REFUSED | typeof NEW | typeof CHANGED | typeof SAME;
const FATE_WORDS = ["refused", "new", "changed", "same"] as const;

/** More problems than this are only counted, by their reason. */
const KEPT = 2_000;
/** So many different reasons are told apart. */
const GROUPS = 500;

/** The rows of one file, in its order. */
class Rows {
  length = 0;
  /** Id of each row's record; 0 where the row has none. */
  readonly ids = new Numbers();
  #fates = new Uint8Array(64);

  /** Takes a row in, behind those before it. */
  meet(index: number): void {
    if (index >= this.#fates.length) {
      const larger = new Uint8Array(index * 2);
      larger.set(this.#fates);
      this.#fates = larger;
    }
    this.#fates.fill(BLANK, this.length, index);
    this.#fates[index] = SAME;
    this.length = index + 1;
  }
  /** Undefined for a line left blank. */
  fate(index: number): Fate | undefined {
    const fate = this.#fates[index];
    return fate === BLANK ? undefined : (fate as Fate | undefined);
  }
  decide(index: number, fate: Fate): void {
    this.#fates[index] = fate;
  }
}

/** What is wrong with a row, and where: the field is the column's name in the file. */
export interface RowProblem extends Problem {
  readonly file: string;
  readonly row: number;
}

export interface ReasonGroup {
  readonly file: string;
  readonly field: string | null;
  /** One of the reasons; the others differ in what they quote. */
  readonly reason: string;
  /** How many times it was found. */
  readonly rows: number;
  readonly first_row: number;
}

export class Fates {
  readonly rows = Object.fromEntries(KIND_NAMES.map((kind) => [kind, new Rows()])) as Readonly<Record<KindName, Rows>>;
  readonly problems: RowProblem[] = [];
  readonly #groups = new Map<string, ReasonGroup & { rows: number; first_row: number }>();
  /** How many rows are refused. */
  refused = 0;

  /** Says no to a row; the first problem of a row counts it as refused. */
  refuse(kind: KindName, index: number, problem: RowProblem): void {
    const rows = this.rows[kind];
    if (rows.fate(index) !== REFUSED) {
      rows.decide(index, REFUSED);
      this.refused += 1;
    }
    if (this.problems.length < KEPT) this.problems.push(problem);
    const { file, row: first_row, field = null } = problem;
    const alike = problem.reason.replace(/“[^”]*”|\d+/g, "…");
    const key = `${file}|${field}|${this.#groups.size < GROUPS ? alike : ""}`;
    const group = this.#groups.get(key);
    if (group) {
      group.rows += 1;
      group.first_row = Math.min(group.first_row, first_row);
    } else {
      const reason = this.#groups.size < GROUPS ? apart(problem.reason) : say`other reasons`;
      this.#groups.set(key, { file, field, reason, rows: 1, first_row });
    }
  }

  is(kind: KindName, index: number, fate: Fate): boolean {
    return this.rows[kind].fate(index) === fate;
  }

  count(kind: KindName): Record<(typeof FATE_WORDS)[number], number> & { rows: number } {
    const rows = this.rows[kind];
    const counts = { rows: 0, refused: 0, new: 0, changed: 0, same: 0 };
    for (let i = 0; i < rows.length; i += 1) {
      const fate = rows.fate(i);
      if (fate === undefined) continue;
      counts.rows += 1;
      counts[FATE_WORDS[fate]] += 1;
    }
    return counts;
  }

  groups(): ReasonGroup[] {
    return [...this.#groups.values()].sort((a, b) => b.rows - a.rows || a.first_row - b.first_row);
  }
}

/** Two running sums over text, to know the same plan and the same files again. Not a defence against forgery. */
export class Taste {
  #a = 0x811c9dc5;
  #b = 0x01000193;
  /** It doesn't matter in which pieces a text comes. */
  readonly text = (text: string): void => {
    let a = this.#a;
    let b = this.#b;
    for (let i = 0; i < text.length; i += 1) {
      const code = text.charCodeAt(i);
      a = Math.imul(a ^ code, 0x01000193);
      b = Math.imul(b ^ (code + 0x9e37), 0x85ebca6b) ^ (b >>> 13);
    }
    this.#a = a;
    this.#b = b;
  };
  number(value: number): void {
    this.#a = Math.imul(this.#a ^ value, 0x01000193);
    this.#b = Math.imul(this.#b ^ (value + 0x9e37), 0x85ebca6b) ^ (this.#b >>> 13);
  }
  toString(): string {
    const hex = (value: number) => (value >>> 0).toString(16).padStart(8, "0");
    return `${hex(this.#a)}${hex(this.#b)}`;
  }
}
