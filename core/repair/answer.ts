/** What a mend of a cut answers: every plan with what it rests on. Lengths are metres; way excludes coils. */
import type { RecordRef } from "../trace/answer.ts";

export interface MendPull {
  readonly stop: RecordRef;
  readonly place: RecordRef | null;
  readonly pulled_m: number;
  /** What stays coiled there. */
  readonly left_m: number;
}

export interface MendSide {
  /** The remain runs from here. */
  readonly from: RecordRef | null;
  /** What it lacks at the splice point; 0 or less is surplus. */
  readonly lack_m: number;
  readonly trimmed_m: number;
  readonly pulls: readonly MendPull[];
}

export interface MendPlace {
  /** Null for a hole to be dug at the cut. */
  readonly place: RecordRef | null;
  readonly words: string;
  /** Sheath a splice takes there on each side. */
  readonly work_m: number;
}

export interface MendAnswerPlan {
  readonly kind: "one_point" | "two_points" | "new_cable";
  readonly sentence: string;
  readonly points: readonly MendPlace[];
  readonly sides: readonly MendSide[];
  readonly new_cable_m: number;
  /** Splices in each strand. */
  readonly joints: number;
  readonly new_holes: number;
  readonly pulled_m: number;
  /** What it rests on that nobody has proven, in words. */
  readonly to_prove: readonly string[];
  readonly waits_for_pipe: boolean;
}

export interface MendAnswer {
  readonly cable: RecordRef;
  readonly cut: {
    readonly between: readonly [RecordRef | null, RecordRef | null];
    /** Metres from the mouth of the first of the two. */
    readonly from_mouth_m: number;
    /** Sheath mark at the cut, where marks are on record. */
    readonly mark: number | null;
    readonly mark_unit: "m" | "ft" | null;
    readonly lost_left_m: number;
    readonly lost_right_m: number;
  };
  readonly strands: number;
  /** Circuits that the cut takes down, by priority. */
  readonly circuits: readonly { readonly circuit: RecordRef; readonly priority: number | null }[];
  readonly plans: readonly MendAnswerPlan[];
  /** Places where no single splice mends it, and why. */
  readonly refused: readonly { readonly place: RecordRef | null; readonly words: string; readonly reason: string }[];
  readonly assumed: readonly string[];
  /** The limits it is reckoned by, with their sources. */
  readonly limits: readonly {
    readonly tag: string;
    readonly meaning: string | null;
    readonly value: number;
    readonly unit: string | null;
    readonly source: string;
  }[];
  readonly sentence: string;
  readonly cautions: readonly string[];
}
