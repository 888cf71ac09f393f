/** A piece of sheath: a leg, what lies in a place, or the tail at an end, with what is known of its length and marks. */
import type { SheathLeg, SheathStop } from "../trace/sheath.ts";

/** What makes a piece's own length uncertain, in metres to both sides. */
export interface PieceError {
  readonly kind: "way" | "slack" | "end";
  readonly key: string;
  readonly words: string;
  readonly bound: number;
  readonly basis: "on_record" | "usual";
  readonly source: string;
  readonly pathway: SheathLeg | null;
}

export interface Piece {
  readonly kind: "leg" | "coil" | "window" | "tail";
  /** The place it lies in; of a leg, the stop it begins at. */
  readonly stop: SheathStop;
  /** Of a leg, the stop it ends at. */
  readonly next: SheathStop | null;
  /** Metres of sheath; null where nothing says. */
  readonly length_m: number | null;
  /** Its length is the difference of two marks. */
  readonly marked: boolean;
  /** Printed marks at its two ends, in order; null where one isn't on record. */
  readonly marks: readonly [number, number] | null;
  /** Those marks are worked out from others, and nobody read them there. */
  readonly reckoned: boolean;
  /** What is on record at its two ends. */
  readonly ends: readonly [At, At];
  readonly errors: readonly PieceError[];
  readonly legs: readonly SheathLeg[];
}

export interface Pieces {
  readonly pieces: readonly Piece[];
  readonly lacks: readonly string[];
  readonly doubts: readonly string[];
}

/** A mark, and where it lies along the sheath. */
export interface At {
  readonly mark: number | null;
  readonly along_m: number | null;
}
