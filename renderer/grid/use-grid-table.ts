/** TanStack Table over the rows on screen: columns, their choice, order and widths, and how the table is sorted. */
import { useTable } from "@tanstack/react-table";
import { useEffect, useMemo, useState } from "react";
import type { KindName } from "../../core/model/dictionary.ts";
import type { GridColumn } from "./columns.ts";
import type { GridSort } from "./grid-props.ts";
import type { TableLook } from "./remembered.ts";
import type { GridRow } from "./row-source.ts";
import { gridFeatures, TABLE_COLUMNS } from "./table.ts";
import { keyOf } from "./typed.ts";

export interface GridTableOptions {
  readonly kind: KindName;
  readonly data: readonly GridRow[];
  readonly look: TableLook;
  readonly onLook: (look: TableLook) => void;
  readonly sorts: readonly GridSort[];
  readonly onSorts: (sorts: readonly GridSort[]) => void;
}

export function useGridTable({ kind, data, look, onLook, sorts, onSorts }: GridTableOptions) {
  const [resizing, setResizing] = useState<{ [id: string]: number } | null>(null);
  const table = useTable({
    features: gridFeatures,
    columns: TABLE_COLUMNS[kind],
    data,
    getRowId: (row) => (row.id > 0 ? keyOf(row.id) : `+${-row.id}`),
    manualSorting: true,
    manualFiltering: true,
    columnResizeMode: "onChange",
    state: {
      columnVisibility: { ...look.shown },
      columnOrder: [...look.order],
      columnSizing: { ...look.widths, ...resizing },
      sorting: sorts.map(({ field, descending }) => ({ id: field, desc: descending })),
    },
    onColumnSizingChange: (change) => {
      const before = { ...look.widths, ...resizing };
      setResizing(typeof change === "function" ? change(before) : change);
    },
  });
  const isResizing = table.state.columnResizing.isResizingColumn !== false;
  useEffect(() => {
    if (isResizing || !resizing) return;
    onLook({ ...look, widths: { ...look.widths, ...resizing } });
    setResizing(null);
  }, [isResizing, resizing, look, onLook]);

  const headers = table.getHeaderGroups()[0]?.headers ?? [];
  const stamp = headers.map((header) => `${header.id} ${header.getSize()}`).join();
  // biome-ignore lint/correctness/useExhaustiveDependencies: the stamp stands for the columns
  const columns = useMemo(() => headers.flatMap((header) => header.column.columnDef.meta ?? []), [stamp]);

  return {
    table,
    headers,
    /** The columns shown, in order; the same list while nothing of them changes. */
    columns,
    /** Changes when columns do. */
    stamp,
    isResizing,
    widths: headers.map((header) => header.getSize()),
    sortBy(column: GridColumn, also: boolean): void {
      const at = sorts.find((sort) => sort.field === column.id);
      const others = also ? sorts.filter((sort) => sort.field !== column.id) : [];
      // Rising, falling, then the table's own order again.
      const next = !at ? [{ field: column.id, descending: false }] : at.descending ? [] : [{ ...at, descending: true }];
      onSorts([...others, ...next]);
    },
    /** Wider by so many pixels; null gives the first width back. */
    widen(column: GridColumn, by: number | null): void {
      const { [column.id]: before = column.width, ...rest } = look.widths;
      const widths = by === null ? rest : { ...rest, [column.id]: Math.max(48, Math.min(900, before + by)) };
      onLook({ ...look, widths });
    },
    /** Moves a column one place; answers where it stands then, or null at the edge. */
    shift(at: number, by: number): number | null {
      const order = columns.map((column) => column.id);
      const to = at + by;
      const [id] = order.splice(at, 1);
      if (id === undefined || to < 0 || to > order.length) return null;
      order.splice(to, 0, id);
      onLook({ ...look, order });
      return to;
    },
  };
}

export type GridTable = ReturnType<typeof useGridTable>;
