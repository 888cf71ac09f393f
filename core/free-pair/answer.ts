/** Free strands from one place to another: each way there is, what it takes, and two that share nothing. */
import type { Verdict } from "../light/answer.ts";
import type { LossTerm } from "../light/terms.ts";
import type { RecordRef } from "../trace/answer.ts";

export interface FreeStrand {
  /** The port's position, or the bare section end, at its beginning and end in the direction from A to B. */
  readonly from: RecordRef;
  readonly to: RecordRef;
  /** Of a bare end, which end of the section lies there; null at a port. */
  readonly from_side: "A" | "B" | null;
  readonly to_side: "A" | "B" | null;
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

export interface WayWavelength {
  readonly wavelength_nm: number;
  /** Decibels with typical values where nothing was measured, and with limits; what is known of it. */
  readonly loss_db: number | null;
  readonly worst_loss_db: number | null;
  readonly complete: boolean;
  readonly unknown: readonly string[];
}

/** What a way would lose from end to end, its joints made and a plug at each end: of the strand that loses most. */
export interface WayLoss {
  /** The first glass of that strand. */
  readonly strand: RecordRef;
  /** How many strands of the way were reckoned. */
  readonly reckoned: number;
  /** Metres of glass; null where some of it is not known. */
  readonly length_m: number | null;
  readonly wavelengths: readonly WayWavelength[];
  /** At the first wavelength, with limits where nothing was measured. */
  readonly terms: readonly LossTerm[];
  readonly assumptions: readonly string[];
  /** The application that is wanted; null where none is. The margin is that with limits. */
  readonly application: {
    readonly application: string;
    readonly runs: Verdict;
    readonly runs_at_worst: Verdict;
    readonly limit_db: number | null;
    readonly margin_db: number | null;
    readonly limit_m: number | null;
    readonly reasons: readonly string[];
    readonly sources: readonly string[];
    readonly rests_on: readonly RecordRef[];
  } | null;
}

export interface FreeWay {
  readonly splices: number;
  readonly cords: number;
  /** What is on record against its strands and ports, in words: unproven strands, dirty ports. */
  readonly doubts: readonly string[];
  /** Strands it takes that the plant keeps for repair; such ways come last. */
  readonly kept_for_repair: number;
  /** Null where it can't be reckoned. */
  readonly loss: WayLoss | null;
  /** All strands of each stretch are neighbours by number. */
  readonly adjacent: boolean;
  /** Sheath from A to B; null where some of it is not known. */
  readonly length_m: number | null;
  readonly lacks: readonly string[];
  readonly stretches: readonly FreeStretch[];
  readonly joints: readonly FreeJoint[];
}

export interface SeparateRoute {
  /** The places and pathways it runs through, from A to B. */
  readonly through: readonly RecordRef[];
  /** Cables with enough free strands all along it, in order. */
  readonly cables: readonly RecordRef[];
  /**
   * The strands that make it, what is to be joined and what light would lose; null where free strands don't begin and end
   * where its cables do: they would be cut out on the way, and their loss is not reckoned.
   */
  readonly way: FreeWay | null;
  /** To be made where it changes from cable to cable: for each strand a splice, or a cord where both are landed. */
  readonly joints: number;
  /** Length of its pathways; null where some of it is not known. */
  readonly length_m: number | null;
  readonly lacks: readonly string[];
}

/** Two routes that share no place and no pathway but the rooms of A and B, the shortest of all such pairs together. */
export interface SeparatePair {
  readonly routes: readonly SeparateRoute[];
  readonly length_m: number | null;
}

export interface FreePairAnswer {
  readonly from: RecordRef;
  readonly to: RecordRef;
  readonly strands: number;
  readonly avoid: RecordRef | null;
  /** The application that is wanted, as limits have it; null where none is. */
  readonly application: string | null;
  /** The best first: none kept for repair, then fewest splices, then cords, then neighbours before scattered strands, then the shortest. */
  readonly ways: readonly FreeWay[];
  /** Two separate routes, where they were asked for; null where there are none, or nobody asked. */
  readonly separate: SeparatePair | null;
  /** Stretches of free glass that were looked at. */
  readonly examined: number;
  readonly unknown: readonly string[];
  readonly sentence: string;
  readonly cautions: readonly string[];
}
