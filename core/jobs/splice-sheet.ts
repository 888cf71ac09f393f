/** What stands on a splice sheet: row by row which strand meets what. */
import type { RecordRef } from "../trace/answer.ts";

export interface SheetEnd {
  readonly strand: RecordRef;
  /** "tube 3 green, strand 5 slate", outermost first. */
  readonly colours: string;
}

export interface SheetRow {
  /** The step that makes it. */
  readonly step: number;
  readonly done: boolean;
  readonly from: SheetEnd;
  readonly to: SheetEnd;
  readonly circuits: readonly RecordRef[];
}

export interface SpliceSheet {
  /** The splice tray, by its address. */
  readonly tray: string;
  readonly place: RecordRef | null;
  readonly rows: readonly SheetRow[];
  /** Steps whose strands are not on record yet, in words. */
  readonly later: readonly string[];
}
