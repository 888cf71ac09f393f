/** How a person left a kind's table on this machine: widths, columns shown and their order. Kept there, never in the plant file. */
import type { KindName } from "../../core/model/dictionary.ts";
import { kept } from "../client/kept.ts";
import { GRID_COLUMNS, type GridColumn } from "./columns.ts";

export interface TableLook {
  readonly widths: Readonly<Record<string, number>>;
  readonly shown: Readonly<Record<string, boolean>>;
  readonly order: readonly string[];
  /** So many columns at the left stay in view however far one scrolls. */
  readonly kept: number;
  /** Lines of text a row shows. */
  readonly lines: RowLines;
}

export const ROW_LINES = [1, 2, 4] as const;
export type RowLines = (typeof ROW_LINES)[number];
/** More than these leave no room for the others. */
export const MOST_KEPT = 4;

/** The look nobody changed. */
export const initialLook = (kind: KindName): TableLook => ({
  widths: {},
  shown: Object.fromEntries(GRID_COLUMNS[kind].map((column) => [column.id, column.shown])),
  order: [],
  kept: 1,
  lines: 1,
});

export const recallLook = (kind: KindName): TableLook =>
  checkedLook(kind, (kept.of("tables")[kind] ?? {}) as Partial<TableLook>);

/** What is remembered of a field that no longer exists is dropped. */
export function checkedLook(kind: KindName, told: Partial<TableLook>): TableLook {
  const initial = initialLook(kind);
  const known = (id: string): boolean => Object.hasOwn(initial.shown, id);
  const only = <V>(given: Readonly<Record<string, V>> | undefined): Record<string, V> =>
    Object.fromEntries(Object.entries(given ?? {}).filter(([id]) => known(id)));
  return {
    widths: only(told.widths),
    shown: { ...initial.shown, ...only(told.shown) },
    order: (told.order ?? []).filter(known),
    kept: Math.max(0, Math.min(MOST_KEPT, Math.round(Number(told.kept ?? initial.kept)) || 0)),
    lines: ROW_LINES.find((lines) => lines === told.lines) ?? initial.lines,
  };
}

/** All columns in the order in which they stand, or would. */
export function orderedColumns(kind: KindName, look: TableLook): readonly GridColumn[] {
  const place = new Map(look.order.map((id, at) => [id, at]));
  return GRID_COLUMNS[kind].toSorted(
    (one, other) => (place.get(one.id) ?? Infinity) - (place.get(other.id) ?? Infinity),
  );
}

/** The columns shown, in the order in which they stand. */
export const shownColumns = (kind: KindName, look: TableLook): readonly GridColumn[] =>
  orderedColumns(kind, look).filter(({ id }) => look.shown[id]);

export function rememberLook(kind: KindName, look: TableLook): void {
  kept.keep("tables", { [kind]: look });
}
