/** What mends of several cables put into one hole, and how long it must be for all. */
import type { Taken as HoleTaken } from "./course.ts";
import type { MendReckoned } from "./mend.ts";
import type { MendPoint } from "./plans.ts";
import { bundleOf } from "./room.ts";

/** What one mend puts into a hole: a case and a coil. */
export interface InHole {
  readonly radius_m: number | null;
  /** How thick its coil is. */
  readonly thick_m: number | null;
  /** Cases that hang in the hole already. */
  readonly cases: number;
  /** The cable that is mended, and what other cables have coiled there. */
  readonly cable_id: number;
  readonly there: NonNullable<HoleTaken["each"]>;
}

export function inHole(
  { cable, on: { course } }: Pick<MendReckoned, "cable" | "on">,
  { at, work_m }: Pick<MendPoint, "at" | "work_m">,
): InHole {
  const { coil_radius_m: radius_m, diameter_m = null } = course;
  const stop = at === "cut" ? null : (course.stops[at] ?? null);
  return {
    radius_m,
    thick_m: radius_m === null || diameter_m === null ? null : bundleOf(2 * work_m, radius_m, diameter_m),
    cases: stop?.taken?.cases ?? 0,
    cable_id: cable.id,
    there: stop?.taken?.each ?? [],
  };
}

/**
 * Metres along a hole that the cases of several mends need: the widest coil, the others before it, all cases, and what
 * cables have coiled there that are not mended there.
 */
export function roomTogether(own: readonly InHole[], case_m: number): number {
  const thick = own.map(({ thick_m }) => thick_m ?? 0);
  const wide_m = Math.max(0, ...own.map(({ radius_m }, index) => (radius_m ?? 0) + (thick[index] ?? 0)));
  const others_m = thick.reduce((sum, one) => sum + one, 0) - Math.max(0, ...thick);
  const mended = new Set(own.map(({ cable_id }) => cable_id));
  const there_m = (own[0]?.there ?? []).reduce((sum, one) => sum + (mended.has(one.cable) ? 0 : one.thick_m), 0);
  return 2 * wide_m + others_m + there_m + (own.length + (own[0]?.cases ?? 0)) * case_m;
}

/** How long a hole is inside, along which coils hang one before the other; null where nobody knows. */
export function longOf({ course }: MendReckoned["on"], at: MendPoint["at"]): number | null {
  const stop = at === "cut" ? null : course.stops[at];
  return stop?.inner_long_m ?? stop?.inner_m ?? null;
}
