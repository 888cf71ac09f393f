/** What the table of a kind is given, and what it tells. */
import type { ReactNode } from "react";
import type { KindName } from "../../core/model/dictionary.ts";
import type { Asked } from "./asked.ts";
import type { GridColumn } from "./columns.ts";
import type { GridCalls } from "./commit.ts";
import type { Line } from "./GridRow.tsx";
import type { GlassSource } from "./glass-source.ts";
import type { Block } from "./keys.ts";
import type { Picked } from "./picked.ts";
import type { ReadingHabits } from "./reading.ts";
import type { TableLook } from "./remembered.ts";
import type { GridRow as Record, RowSource } from "./row-source.ts";
import type { Suggest } from "./suggestions.ts";
import type { RowKey, Typed } from "./typed.ts";
import type { Editing } from "./use-editing.ts";

export interface GridSort {
  readonly field: string;
  readonly descending: boolean;
}

/** Where the person is, for the hint line and the leaf. */
export interface GridSpot {
  readonly column: GridColumn | null;
  readonly row: Record | null;
  readonly rowKey: RowKey | null;
  readonly index: number;
  readonly block: Block;
  readonly editing: boolean;
}

/** A cell to go to, found elsewhere; each higher turn goes there. */
export interface GoTo {
  readonly row: number;
  readonly field: string;
  /** So many whole rows from there on are selected; 1 selects the cell alone. */
  readonly rows: number;
  readonly turn: number;
}

export interface GridProps {
  readonly kind: KindName;
  readonly label: string;
  readonly source: RowSource;
  readonly glass: GlassSource;
  readonly typed: Typed;
  readonly picked: Picked;
  readonly calls: GridCalls;
  readonly suggest: Suggest;
  readonly habits: ReadingHabits;
  readonly readOnly: string | null;
  readonly look: TableLook;
  readonly onLook: (look: TableLook) => void;
  readonly sorts: readonly GridSort[];
  readonly onSorts: (sorts: readonly GridSort[]) => void;
  readonly filtering: boolean;
  readonly onFiltering: () => void;
  readonly filters: Readonly<{ [field: string]: string }>;
  readonly filterFaults: Readonly<{ [field: string]: string }>;
  readonly onFilter: (column: GridColumn, text: string) => void;
  readonly filterOffers: (column: GridColumn) => readonly { readonly words: string; readonly count: number | null }[];
  readonly onFilterOpen: (column: GridColumn) => void;
  /** Lines under a row, and the mark before it. */
  readonly linesOf: (row: Record | null, key: RowKey, editing: Editing) => readonly Line[];
  readonly markOf: (row: Record | null, key: RowKey) => { readonly mark: ReactNode; readonly words: string } | null;
  readonly onSpot: (spot: GridSpot) => void;
  readonly onOpen: (row: Record) => void;
  /** What is asked in a dialog of its own, about the rows picked or else the block. */
  readonly onAsk: (what: Asked) => void;
  readonly onDelete: (rows: readonly Record[]) => void;
  readonly say: (words: string) => void;
  /** The cell to begin at, by row; for coming back. */
  readonly first: number;
  /** Each higher number takes the focus to the empty row at the end. */
  readonly toEnd: number;
  readonly toCell: GoTo | null;
}
