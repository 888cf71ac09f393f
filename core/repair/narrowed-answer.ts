/** What finding the break would allow, where a cut is known only to lie in a leg. */

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
