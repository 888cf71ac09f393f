/** The campus's tables, as people read and edit them. */
import { readFileSync } from "node:fs";
import Papa from "papaparse";

/** Rows of a table beside this file; an empty cell is an empty text. */
export function table<C extends string>(name: string): Record<C, string>[] {
  const text = readFileSync(new URL(`./${name}.csv`, import.meta.url), "utf8");
  const { data, errors } = Papa.parse<Record<C, string>>(text, { header: true, skipEmptyLines: true });
  const [error] = errors;
  if (error) throw new Error(`${name}.csv, row ${(error.row ?? 0) + 2}: ${error.message}`);
  return data;
}

export const numberOf = (cell: string | undefined): number | null =>
  cell === undefined || cell === "" ? null : Number(cell);
export const textOf = (cell: string | undefined): string | null => (cell === undefined || cell === "" ? null : cell);
export const listOf = (cell: string | undefined): string[] => (cell ?? "").split(/\s+/).filter(Boolean);
