/** What becomes of each row of a folder: one byte a row, and its record's id. */
import { KIND_NAMES, type KindName } from "../model/dictionary.ts";
import type { Problem } from "../result.ts";

export const REFUSED = 0;
export const NEW = 1;
export const CHANGED = 2;
export const SAME = 3;
export type Fate = typeof REFUSED | typeof NEW | typeof CHANGED | typeof SAME;
export const FATE_WORDS = ["refused", "new", "changed", "same"] as const;

/** More problems than this are only counted, by their reason. */
const KEPT = 2_000;

/** A list of numbers that grows, one for each row. */
export class Column32 {
  #values = new Int32Array(1024);
  length = 0;
  push(value: number): void {
    if (this.length === this.#values.length) {
      const larger = new Int32Array(this.length * 2);
      larger.set(this.#values);
      this.#values = larger;
    }
    this.#values[this.length++] = value;
  }
  at(index: number): number {
    return this.#values[index] as number;
  }
  set(index: number, value: number): void {
    this.#values[index] = value;
  }
}

export interface ReasonGroup {
  readonly file: string;
  readonly field: string | null;
  /** One of the reasons; the others differ in what they quote. */
  readonly reason: string;
  readonly rows: number;
  readonly first_row: number;
}

export class Fates {
  /** By kind: id of each row's record, in the order of the file; 0 where the row has none. */
  readonly ids = Object.fromEntries(KIND_NAMES.map((kind) => [kind, new Column32()])) as Record<KindName, Column32>;
  readonly fates = Object.fromEntries(KIND_NAMES.map((kind) => [kind, new Column32()])) as Record<KindName, Column32>;
  readonly problems: Problem[] = [];
  readonly #groups = new Map<
    string,
    { file: string; field: string | null; reason: string; rows: number; first_row: number }
  >();
  refused = 0;

  /** Takes a row in, as refused until its fate is known. */
  meet(kind: KindName, id: number): void {
    this.ids[kind].push(id);
    this.fates[kind].push(SAME);
  }

  /** Says no to a row; the first problem of a row counts it as refused. */
  refuse(kind: KindName, index: number, problem: Problem & { readonly file: string; readonly row: number }): void {
    if (this.fates[kind].at(index) !== REFUSED) {
      this.fates[kind].set(index, REFUSED);
      this.refused += 1;
    }
    if (this.problems.length < KEPT) this.problems.push(problem);
    const field = problem.field ?? null;
    const key = `${problem.file}|${field}|${problem.reason.replace(/“[^”]*”|\d+/g, "…")}`;
    const group = this.#groups.get(key);
    if (group) group.rows += 1;
    else this.#groups.set(key, { file: problem.file, field, reason: problem.reason, rows: 1, first_row: problem.row });
  }

  is(kind: KindName, index: number, fate: Fate): boolean {
    return this.fates[kind].at(index) === fate;
  }

  count(kind: KindName): Record<(typeof FATE_WORDS)[number], number> & { rows: number } {
    const counts = { rows: this.fates[kind].length, refused: 0, new: 0, changed: 0, same: 0 };
    for (let i = 0; i < counts.rows; i += 1) counts[FATE_WORDS[this.fates[kind].at(i) as Fate]] += 1;
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
  readonly text = (text: string): void => {
    for (let i = 0; i < text.length; i += 1) this.number(text.charCodeAt(i));
    this.number(0x1f);
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
