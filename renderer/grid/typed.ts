/**
 * What was typed and isn't on record: cells on their way, cells that were refused, rows that are still being made. It
 * outlives the view, so that no keystroke is lost by looking elsewhere.
 */
import type { KindName } from "../../core/model/dictionary.ts";
import type { RefusalCode } from "../../core/result.ts";

/** `#12` is a record on file, `+1` a row that is being made. */
export type RowKey = `#${number}` | `+${number}`;

export const keyOf = (id: number): RowKey => `#${id}`;
export const idOf = (key: RowKey): number | null => (key.startsWith("#") ? Number(key.slice(1)) : null);

export type TypedState =
  /** Being written. */
  | "saving"
  /** Fine by itself, but not written: its row isn't whole yet, or others of its block were refused. */
  | "waiting"
  /** Refused; `reason` follows the field's label. */
  | "refused";

export interface TypedCell {
  readonly text: string;
  readonly state: TypedState;
  readonly reason: string | null;
  readonly code?: RefusalCode;
  /** Further facts of a refusal, such as both versions of a stale record. */
  readonly details?: unknown;
  /** The version of the record that was on screen as it was typed: what was written since isn't written over unseen. */
  readonly rev?: number;
}

export interface DraftRow {
  readonly key: RowKey;
  readonly cells: ReadonlyMap<string, TypedCell>;
}

/** Cells that were typed or pasted in one go and not written. */
interface TypedAct {
  readonly cells: readonly { readonly row: RowKey; readonly field: string }[];
  /** The last change on record when they were typed. */
  readonly after: Promise<number>;
}

export interface TypedAway {
  readonly row: RowKey;
  readonly field: string;
  readonly cell: TypedCell;
}

/** The cell that is edited. */
interface Edited {
  readonly row: RowKey;
  readonly field: string;
  /** Null as long as no letter was typed. */
  readonly text: string | null;
  /** The version of the record as the edit began; null for a row that is being made. */
  readonly rev: number | null;
}

/** Told whenever anything is typed into any table, letter by letter. */
const typists = new Set<() => void>();

export function onTyped(listener: () => void): () => void {
  typists.add(listener);
  return () => typists.delete(listener);
}

export class Typed {
  #cells = new Map<RowKey, Map<string, TypedCell>>();
  #drafts: RowKey[] = [];
  #next = 1;
  #blank: RowKey = "+1";
  #listeners = new Set<() => void>();
  #stamp = 0;
  #holding = false;
  #acts: TypedAct[] = [];
  #edited: Edited | null = null;

  get stamp(): number {
    return this.#stamp;
  }

  subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  cell(row: RowKey, field: string): TypedCell | undefined {
    return this.#cells.get(row)?.get(field);
  }

  /** Everything typed into one row. */
  row(row: RowKey): ReadonlyMap<string, TypedCell> {
    return this.#cells.get(row) ?? new Map();
  }

  /** Rows being made, in order. */
  get drafts(): readonly RowKey[] {
    return this.#drafts;
  }

  /** Rows with a refused cell. */
  refused(): { row: RowKey; field: string; cell: TypedCell }[] {
    return [...this.#all()].filter(({ cell }) => cell.state === "refused");
  }

  /** What can be written as it stands: a row being made only whole, beside a refused cell of its own it can't be. */
  waiting(made: RowKey | null = null): { row: RowKey; field: string; cell: TypedCell }[] {
    return this.unwritten(made).filter(
      ({ row, cell }) => cell.state === "waiting" && (idOf(row) !== null || !this.#isRefused(row)),
    );
  }

  /** All that is neither written nor being written. @param made the row that is just being made; it is counted when it is refused */
  unwritten(made: RowKey | null = null): { row: RowKey; field: string; cell: TypedCell }[] {
    const left = made !== null && idOf(made) === null && !this.#isRefused(made) ? made : null;
    return [...this.#all()].filter(({ row, cell }) => cell.state !== "saving" && row !== left);
  }

  #isRefused(row: RowKey): boolean {
    return [...this.row(row).values()].some(({ state }) => state === "refused");
  }

  /** Remembers cells that were not written, so that undo leaves them before it takes anything back that was. */
  note(cells: TypedAct["cells"], after: Promise<number>): void {
    this.#acts.push({ cells: cells.map(({ row, field }) => ({ row, field })), after });
  }

  /** Leaves the cells typed last, if nothing was written since; answers how many there were. */
  async takeBack(last: number): Promise<number> {
    for (;;) {
      const act = this.#acts.at(-1);
      if (!act) return 0;
      const open = act.cells.filter(({ row, field }) => (this.cell(row, field)?.state ?? "saving") !== "saving");
      // A change written later is what undo means first.
      if (open.length > 0 && (await act.after) < last) return 0;
      this.#acts = this.#acts.filter((one) => one !== act);
      if (open.length === 0) continue;
      this.together(() => {
        for (const { row, field } of open) this.drop(row, field);
      });
      return open.length;
    }
  }

  get edited(): Edited | null {
    return this.#edited;
  }

  /** What stands in the field of the cell that is edited, and isn't kept yet; the table is not drawn anew for it. */
  edit(edited: Edited | null): void {
    const before = this.#edited;
    this.#edited = edited;
    if ((edited?.text ?? null) === null && (before?.text ?? null) === null) return;
    for (const typist of typists) typist();
  }

  /** This window wrote a record: what else is typed into its row was typed on what now stands there. */
  moved(row: RowKey, from: number, to: number): void {
    for (const [field, cell] of this.row(row)) if (cell.rev === from) this.put(row, field, { ...cell, rev: to });
    if (this.#edited?.row === row && this.#edited.rev === from) this.#edited = { ...this.#edited, rev: to };
  }

  /** All of it, as it lies outside a window that is drawn anew; a cell that is edited with what was typed into it. */
  get away(): readonly TypedAway[] {
    const cells = [...this.#all()].map(({ row, field, cell }) => ({ row, field, cell }));
    const edited = this.#edited;
    if (!edited || edited.text === null || this.cell(edited.row, edited.field)?.text === edited.text) return cells;
    const { row, field, text, rev } = edited;
    return [
      ...cells.filter((one) => one.row !== row || one.field !== field),
      { row, field, cell: { text, state: "waiting", reason: null, ...(rev === null ? {} : { rev }) } },
    ];
  }

  /**
   * Puts back what `away` gave; cells that were on their way wait, and rows that were being made come below those that are.
   * Answers the cells in which something else is typed by now: they are left as they are.
   */
  restore(cells: readonly TypedAway[], last: number): readonly TypedAway[] {
    const left: TypedAway[] = [];
    const back: TypedAway[] = [];
    const rows = new Map<RowKey, RowKey>();
    for (const one of cells) {
      if (idOf(one.row) === null) {
        if (!rows.has(one.row)) rows.set(one.row, `+${++this.#next}`);
        back.push({ ...one, row: rows.get(one.row) ?? one.row });
      } else if ((this.cell(one.row, one.field)?.text ?? one.cell.text) !== one.cell.text) left.push(one);
      else back.push(one);
    }
    if (back.length === 0) return left;
    this.together(() => {
      for (const { row, field, cell } of back)
        this.put(row, field, cell.state === "saving" ? { ...cell, state: "waiting" } : cell);
    });
    this.note(back, Promise.resolve(last));
    return left;
  }

  *#all() {
    for (const [row, cells] of this.#cells) for (const [field, cell] of cells) yield { row, field, cell };
  }

  /** What is put over a cell typed before, and names no version, was typed on the same one. */
  put(row: RowKey, field: string, cell: TypedCell): void {
    const cells = this.#cells.get(row) ?? new Map<string, TypedCell>();
    const rev = cell.rev ?? cells.get(field)?.rev;
    cells.set(field, rev === undefined ? cell : { ...cell, rev });
    this.#cells.set(row, cells);
    if (idOf(row) === null && !this.#drafts.includes(row)) this.#drafts.push(row);
    this.#tell();
  }

  drop(row: RowKey, field: string): void {
    const cells = this.#cells.get(row);
    cells?.delete(field);
    if (cells?.size === 0) this.dropRow(row);
    else this.#tell();
  }

  dropRow(row: RowKey): void {
    this.#cells.delete(row);
    this.#drafts = this.#drafts.filter((key) => key !== row);
    this.#tell();
  }

  /** The key of the empty row below all others; once something is put into it, another row is the empty one. */
  get blank(): RowKey {
    if (this.#drafts.includes(this.#blank)) this.#blank = `+${++this.#next}`;
    return this.#blank;
  }

  /** Keys of `count` rows to be made: the rows being made from `first` on, then empty ones. */
  rowsFrom(first: number, count: number): RowKey[] {
    const keys = this.#drafts.slice(first, first + count);
    if (keys.length < count) keys.push(this.blank);
    while (keys.length < count) keys.push(`+${++this.#next}`);
    return keys;
  }

  /** Many changes, told once. */
  together(work: () => void): void {
    this.#holding = true;
    work();
    this.#holding = false;
    this.#tell();
  }

  #tell(): void {
    if (this.#holding) return;
    this.#stamp++;
    for (const listener of this.#listeners) listener();
    for (const typist of typists) typist();
  }
}

const BY_KIND = new Map<KindName, Typed>();

/** What was typed into the table of a kind since the window was opened. */
export function typedOf(kind: KindName): Typed {
  const known = BY_KIND.get(kind);
  if (known) return known;
  const typed = new Typed();
  BY_KIND.set(kind, typed);
  return typed;
}

/** What was typed into any table and isn't on record. */
export const typedAway = (): readonly (readonly [KindName, readonly TypedAway[]])[] =>
  [...BY_KIND].map(([kind, typed]) => [kind, typed.away] as const).filter(([, cells]) => cells.length > 0);
