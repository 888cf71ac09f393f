/** What is done to a block of cells at once: each is one act with one undo, and all of it or nothing. */
import type { KindName, Value } from "../../core/model/dictionary.ts";
import { counted } from "../../core/words/counted.ts";
import { say } from "../../core/words/say.ts";
import { count } from "../controls/numbers.ts";
import { readBlock } from "./blocks.ts";
import type { GridColumn } from "./columns.ts";
import type { CellText, CommitResult, KnownRows, Naming } from "./commit.ts";
import type { Block } from "./keys.ts";
import { planFill, planPaste } from "./paste.ts";
import type { GridRow } from "./row-source.ts";
import { countOn, seedOf } from "./series.ts";
import { idOf, type RowKey, type Typed } from "./typed.ts";

/** No block is larger: what is more comes by import. */
export const MOST_CELLS = 50_000;

export interface BlockSetting {
  readonly kind: KindName;
  readonly columns: readonly GridColumn[];
  readonly typed: Typed;
  readonly known: KnownRows;
  /** Whether anything may be written; says why not. */
  readonly mayWrite: () => boolean;
  /** Resolves when what was kept before is written. */
  readonly idle: () => Promise<void>;
  /** Keys of rows by their places, rows far from view included. */
  readonly keysOf: (top: number, count: number) => Promise<RowKey[]>;
  readonly rowOf: (key: RowKey) => GridRow | null;
  readonly textOf: (row: GridRow | null, key: RowKey, column: GridColumn) => string;
  readonly write: (cells: readonly CellText[], naming?: Naming) => Promise<CommitResult>;
  readonly say: (words: string) => void;
}

export interface BlockActs {
  readonly paste: (text: string, selected: Block) => Promise<Block | null>;
  readonly fillDown: (selected: Block) => Promise<void>;
  /** Goes on counting below the cells at the top of each column. */
  readonly countOn: (selected: Block) => Promise<void>;
  readonly clear: (selected: Block) => Promise<void>;
}

const tall = ({ top, bottom }: Block): number => bottom - top + 1;
const size = (block: Block): number => tall(block) * (block.right - block.left + 1);
const cells = (many: number): string => counted(many, "cell", "cells");

export function blockActs(setting: BlockSetting): BlockActs {
  const { columns, typed, known, mayWrite, idle, keysOf, rowOf, textOf, write, say: tells } = setting;

  const tooMany = (many: number): boolean => {
    if (many > MOST_CELLS)
      tells(
        say`That is ${cells(many)}; one act may change ${count(MOST_CELLS)}. Take fewer rows or columns, or read them as a folder.`,
      );
    return many > MOST_CELLS;
  };
  const within = (block: Block): readonly GridColumn[] => columns.slice(block.left, block.right + 1);

  return {
    async paste(text, selected) {
      if (!mayWrite()) return null;
      await idle();
      const plan = planPaste(readBlock(text), selected, columns.length);
      if (tooMany(plan.cells.length)) return null;
      const keys = await keysOf(plan.covers.top, tall(plan.covers));
      const list = plan.cells.flatMap(({ spot, text: cell }): CellText[] => {
        const row = keys[spot.row - plan.covers.top];
        const column = columns[spot.column];
        return row && column && !(idOf(row) === null && cell.trim() === "")
          ? [{ row, field: column.id, text: cell }]
          : [];
      });
      if (list.length === 0) return null;
      const { refused } = await write(list, (fields, records) => say`Paste ${fields} of ${records}`);
      if (refused === 0 && plan.dropped > 0)
        tells(say`${cells(list.length)} written; ${cells(plan.dropped)} to the right of the last column left out.`);
      return plan.covers;
    },

    async fillDown(selected) {
      const plan = planFill(selected);
      if (!plan) return tells(say`There is nothing above to fill down.`);
      if (!mayWrite() || tooMany(size(plan.block))) return;
      // What was kept a moment ago is to be filled down too.
      await idle();
      const { block } = plan;
      const [fromKey] = await keysOf(plan.from, 1);
      const keys = await keysOf(block.top, tall(block));
      if (!fromKey) return;
      const from = rowOf(fromKey);
      const list = keys.flatMap((row) =>
        within(block).map((column): CellText => {
          const cell = { row, field: column.id, text: textOf(from, fromKey, column) };
          return from && !typed.cell(fromKey, column.id) ? { ...cell, values: copied(column, from) } : cell;
        }),
      );
      await write(list, (fields, records) => say`Fill down ${fields} of ${records}`);
    },

    async countOn(selected) {
      const block =
        selected.top === selected.bottom && selected.top > 0 ? { ...selected, top: selected.top - 1 } : selected;
      if (tall(block) < 2) return tells(say`There is nothing above to count on from.`);
      if (!mayWrite() || tooMany(size(block))) return;
      await idle();
      const keys = await keysOf(block.top, tall(block));
      const list: CellText[] = [];
      const ends: string[] = [];
      for (const column of within(block)) {
        const texts = keys.map((key) => textOf(rowOf(key), key, column));
        const seed = seedOf(texts);
        const given = texts.slice(0, seed);
        if (seed === 0) continue;
        const words = WORDS.has(column.field.type);
        const more = words
          ? texts.slice(seed).map((_, at) => given[at % seed] ?? "")
          : countOn(given, texts.length - seed);
        if (!more)
          return tells(
            say`${column.field.label} doesn't count on from ${given.join(", ")}: it needs a number, in even steps.`,
          );
        for (const [at, text] of more.entries()) list.push({ row: keys[seed + at] as RowKey, field: column.id, text });
        ends.push(say`${column.field.label} ${more[0]} to ${more.at(-1)}`);
      }
      if (list.length === 0) return tells(say`There is nothing at the top of the selection to count on from.`);
      const { refused } = await write(list, (fields, records) => say`Count on ${fields} of ${records}`);
      if (refused === 0) tells(say`Counted on: ${ends.join("; ")}.`);
    },

    async clear(selected) {
      if (!mayWrite() || tooMany(size(selected))) return;
      await idle();
      const keys = await keysOf(selected.top, tall(selected));
      const list: CellText[] = [];
      for (const row of keys)
        for (const column of within(selected)) {
          if (typed.cell(row, column.id)) typed.drop(row, column.id);
          if (idOf(row) !== null && known.value(row, column.id) !== null)
            list.push({ row, field: column.id, text: "" });
        }
      if (list.length > 0) await write(list, (fields, records) => say`Empty ${fields} of ${records}`);
    },
  };
}

/** Fields of which the values are words of a list: a number in them counts nothing. */
const WORDS: ReadonlySet<GridColumn["field"]["type"]> = new Set(["choice", "set", "kind"]);

/** The stored values behind a cell: of a subject also what kind of record it is. */
function copied(column: GridColumn, row: GridRow): Record<string, Value> {
  const { field } = column;
  const kindField = field.type === "subject" ? { [field.kindField]: row.values[field.kindField] ?? null } : {};
  return { ...kindField, [column.id]: row.values[column.id] ?? null };
}
