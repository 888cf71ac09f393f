/** A block of cells on its way to the clipboard, rows that aren't on screen included. */
import type { LengthUnit } from "../../core/model/units.ts";
import { counted } from "../../core/words/counted.ts";
import { say } from "../../core/words/say.ts";
import { writeBlock } from "./blocks.ts";
import type { GridColumn } from "./columns.ts";
import { type Block, isOneCell } from "./keys.ts";
import type { GridRow, RowSource } from "./row-source.ts";
import { unitOf } from "./showing.ts";
import { keyOf, type RowKey } from "./typed.ts";

interface Setting {
  readonly source: RowSource;
  readonly columns: readonly GridColumn[];
  readonly rowsNow: () => number;
  readonly keyAt: (index: number) => RowKey | null;
  readonly rowAt: (index: number) => GridRow | null;
  readonly textOf: (row: GridRow | null, key: RowKey, column: GridColumn) => string;
  readonly lengths: LengthUnit;
  readonly say: (words: string) => void;
}

interface How {
  /** The clipboard of the event, which takes a text only while the event lasts. */
  readonly data?: DataTransfer;
  /** With the columns' names and units above. */
  readonly heads?: boolean;
}

/** More than a spreadsheet takes with comfort, and than a clipboard carries: the filtered table can be written as a file. */
const MOST_COPIED = 500_000;

export const headText = ({ field }: GridColumn, lengths: LengthUnit): string =>
  [field.label, unitOf(field, lengths)].filter(Boolean).join(", ");

/** Copies as a pressed key would: the desktop window denies pages the clipboard otherwise. */
function put(text: string): boolean {
  let took = false;
  const give = (event: ClipboardEvent): void => {
    event.preventDefault();
    event.stopImmediatePropagation();
    event.clipboardData?.setData("text/plain", text);
    took = true;
  };
  const allow = (event: Event): void => event.preventDefault();
  document.addEventListener("beforecopy", allow, true);
  document.addEventListener("copy", give, true);
  document.execCommand("copy");
  document.removeEventListener("copy", give, true);
  document.removeEventListener("beforecopy", allow, true);
  return took;
}

export function gridClipboard({ source, columns, rowsNow, keyAt, rowAt, textOf, lengths, say: tells }: Setting) {
  return {
    /** Answers whether the block came to the clipboard. */
    async copy(block: Block, { data, heads = false }: How): Promise<boolean> {
      const own = columns.slice(block.left, block.right + 1);
      const last = Math.min(block.bottom, rowsNow() - 1);
      const many = (last - block.top + 1) * own.length;
      if (many > MOST_COPIED) {
        tells(
          say`That is ${counted(many, "cell", "cells")}: too many for the clipboard. Write the table as a file instead.`,
        );
        return false;
      }
      const cells: string[][] = [];
      if (heads) cells.push(own.map((column) => headText(column, lengths)));
      const places = Array.from({ length: last - block.top + 1 }, (_, at) => block.top + at);
      const isHeld = places.every((index) => keyAt(index) !== null);
      const total = source.total ?? 0;
      const onRecord = isHeld ? [] : await source.rows(block.top, Math.min(last + 1, total));
      for (const index of places) {
        const row = isHeld ? rowAt(index) : (onRecord[index - block.top] ?? null);
        const key = isHeld ? keyAt(index) : row ? keyOf(row.id) : keyAt(index);
        if (key) cells.push(own.map((column) => textOf(row, key, column)));
      }
      const text = writeBlock(cells);
      try {
        if (isHeld && data) data.setData("text/plain", text);
        else if (!put(text)) await navigator.clipboard.writeText(text);
      } catch {
        tells(say`Nothing could be copied. Click in the table once, and copy again.`);
        return false;
      }
      tells(
        isOneCell(block) && !heads
          ? "Copied."
          : say`${counted(places.length, "row", "rows")} copied${heads ? say`, with the columns' names` : ""}.`,
      );
      return true;
    },
  };
}
