/** What is found of a mend before it is told. */

import type { Limits } from "../standards/limits/in-use.ts";
import type { RecordRef } from "../trace/answer.ts";
import type { Cables } from "../trace/cables.ts";
import type { Sheath } from "../trace/sheath.ts";
import type { MendTheirs } from "./answer.ts";
import type { Cut } from "./course.ts";
import type { OnCable } from "./dark.ts";
import type { LegInDoubt } from "./doubtful.ts";
import type { Stretch } from "./place-cut.ts";
import type { Mend, MendPolicy } from "./plans.ts";
import type { HeldCourse } from "./pulls.ts";
import type { BothCuts } from "./second-cut.ts";
import type { WaitingCut } from "./waiting-cut.ts";

export interface MendReckoned {
  readonly cable: RecordRef;
  readonly cables: Cables;
  readonly on: HeldCourse;
  readonly cut: Cut;
  /** Others mend it, and so nothing is found; null where it is ours to mend. */
  readonly theirs: MendTheirs | null;
  /**
   * Nobody knows where between two stops it is cut, and all between them counts as lost: the two, what would be lost at one
   * place, and what holds in a leg if it is found there.
   */
  readonly somewhere: {
    readonly stretch: Stretch;
    readonly told: Cut;
    readonly policy: MendPolicy;
  } | null;
  /** The cut, where it is on record already. */
  readonly waiting: WaitingCut | null;
  /** What was asked for is another cut beside that one: both are mended as one break. */
  readonly both: BothCuts | null;
  readonly limits: Limits;
  readonly found: Mend;
  /** By which they were found. */
  readonly policy: MendPolicy;
  /** Circuits in service on the cable, and where among its stops. */
  readonly lit: readonly OnCable[];
  /** The day by which circuits are in service. */
  readonly today: string;
  /** The dark strands, where others that come by the cut still shine; null where all are cut. */
  readonly dark: ReadonlySet<number> | null;
  /** Sheath and legs of the cable as it lay before the cut. */
  readonly lay: Sheath;
  /** Cut in a place it passes: which of its stops, and where the mark that was read there lies along the sheath. */
  readonly inside: CutInside | null;
  /** Legs of its course on which the record contradicts itself: every plan rests on where they lie. */
  readonly doubts: readonly LegInDoubt[];
}

export interface CutInside {
  readonly stop: number;
  readonly mark: number | null;
  readonly found_m: number | null;
}
