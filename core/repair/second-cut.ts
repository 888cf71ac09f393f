/**
 * A cut that was read beside one that is on record and waits, on the same leg: between the two nothing can be spliced but in
 * the open, so that both are mended as one break, and what lies between them is given up.
 */
import { say } from "../words/say.ts";
import type { Cut } from "./course.ts";
import { mouthOf } from "./place-cut.ts";
import type { HeldCourse } from "./pulls.ts";
import { metres } from "./told.ts";
import type { WaitingCut } from "./waiting-cut.ts";

export interface BothCuts {
  /** Where the new one was read, with all that is lost from the one to the other. */
  readonly cut: Cut;
  /** Sheath between the two. */
  readonly apart_m: number;
}

/** A mark is read to a tenth or so: nearer to what is on record than that, it is the same cut. */
const SAME_M = 0.25;

/** Null where the place asked for lies within the cut on record, or nobody knows where on its leg that one is. */
export function bothCuts(asked: Cut, waiting: WaitingCut | null, on: HeldCourse): BothCuts | null {
  const before = on.stops.findIndex(({ stop }) => stop.id === waiting?.before_id);
  // In a place its edges lie in the coil, and metres of sheath are none of way.
  if (!waiting?.edges || waiting.inside || before < 0) return null;
  const from_m = mouthOf(on, before) + waiting.edges.from_m;
  const to_m = from_m + waiting.edges.lost_m;
  const apart_m = Math.max(from_m - asked.at_m, asked.at_m - to_m);
  if (apart_m <= SAME_M) return null;
  const { at_m, lost_left_m, lost_right_m } = asked;
  return {
    cut: {
      at_m,
      lost_left_m: Math.max(lost_left_m, at_m - from_m),
      lost_right_m: Math.max(lost_right_m, to_m - at_m),
    },
    apart_m,
  };
}

/** @param tag of the cable */
export const bothWords = (tag: string, { apart_m }: BothCuts, { ordinal }: WaitingCut): string =>
  say`${tag} is cut on record at ${tag}@${ordinal} too, ${metres(apart_m)} from the place asked for: both are mended as one break, and what lies between them is given up; where it is one and the same cut, correct its marks at ${tag}@${ordinal} and ask again`;
