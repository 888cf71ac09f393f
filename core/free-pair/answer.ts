/** Free strands from one place to another: each way there is, what it takes, and two that share nothing. */
import type { RecordRef } from "../trace/answer.ts";

export interface FreeStrand {
  /** The port's position, or the bare section end, at its beginning and end in the direction from A to B. */
  readonly from: RecordRef;
  readonly to: RecordRef;
  /** Its glass in order. */
  readonly sections: readonly RecordRef[];
}

/** Glass that is there already, from one end to the other. */
export interface FreeStretch {
  readonly cables: readonly RecordRef[];
  readonly from: RecordRef;
  readonly to: RecordRef;
  readonly strands: readonly FreeStrand[];
  /** Sheath; null where some of it is not known. */
  readonly length_m: number | null;
  readonly lacks: readonly string[];
}

/** What is to be made between two stretches: a cord or a splice for each strand. */
export interface FreeJoint {
  readonly space: RecordRef;
  readonly kind: "cord" | "splice";
  readonly count: number;
}

export interface FreeWay {
  readonly splices: number;
  readonly cords: number;
  /** All strands of each stretch are neighbours by number. */
  readonly adjacent: boolean;
  /** Sheath from A to B; null where some of it is not known. */
  readonly length_m: number | null;
  readonly lacks: readonly string[];
  readonly stretches: readonly FreeStretch[];
  readonly joints: readonly FreeJoint[];
}

export interface FreePairAnswer {
  readonly from: RecordRef;
  readonly to: RecordRef;
  readonly strands: number;
  readonly avoid: RecordRef | null;
  /** The best first: fewest splices, then cords, then neighbours before scattered strands, then the shortest. */
  readonly ways: readonly FreeWay[];
  /** Stretches of free glass that were looked at. */
  readonly examined: number;
  readonly unknown: readonly string[];
  readonly sentence: string;
  readonly cautions: readonly string[];
}
