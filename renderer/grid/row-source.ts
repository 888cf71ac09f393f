/**
 * The rows of a table of any length, of which only windows are held. A block stays on screen until its successor is
 * there, so nothing blanks or moves while data arrives; answers to a question that was given up are dropped.
 */
import type { WindowRow } from "../../core/store/window.ts";

/** A record as a table shows it; `rev` is the version that is seen, so that a row changed meanwhile is refused. */
export type GridRow = WindowRow;

export interface Window {
  readonly total: number;
  readonly rows: readonly GridRow[];
}

export type FetchWindow = (from: number, count: number) => Promise<Window>;

/** Rows asked for at once, where many are read. */
const AT_ONCE = 5000;
/** Rows in one block, and blocks held: about 6,000 rows, whatever the table's length. */
const BLOCK = 120;
const HELD = 50;

interface Block {
  rows: readonly GridRow[];
  /** The version of the question it answers. */
  version: number;
}

export class RowSource {
  #fetch: FetchWindow;
  #blocks = new Map<number, Block>();
  /** Where a record was seen last; it may stand elsewhere by now, or not be held. */
  #places = new Map<number, number>();
  #loading = new Map<number, number>();
  #version = 1;
  #total: number | null = null;
  #error: unknown = null;
  #listeners = new Set<() => void>();
  #stamp = 0;
  #wanted: readonly [number, number] = [0, 0];

  constructor(fetch: FetchWindow) {
    this.#fetch = fetch;
  }

  /** Rows that match, or null before the first answer. */
  get total(): number | null {
    return this.#total;
  }

  /** Why the last window couldn't be read, or null. */
  get error(): unknown {
    return this.#error;
  }

  /** Changes whenever a row or the total may have. */
  get stamp(): number {
    return this.#stamp;
  }

  /** Whether what is seen still waits for its answer. */
  get waiting(): boolean {
    return [...this.#loading.values()].includes(this.#version);
  }

  subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  row(index: number): GridRow | undefined {
    return this.#blocks.get(Math.floor(index / BLOCK))?.rows[index % BLOCK];
  }

  /** Where a record stands among the rows held, or -1. */
  indexOf(id: number): number {
    const at = this.#places.get(id);
    return at !== undefined && this.row(at)?.id === id ? at : -1;
  }

  /** All rows held, with their places. */
  *held(): Generator<readonly [number, GridRow]> {
    for (const [number, block] of this.#blocks)
      for (const [at, row] of block.rows.entries()) yield [number * BLOCK + at, row] as const;
  }

  /** Says which rows are seen, the last excluded; what of them isn't held is fetched. */
  want(from: number, to: number): void {
    this.#wanted = [from, to];
    const first = Math.floor(Math.max(0, from) / BLOCK);
    const last = Math.floor(Math.max(0, to - 1) / BLOCK);
    for (let number = first; number <= last; number++) this.#load(number);
  }

  /** The rows of a range, fetched where they aren't held; for copying and filling beyond what is seen. */
  async rows(from: number, to: number): Promise<GridRow[]> {
    const all: GridRow[] = [];
    for (let at = from; at < to; at += AT_ONCE) {
      const { rows } = await this.#fetch(at, Math.min(AT_ONCE, to - at));
      all.push(...rows);
    }
    return all;
  }

  /** The plant changed: what is seen is read again, and stays on screen until then. Resolves when it was read. */
  async refresh(): Promise<void> {
    this.#version++;
    for (const number of this.#blocks.keys()) if (!this.#isWanted(number)) this.#forget(number);
    this.want(...this.#wanted);
    if (!this.waiting) return;
    await new Promise<void>((resolve) => {
      const end = this.subscribe(() => {
        if (this.waiting) return;
        end();
        resolve();
      });
    });
  }

  /** Another question: nothing of the old one is kept. */
  ask(fetch: FetchWindow): void {
    this.#fetch = fetch;
    this.#version++;
    this.#blocks.clear();
    this.#places.clear();
    this.#loading.clear();
    this.#total = null;
    this.#wanted = [0, BLOCK];
    this.#tell();
    this.want(0, BLOCK);
  }

  #isWanted(number: number): boolean {
    const [from, to] = this.#wanted;
    return number >= Math.floor(from / BLOCK) && number <= Math.floor(Math.max(0, to - 1) / BLOCK);
  }

  #load(number: number): void {
    const version = this.#version;
    if (this.#blocks.get(number)?.version === version || this.#loading.get(number) === version) return;
    if (this.#total !== null && number > 0 && number * BLOCK >= this.#total) return;
    this.#loading.set(number, version);
    this.#fetch(number * BLOCK, BLOCK).then(
      (answer) => {
        if (version !== this.#version) return;
        this.#loading.delete(number);
        this.#error = null;
        this.#total = answer.total;
        this.#forget(number);
        this.#blocks.set(number, { rows: answer.rows, version });
        for (const [at, row] of answer.rows.entries()) this.#places.set(row.id, number * BLOCK + at);
        for (const [old] of this.#blocks) {
          if (this.#blocks.size <= HELD) break;
          if (!this.#isWanted(old)) this.#forget(old);
        }
        this.#tell();
      },
      (error: unknown) => {
        if (version !== this.#version) return;
        this.#loading.delete(number);
        this.#error = error;
        this.#tell();
      },
    );
  }

  #forget(number: number): void {
    for (const [at, row] of this.#blocks.get(number)?.rows.entries() ?? [])
      if (this.#places.get(row.id) === number * BLOCK + at) this.#places.delete(row.id);
    this.#blocks.delete(number);
  }

  #tell(): void {
    this.#stamp++;
    for (const listener of this.#listeners) listener();
  }
}
