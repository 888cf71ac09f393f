/** What the address says of a table, as the program is asked it. */
import { Fault } from "../../../core/model/clean-text.ts";
import { isKindName, KIND_NAMES, KINDS, type KindName, kindOf } from "../../../core/model/dictionary.ts";
import type { Filter } from "../../../core/store/filters.ts";
import { say } from "../../../core/words/say.ts";
import { columnOf } from "../../grid/columns.ts";
import { readFilter } from "../../grid/filter-text.ts";
import type { GridSort } from "../../grid/grid-props.ts";
import type { ReadingHabits } from "../../grid/reading.ts";

/** The kind that is shown while the address names none: cables are what a clerk enters most. */
export const FIRST_KIND: KindName = "cable";

/** Kinds in, on or along which others lie. */
export const PLACES: readonly KindName[] = KIND_NAMES.filter(
  (kind) =>
    kindOf(kind).address !== null && ["places", "ways", "cable", "glass", "patching"].includes(KINDS[kind].group),
);

export const kindAsked = (values: Readonly<Record<string, string>>): KindName =>
  isKindName(values.kind ?? "") ? (values.kind as KindName) : FIRST_KIND;

/** `-loss_ab_db,tray_id`: by loss, the greatest first, then by tray. */
export const readSorts = (kind: KindName, text: string | undefined): GridSort[] =>
  (text ?? "").split(",").flatMap((part) => {
    const descending = part.startsWith("-");
    const field = descending ? part.slice(1) : part;
    return columnOf(kind, field) ? [{ field, descending }] : [];
  });

export const writeSorts = (sorts: readonly GridSort[]): string =>
  sorts.map(({ field, descending }) => (descending ? `-${field}` : field)).join(",");

export const sortedBy = (label: string, descending: boolean): string => (descending ? say`${label}, falling` : label);

export const sortWords = (kind: KindName, sorts: readonly GridSort[]): string =>
  sorts
    .map(({ field, descending }) => sortedBy(kindOf(kind).fields[field]?.label ?? field, descending))
    .join(say`, then `);

/** Filters as they were typed, by field; in the address one a line. */
export function readTyped(text: string | undefined): Record<string, string> {
  const typed: Record<string, string> = {};
  for (const line of (text ?? "").split("\n")) {
    const at = line.indexOf("=");
    if (at > 0) typed[line.slice(0, at)] = line.slice(at + 1);
  }
  return typed;
}

export const writeTyped = (typed: Readonly<Record<string, string>>): string =>
  Object.entries(typed)
    .filter(([, text]) => text !== "")
    .map(([field, text]) => `${field}=${text}`)
    .join("\n");

/** Filters as an operation takes them. */
export const asked = (filters: readonly Filter[]) =>
  filters.map(({ or, ...filter }) => ({ ...filter, ...(or ? { or: or.map((one) => ({ ...one })) } : {}) }));

export interface FiltersRead {
  readonly filters: readonly Filter[];
  /** What is filtered, in words for the answer. */
  readonly words: readonly string[];
  /** Why a filter can't be read, by field. */
  readonly faults: Readonly<Record<string, string>>;
}

export function readFilters(
  kind: KindName,
  typed: Readonly<Record<string, string>>,
  habits: ReadingHabits,
): FiltersRead {
  const filters: Filter[] = [];
  const words: string[] = [];
  const faults: Record<string, string> = {};
  for (const [name, text] of Object.entries(typed)) {
    const field = kindOf(kind).fields[name];
    if (!field) continue;
    const read = readFilter(kind, name, field, text, habits);
    if (read instanceof Fault) faults[name] = `${field.label} ${read.reason}`;
    else if (read) {
      filters.push(...read.filters);
      words.push(read.words);
    }
  }
  return { filters, words, faults };
}
