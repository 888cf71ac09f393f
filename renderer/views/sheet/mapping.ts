/** What a person has said of a sheet: which column is which, units, days, what is left out and what is made. */
import type { AnswerOf, InputOf } from "../../../core/operations/list.ts";

export type ReadSheet = AnswerOf<"sheet.read">;
export type SheetPlan = AnswerOf<"sheet.rehearse">;
export type SheetInput = InputOf<"sheet.rehearse">;
export type Made = NonNullable<SheetInput["create"]>[number];

/** How the file's bytes are read; empty where it is found out. */
export interface Reading {
  readonly encoding: NonNullable<SheetInput["encoding"]> | "";
  readonly delimiter: NonNullable<SheetInput["delimiter"]> | "";
  readonly heading_row: number | null;
}

export const FOUND_OUT: Reading = { encoding: "", delimiter: "", heading_row: null };

/** What of a reading is said; the rest is found out. */
export const readingSaid = ({ encoding, delimiter, heading_row }: Reading) => ({
  ...(encoding ? { encoding } : {}),
  ...(delimiter ? { delimiter } : {}),
  ...(heading_row === null ? {} : { heading_row }),
});

export type Source = Pick<SheetInput, "content" | "text" | "name">;

export interface Mapping {
  readonly sheet: string;
  readonly shape: string;
  /** Column of the shape to letters of the sheet. */
  readonly columns: Readonly<Record<string, string>>;
  readonly fixed: Readonly<Record<string, string>>;
  readonly units: Readonly<Record<string, "m" | "ft">>;
  readonly days: "" | "day_first" | "month_first";
  readonly decimal: "" | "comma" | "point";
}

export const guessedMapping = (read: ReadSheet): Mapping => ({
  sheet: read.sheet,
  shape: read.shape ?? "",
  columns: read.columns,
  fixed: {},
  units: read.units as Mapping["units"],
  days: "",
  decimal: "",
});

export const shapeOf = (read: ReadSheet, name: string) => read.shapes.find((shape) => shape.name === name);

/** Columns that are needed and neither in the sheet nor said for every row. */
export const lacking = (read: ReadSheet, mapping: Mapping): string[] =>
  (shapeOf(read, mapping.shape)?.columns ?? [])
    .filter(({ name, needed }) => needed && !mapping.columns[name] && !mapping.fixed[name])
    .map(({ label }) => label);

export function inputOf(
  source: Source,
  read: ReadSheet,
  reading: Reading,
  mapping: Mapping,
  leave_out: readonly number[],
  create: readonly Made[],
): SheetInput | null {
  if (mapping.shape === "" || lacking(read, mapping).length > 0) return null;
  const kept = <V>(values: Readonly<Record<string, V>>) =>
    Object.fromEntries(Object.entries(values).filter(([, value]) => value !== "")) as Record<string, V>;
  return {
    ...source,
    ...readingSaid(reading),
    ...(read.sheets.length > 1 ? { sheet: mapping.sheet } : {}),
    shape: mapping.shape,
    heading_row: read.heading.row,
    ...{ columns: kept(mapping.columns), fixed: kept(mapping.fixed), units: kept(mapping.units) },
    ...(mapping.days ? { days: mapping.days } : {}),
    ...(mapping.decimal ? { decimal: mapping.decimal } : {}),
    ...{ leave_out: [...leave_out], create: [...create] },
  };
}
