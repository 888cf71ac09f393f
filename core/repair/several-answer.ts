/** What a mend of several cables cut at once answers: each by itself, and one job for all. Lengths are metres. */
import type { RecordRef } from "../trace/answer.ts";
import type { MendAnswer, MendCircuit, MendTheirs, MendWhole, MendWholePlan } from "./answer.ts";

/** One hole in which more than one cable is to be spliced. */
export interface MendShared {
  /** Null for a new hole at the cut. */
  readonly place: RecordRef | null;
  readonly cables: readonly RecordRef[];
  /** Whether all cases and coils have room; null where a size is not on record. */
  readonly fits: boolean | null;
  readonly words: string;
}

/** One cable's mend as part of the one job for all. */
export interface MendTogether {
  readonly cable: RecordRef;
  /** Its number among the plans of the cable by itself; null where it is none of them. */
  readonly plan: number | null;
  /** Why it isn't the best of those. */
  readonly why: string | null;
  readonly way: MendWholePlan;
  /** By itself it would be mended otherwise. */
  readonly differs: boolean;
}

/** One unit of one cable, in the order in which all come back. */
export interface MendTurn {
  readonly cable: RecordRef;
  readonly unit: string | null;
  /** "13-24". */
  readonly strands: string;
  /** In service. */
  readonly circuits: readonly MendCircuit[];
}

export interface MendOneJob {
  readonly pulled_m: number;
  readonly new_cable_m: number;
  /** A hole that several share is dug once. */
  readonly new_holes: number;
  readonly cases: number;
  /** A place that several share is set up once, and a hole dug once. Null where those of a cable can't be told. */
  readonly hours: number | null;
  /** Holes that more than one of the chosen ways use. */
  readonly shared: readonly MendShared[];
  readonly turns: readonly MendTurn[];
}

export interface MendSeveralTheirs {
  readonly cable: RecordRef;
  readonly owner: MendTheirs;
  /** In service, on its strands that are on record. */
  readonly circuits: readonly MendCircuit[];
}

/** Several cables cut at once. */
export interface MendSeveralAnswer<Cut extends MendAnswer = MendWhole> {
  readonly of: readonly RecordRef[];
  /** The two places between which they are cut, where those were named. */
  readonly between: readonly RecordRef[];
  /** One for each cable, the one with the most at stake first. */
  readonly cuts: readonly Cut[];
  /** Cables that others mend, told first: they are called, and nothing is planned. Their circuits are down all the same. */
  readonly theirs: readonly MendSeveralTheirs[];
  /** Cables of which no mend can be planned, and why. */
  readonly refused: readonly { readonly cable: RecordRef; readonly reason: string }[];
  /** In service. */
  readonly circuits: readonly MendCircuit[];
  readonly not_in_service: readonly MendCircuit[];
  readonly strands: number;
  /** Holes in which the best plans of more than one cable come together, each chosen as if it were alone. */
  readonly shared: readonly MendShared[];
  /** What one job for all takes, where no hole is to hold more than it can: cable by cable, and all in all. */
  readonly together: readonly MendTogether[];
  readonly one_job: MendOneJob;
  /** Cables that may be cut too, in words. */
  readonly unknown: readonly string[];
  /** Legs of the cables that are planned on which the record contradicts itself, in sentences. */
  readonly doubts: readonly string[];
  readonly sentence: string;
  readonly cautions: readonly string[];
}
