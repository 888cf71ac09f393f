/** The table as it is filtered, sorted and shown, as RFC 4180 text: read in lots, so that its length doesn't matter. */
import Papa from "papaparse";
import type { LengthUnit } from "../../core/model/units.ts";
import type { GridColumn } from "./columns.ts";
import { headText } from "./grid-clipboard.ts";
import type { RowSource } from "./row-source.ts";
import { copyText } from "./showing.ts";

/** Rows read and written at a time; between two the window draws, and may stop it. */
const LOT = 5000;

/**
 * Cells that a spreadsheet runs as formulas, numbers left alone: the same as a folder of tables shields
 * (`core/exchange/cells.ts`; a test holds the two together).
 */
export const FORMULAS = /^(?![+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$)'*[=+\-@\t\r][\s\S]*$/;

export interface FileWish {
  readonly source: RowSource;
  readonly columns: readonly GridColumn[];
  readonly lengths: LengthUnit;
  /** An apostrophe before what would run, and the mark by which a spreadsheet knows UTF-8. */
  readonly forSpreadsheet: boolean;
  readonly onProgress: (done: number, total: number) => void;
  readonly signal: AbortSignal;
}

export const csvOf = (rows: readonly (readonly string[])[], forSpreadsheet: boolean): string =>
  rows.length === 0
    ? ""
    : `${Papa.unparse(rows as string[][], { newline: "\r\n", ...(forSpreadsheet ? { escapeFormulae: FORMULAS } : {}) })}\r\n`;

/** Answers the file, or null when it was stopped. */
export async function tableFile(wish: FileWish): Promise<Blob | null> {
  const { source, columns, lengths, forSpreadsheet, onProgress, signal } = wish;
  const total = source.total ?? 0;
  const parts: string[] = [
    `${forSpreadsheet ? "\uFEFF" : ""}${csvOf([columns.map((column) => headText(column, lengths))], forSpreadsheet)}`,
  ];
  for (let at = 0; at < total; at += LOT) {
    if (signal.aborted) return null;
    const rows = await source.rows(at, Math.min(at + LOT, total));
    const cells = rows.map(({ values, shown }) =>
      columns.map(({ id, field }) => copyText(field, values[id] ?? null, shown[id] ?? null, lengths)),
    );
    parts.push(csvOf(cells, forSpreadsheet));
    onProgress(at + rows.length, total);
  }
  return signal.aborted ? null : new Blob(parts, { type: "text/csv;charset=utf-8" });
}

/** Hands a file over: a browser saves it where it saves, the desktop window asks where. */
export function handOver(file: Blob, name: string): void {
  const address = URL.createObjectURL(file);
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  // The download has its own hold on it by then.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

/** A name that every file system takes. */
export const fileName = (words: string): string => `${words.replace(/[\\/:*?"<>|\p{C}]+/gu, "-").slice(0, 100)}.csv`;
