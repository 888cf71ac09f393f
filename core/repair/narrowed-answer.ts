/** What finding the break would allow, where a cut is known only to lie in a leg, what reading a coil would, and why the first of the ways is. */
import type { RecordRef } from "../trace/answer.ts";

/**
 * Where nobody knows where in its leg it is cut: a part of the leg, in which a better way than those that hold everywhere
 * would do.
 */
export interface MendNarrowed {
  /** Metres from the mouth of the first of the two places; if it is found to be cut there. */
  readonly from_m: number;
  readonly to_m: number;
  /** The best way there, without figures: "One splice at a new hole at the cut". */
  readonly words: string;
  /** The least and the most, by where in this part it is cut. */
  readonly pulled_m: readonly [number, number];
  readonly new_cable_m: readonly [number, number];
  readonly to_prove: readonly string[];
}

/** A coil that nobody knows, and that would make a better way possible than any without it. */
export interface MendLook {
  readonly stop: RecordRef;
  readonly place: RecordRef | null;
  readonly name: string;
  /** On the side of the cut, where the cable is opened there. The least that would do, up to a whole decimetre. */
  readonly coil_m: number;
  /** What is coiled there in all, where only how its opening parts it is not known. */
  readonly both_coils_m: number | null;
  /** The way it would allow, without figures: "One splice at MH-07". */
  readonly way: string;
  readonly new_cable_m: number;
}

/** Why the first of the ways is the first. */
export interface MendRanked {
  /** The first way that rests on nothing unproven, from 1; null where there is none. */
  readonly sure_way: number | null;
  /** What the first way rests on and nobody has proven, in words: looked at before it is begun. */
  readonly look_first: readonly string[];
  readonly words: string;
}
