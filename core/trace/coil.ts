/** What of a cable is coiled at a stop: what lies there beyond the way through the place. */
import type { Sheath, SheathLength, SheathStop } from "./sheath.ts";
import { toMillimetre } from "./totals.ts";

const known = ({ length_m, lacks }: SheathLength): number | null =>
  length_m === null || lacks.length > 0 ? null : toMillimetre(length_m);

/**
 * Metres coiled at a stop, 0 where there is known to be no coil, null where it isn't known. Where the marks say less than
 * the way through, there is none.
 * @param outer the cable begins or ends there
 */
export function coilOf(sheath: Sheath, stop: SheathStop, outer: boolean): number | null {
  if (stop.storage === "none") return 0;
  const inside_m = known(sheath.inside(stop));
  const byMarks = stop.mark_in !== null && stop.mark_out !== null;
  // An end, or all that is left of a severed sheath on one side: what lies there is coiled.
  const { kind, mark_in, mark_open_from, mark_open_to, mark_out } = stop;
  const left = mark_out === null && mark_in !== null && mark_open_from !== null;
  const right = mark_in === null && mark_out !== null && mark_open_to !== null;
  if (outer || (kind === "severed" && (left || right))) return inside_m;
  if (!byMarks) return stop.slack_m;
  if (inside_m === 0) return 0;
  if (inside_m === null || stop.crossing_m === null) return null;
  return toMillimetre(Math.max(0, inside_m - stop.crossing_m));
}

/** The same of glass that ends at a stop, on its own side of it. */
export function coilBefore(sheath: Sheath, stop: SheathStop, toward: "in" | "out"): number | null {
  if (stop.storage === "none") return 0;
  const side_m = known(sheath.side(stop, toward));
  if (stop.kind === "end" || stop.kind === "severed" || side_m === null) return side_m;
  // Cut in a place that the sheath runs through: half of the way through is its own.
  return stop.crossing_m === null ? null : toMillimetre(Math.max(0, side_m - stop.crossing_m / 2));
}
