/**
 * What a shape of as-built sheet is: its columns, how a heading is known, and which acts one row stands for. A shape
 * writes nothing of its own: it says rows in the acts that a person could do one by one.
 */
import type { KindName } from "../model/dictionary.ts";
import type { Reader } from "../store/handle.ts";
import type { RowCells } from "./row-cells.ts";

/** An operation that writes, and its input. */
export interface Act {
  readonly name: string;
  readonly input: Readonly<Record<string, unknown>>;
}

/** What a cell names, so that what is missing can be made where that is chosen; a course names places and ways. */
export type Names = "space" | "course" | "port" | "tray" | "circuit";

export interface ShapeColumn {
  readonly name: string;
  /** Its usual heading in a file, the same in every language. */
  readonly heading: string;
  /** What it is called where people map and read it. */
  readonly label: string;
  readonly help: string;
  readonly needed?: true;
  /** Other headings that mean it, in small letters without marks. */
  readonly also: readonly string[];
  readonly names?: Names;
  /** Lengths are read in the column's unit; marks are kept as printed, and the unit says what they count. */
  readonly unit?: "length" | "mark";
  /** The column that names what it lies in, where its own cell doesn't. */
  readonly under?: string;
}

export interface RowActs {
  /** What is understood, in words. */
  readonly words: string;
  /** The same where all of it is on record already; a row that is refused doesn't say so. */
  readonly same?: string;
  /** None where the row asks for nothing that isn't on record. */
  readonly acts: readonly Act[];
}

export interface Shape {
  readonly name: string;
  readonly title: string;
  readonly help: string;
  readonly columns: readonly ShapeColumn[];
  /** Headings, in small letters, of what a table written from here has for people to see; nothing is read from them. */
  readonly seen?: readonly string[];
  /** What two rows of one sheet must not both claim; null where a row claims nothing by itself. */
  readonly claims: (cells: RowCells) => string | null;
  /** The kind of record whose tag is claimed: written otherwise, with another case or a space, it is the same one. */
  readonly claimed?: KindName;
  /** The acts; what can't be read is kept with the cells, row and field named. */
  readonly read: (reader: Reader, cells: RowCells) => Promise<RowActs | null>;
  /** Whether exactly what a refused row asks for is on record, so that a sheet read twice changes nothing. */
  readonly onRecord?: (reader: Reader, cells: RowCells) => Promise<boolean>;
}
