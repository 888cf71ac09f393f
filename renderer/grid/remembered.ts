/** How a person left a kind's table on this machine: widths, columns shown and their order. Kept by the browser, never in the plant file. */
import type { KindName } from "../../core/model/dictionary.ts";
import { GRID_COLUMNS, type GridColumn } from "./columns.ts";

export interface TableLook {
  readonly widths: Readonly<Record<string, number>>;
  readonly shown: Readonly<Record<string, boolean>>;
  readonly order: readonly string[];
}

const KEY = "strandbook.tables";

/** The look nobody changed. */
export const initialLook = (kind: KindName): TableLook => ({
  widths: {},
  shown: Object.fromEntries(GRID_COLUMNS[kind].map((column) => [column.id, column.shown])),
  order: [],
});

function all(): Record<string, Partial<TableLook>> {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(KEY) ?? "{}");
    return typeof kept === "object" && kept !== null ? (kept as Record<string, Partial<TableLook>>) : {};
  } catch {
    return {};
  }
}

/** What is remembered of a field that no longer exists is dropped. */
export function recallLook(kind: KindName): TableLook {
  const initial = initialLook(kind);
  const kept = all()[kind] ?? {};
  const known = (id: string): boolean => Object.hasOwn(initial.shown, id);
  const only = <V>(given: Readonly<Record<string, V>> | undefined): Record<string, V> =>
    Object.fromEntries(Object.entries(given ?? {}).filter(([id]) => known(id)));
  return {
    widths: only(kept.widths),
    shown: { ...initial.shown, ...only(kept.shown) },
    order: (kept.order ?? []).filter(known),
  };
}

/** The columns shown, in the order in which they stand. */
export function shownColumns(kind: KindName, look: TableLook): readonly GridColumn[] {
  const place = new Map(look.order.map((id, at) => [id, at]));
  return GRID_COLUMNS[kind]
    .filter(({ id }) => look.shown[id])
    .toSorted((one, other) => (place.get(one.id) ?? Infinity) - (place.get(other.id) ?? Infinity));
}

export function rememberLook(kind: KindName, look: TableLook): void {
  localStorage.setItem(KEY, JSON.stringify({ ...all(), [kind]: look }));
}
