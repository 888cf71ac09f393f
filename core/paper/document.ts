/**
 * A document to be printed, as a plain tree that survives JSON. Whoever makes one says what stands in it and in which
 * order; where lines and pages break is the writer's affair. Lengths on paper are millimetres, lengths in the plant metres.
 */

import type { CampusDrawing } from "./campus.ts";
import type { FaceDrawing } from "./face.ts";
import type { LineDrawing } from "./line.ts";
import type { OpeningDrawing } from "./opening.ts";
import type { SectionDrawing } from "./section.ts";
import type { WallsDrawing } from "./walls.ts";

export interface Document {
  /** Tells a document from any other answer. */
  readonly paper: "document";
  readonly title: TitleBlock;
  readonly blocks: readonly Block[];
  /** Its sheets lie on their long side: for wide tables and faces. */
  readonly lying?: true;
}

/** Sizes of sheets: A4 is 210 × 297 mm (ISO 216), Letter 8.5 × 11 in. */
export const PAPER_SIZES = ["a4", "letter"] as const;
export type PaperSize = (typeof PAPER_SIZES)[number];

export interface TitleBlock {
  /** What it is: "Packet for job J-12". */
  readonly what: string;
  readonly plant: string;
  /** The day it was made, `YYYY-MM-DD`: it comes from the context, so that the same input makes the same bytes. */
  readonly made_on: string;
  /** The revision of the record it shows; null where none is meant. */
  readonly revision: number | null;
  /** The digest of what is on record at that revision; papers of one digest tell of the same plant. */
  readonly content?: string | null;
  /** Who made it; null when unknown. */
  readonly who: string | null;
  /** The record it is about, drawn as a code beside the title. */
  readonly code: Code | null;
}

/** A machine-readable code (QR) and what it says in words, so that it can be typed as well. */
export interface Code {
  /** What a reader gets: the kind of record and its address, from `codeOf`. */
  readonly says: string;
  /** Printed below it. */
  readonly words: string;
}

/** Text of one cell or value. Colour is never said by the swatch alone: a chip carries its words. */
export type Piece = string | Chip | null;

export interface Chip {
  /** The colour's written name with its stripe: "blue with black stripe". */
  readonly words: string;
  /** `#rrggbb`; null when no such colour is drawn, the words then stand alone. */
  readonly fill: string | null;
  /** The stripe's `#rrggbb`; null without one. */
  readonly stripe: string | null;
  /** The `#rrggbb` of the unit that a strand lies in, drawn around it; left out for anything else. */
  readonly unit?: string | null;
}

export interface Column {
  readonly head: string;
  /** Share of the width; 1 where not given. */
  readonly weight?: number;
  /** Numbers stand at the right. */
  readonly numeric?: boolean;
}

/** A cell: text or chips one below the other, a box to tick (`done`: already ticked), or a place to write in. */
export type Cell = Piece | readonly Piece[] | { readonly tick: boolean } | WriteCell;

/** A place to write in, beside what is on record where there is something. */
export interface WriteCell {
  readonly write: true;
  readonly beside?: string;
}

export type NoteSign = "danger" | "caution" | "note";

export type Block =
  | { readonly is: "heading"; readonly level: 1 | 2; readonly text: string }
  | { readonly is: "paragraph"; readonly text: string }
  /** A framed remark with a sign and its word. Dangers and cautions are never split between pages. */
  | { readonly is: "note"; readonly sign: NoteSign; readonly text: string }
  /** Words and what they are; an unknown value is null and printed as "not known". */
  | { readonly is: "values"; readonly rows: readonly { readonly word: string; readonly value: Cell }[] }
  | TableBlock
  | { readonly is: "line"; readonly drawing: LineDrawing }
  /** A cable opened where it passes, with what is cut. */
  | { readonly is: "opening"; readonly drawing: OpeningDrawing }
  /** The walls of a hole unfolded. */
  | { readonly is: "walls"; readonly drawing: WallsDrawing }
  | { readonly is: "face"; readonly drawing: FaceDrawing }
  /** The campus from above, to scale. */
  | { readonly is: "campus"; readonly drawing: CampusDrawing }
  | { readonly is: "section"; readonly drawing: SectionDrawing }
  | { readonly is: "code"; readonly code: Code }
  /** Lines to sign on, each for one role: "Spliced by". */
  | { readonly is: "sign"; readonly roles: readonly string[] }
  | { readonly is: "page" };

export interface TableBlock {
  readonly is: "table";
  /** What the table is, for outlines and those who listen to it. */
  readonly caption: string | null;
  readonly columns: readonly Column[];
  /** One cell for each column. The head stands again on each page and a row is never split. */
  readonly rows: readonly (readonly Cell[])[];
  /** Said in place of rows when there are none. */
  readonly none?: string;
  /** Rows lie close together: for many of one line each. */
  readonly dense?: true;
  /** What is said once for the rows that follow it, over the whole width; in the order of the rows. */
  readonly bands?: readonly Band[];
}

export interface Band {
  /** The row above which it stands, from 0. */
  readonly at: number;
  readonly title: string;
  readonly text?: readonly string[];
}

/** How a code names a record: `sbok:cable:F-012@3`. The kind first, because an address alone may be read two ways. */
export const codeOf = (kind: string, address: string): Code => ({ says: `sbok:${kind}:${address}`, words: address });

/** What a code that was read, or typed off, names; null for any other text. */
export function readCode(text: string): { readonly kind: string; readonly address: string } | null {
  const [, kind, address] = /^sbok:([a-z_]+):(.+)$/i.exec(text.trim()) ?? [];
  return kind === undefined || address === undefined ? null : { kind: kind.toLowerCase(), address };
}

export const isDocument = (value: unknown): value is Document =>
  typeof value === "object" && value !== null && "paper" in value && value.paper === "document" && "blocks" in value;
