/** What a person has said of a sheet: which column is which, units, days, what is left out and what is made. */
import type { AnswerOf, InputOf } from "../../../core/operations/list.ts";
import { kept as machine } from "../../client/kept.ts";

export type ReadSheet = AnswerOf<"sheet.read">;
export type SheetPlan = AnswerOf<"sheet.rehearse">;
export type SheetInput = InputOf<"sheet.rehearse">;
export type Made = NonNullable<SheetInput["create"]>[number];

export type Source = Pick<SheetInput, "content" | "text" | "name">;

export interface Mapping {
  readonly sheet: string;
  readonly shape: string;
  /** Column of the shape to letters of the sheet. */
  readonly columns: Readonly<Record<string, string>>;
  readonly fixed: Readonly<Record<string, string>>;
  readonly units: Readonly<Record<string, "m" | "ft">>;
  readonly days: "" | "day_first" | "month_first";
}

export const guessedMapping = (read: ReadSheet): Mapping => ({
  sheet: read.sheet,
  shape: read.shape ?? "",
  columns: read.columns,
  fixed: {},
  units: read.units as Mapping["units"],
  days: "",
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
  mapping: Mapping,
  leave_out: readonly number[],
  create: readonly Made[],
): SheetInput | null {
  if (mapping.shape === "" || lacking(read, mapping).length > 0) return null;
  const kept = <V>(values: Readonly<Record<string, V>>) =>
    Object.fromEntries(Object.entries(values).filter(([, value]) => value !== "")) as Record<string, V>;
  return {
    ...source,
    ...(read.sheets.length > 1 ? { sheet: mapping.sheet } : {}),
    shape: mapping.shape,
    heading_row: read.heading.row,
    ...{ columns: kept(mapping.columns), fixed: kept(mapping.fixed), units: kept(mapping.units) },
    ...(mapping.days ? { days: mapping.days } : {}),
    ...{ leave_out: [...leave_out], create: [...create] },
  };
}

/** Sheets of one source have one heading: what was mapped under it once is offered again. */
const signature = (read: ReadSheet): string => read.heading.columns.map(({ heading }) => heading).join("\u001f");

/** Mappings that are kept; those unused longest go. */
const MOST = 50;

export const profiles = {
  of(read: ReadSheet): Mapping | null {
    return (machine.of("sheets")[signature(read)] as Mapping | undefined) ?? null;
  },
  keep(read: ReadSheet, mapping: Mapping): void {
    const own = signature(read);
    // In the order of their last use.
    const others = Object.keys(machine.of("sheets")).filter((key) => key !== own);
    const unused = others.slice(0, Math.max(0, others.length - MOST + 1));
    machine.keep("sheets", { ...Object.fromEntries(unused.map((key) => [key, null])), [own]: mapping });
  },
};
