/** What stands on a splice sheet: row by row which strand meets what. */
import { colourShort, colourWords } from "../standards/colours.ts";
import type { Layer } from "../standards/strand-colours.ts";
import type { RecordRef } from "../trace/answer.ts";

export interface SheetEnd {
  readonly strand: RecordRef;
  /** "tube 3 green, strand 5 slate", outermost first. */
  readonly colours: string;
  /** The unit it lies in without the strand itself, "tube 3 green"; and the strand's own colour, "slate", null where it isn't known. */
  readonly unit?: string;
  readonly colour?: string | null;
  /** Its place in that unit, from 1, and its colour's short form, "SL"; null where they aren't known. */
  readonly position?: number | null;
  readonly short?: string | null;
}

/** What a sheet says of a strand by its layers, the outermost first. */
export function coloursOf(layers: readonly Layer[]): Omit<SheetEnd, "strand"> {
  const own = layers.at(-1);
  // Colours stand in a row with commas between them there, so a colour has none of its own.
  const strand = own?.what === "strand" ? own : null;
  const colour = strand && (colourWords(strand)?.replaceAll(", ", " ") ?? null);
  return {
    ...{ colours: wordsOf(layers), unit: wordsOf(layers.slice(0, -1)), colour },
    ...{ position: strand?.position ?? null, short: strand && colourShort(strand) },
  };
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
  /** The splice tray, by its address; of what is landed, the place and both cables in words. */
  readonly tray: string;
  /** The case that the tray is in, by its address; of what is landed the same as above. */
  readonly case: string;
  readonly place: RecordRef | null;
  readonly rows: readonly SheetRow[];
  /** Steps whose strands are not on record yet, in words. */
  readonly later: readonly string[];
}
