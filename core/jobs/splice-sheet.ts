/** What stands on a splice sheet: row by row which strand meets what. */
import { colourWords } from "../standards/colours.ts";
import type { Layer } from "../standards/strand-colours.ts";
import type { RecordRef } from "../trace/answer.ts";

export interface SheetEnd {
  readonly strand: RecordRef;
  /** "tube 3 green, strand 5 slate", outermost first. */
  readonly colours: string;
  /** The unit it lies in without the strand itself, "tube 3 green"; and the strand's own colour, "slate", null where it isn't known. */
  readonly unit?: string;
  readonly colour?: string | null;
}

/** What a sheet says of a strand by its layers, the outermost first. */
export function coloursOf(layers: readonly Layer[]): Pick<SheetEnd, "colours" | "unit" | "colour"> {
  const own = layers.at(-1);
  // Colours stand in a row with commas between them there, so a colour has none of its own.
  const colour = own?.what === "strand" ? (colourWords(own)?.replaceAll(", ", " ") ?? null) : null;
  return { colours: wordsOf(layers), unit: wordsOf(layers.slice(0, -1)), colour };
}

const wordsOf = (layers: readonly Layer[]): string => layers.map(({ words }) => words).join(", ");

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
