/** TanStack Table as the grid uses it: what is known, sorted and filtered by the program; the window holds columns and widths. */
import {
  columnFilteringFeature,
  columnOrderingFeature,
  columnResizingFeature,
  columnSizingFeature,
  columnVisibilityFeature,
  createColumnHelper,
  metaHelper,
  rowSortingFeature,
  tableFeatures,
} from "@tanstack/react-table";
import { KIND_NAMES, type KindName } from "../../core/model/dictionary.ts";
import { GRID_COLUMNS, type GridColumn } from "./columns.ts";
import type { GridRow } from "./row-source.ts";

export const gridFeatures = tableFeatures({
  columnVisibilityFeature,
  columnOrderingFeature,
  columnSizingFeature,
  columnResizingFeature,
  rowSortingFeature,
  columnFilteringFeature,
  columnMeta: metaHelper<GridColumn>(),
});

const helper = createColumnHelper<typeof gridFeatures, GridRow>();

const columnsOf = (kind: KindName) =>
  helper.columns(
    GRID_COLUMNS[kind].map((column) =>
      helper.accessor((row) => row.values[column.id] ?? null, {
        id: column.id,
        header: column.field.label,
        size: column.width,
        minSize: 48,
        maxSize: 900,
        meta: column,
      }),
    ),
  );

/** Columns for the table of each kind, made once: a new list would make the table anew. */
export const TABLE_COLUMNS = Object.fromEntries(KIND_NAMES.map((kind) => [kind, columnsOf(kind)])) as Readonly<
  Record<KindName, ReturnType<typeof columnsOf>>
>;
