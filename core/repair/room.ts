/**
 * Whether a splice fits into a place: its case, what is stored on both sides in turns at the coil's radius, and what hangs
 * there already. A size that is not on record never refuses; it is named as unproven.
 */

import { counted, plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { Course, CourseStop } from "./course.ts";

export interface RoomPolicy {
  /** Room a case takes beside the coils. */
  readonly case_m: number;
}

export interface Room {
  /** What case and coils need across the place or along it, and the inner size it has that way; null where not known. */
  readonly needs_m: number;
  readonly has_m: number | null;
  readonly way: "wide" | "long";
  /** What is not known of it, in words that follow the place. */
  readonly unproven: readonly string[];
}

/** Turns of a length at a radius; a turn begun takes the room of a whole one. */
export const turnsOf = (length_m: number, radius_m: number): number =>
  length_m <= 0 || radius_m <= 0 ? 0 : Math.ceil(length_m / (2 * Math.PI * radius_m) - 1e-9);

/** Thickness of a coil: its turns in a bundle as wide as it is high. */
export const bundleOf = (length_m: number, radius_m: number, diameter_m: number): number =>
  diameter_m * Math.ceil(Math.sqrt(turnsOf(length_m, radius_m)));

/**
 * The coil lies flat with its case beside it: that must fit across the place. Along it goes what hangs there already as
 * well, coil before coil and case beside case. Told is the side that is too small, or else the one across.
 * @param stored_m metres stored on both sides together
 */
export function roomFor(course: Course, stop: CourseStop, stored_m: number, { case_m }: RoomPolicy): Room {
  const { coil_radius_m: radius_m, diameter_m = null } = course;
  const taken = stop.taken ?? { cases: 0, coils_m: 0, unknown: 0 };
  const thick_m = radius_m === null || diameter_m === null ? 0 : bundleOf(stored_m, radius_m, diameter_m);
  const across_m = 2 * ((radius_m ?? 0) + thick_m) + case_m;
  const along_m = across_m + taken.coils_m + case_m * taken.cases;
  if (stop.indoors) return { needs_m: across_m, has_m: null, way: "wide", unproven: [] };
  const unproven = [
    stop.inner_m === null || radius_m === null ? say`whether case and coils fit` : "",
    stop.inner_m !== null && radius_m !== null && diameter_m === null ? say`how thick the coils are` : "",
    stop.inner_m !== null && taken.unknown > 0
      ? plural(
          taken.unknown,
          "what room the coils of {0} other cable leave",
          "what room the coils of {0} other cables leave",
        )
      : "",
  ].filter(Boolean);
  const [wide_m, long_m] = radius_m === null ? [null, null] : [stop.inner_m, stop.inner_long_m ?? stop.inner_m];
  const across: Room = { needs_m: across_m, has_m: wide_m, way: "wide", unproven };
  const along: Room = { needs_m: along_m, has_m: long_m, way: "long", unproven };
  return fits(across) && !fits(along) ? along : across;
}

export const fits = ({ needs_m, has_m }: Pick<Room, "needs_m" | "has_m">): boolean =>
  has_m === null || has_m >= needs_m - 1e-9;

/** Why a splice doesn't fit, with both numbers; null where it does, or nobody knows. */
export function noRoom(course: Course, stop: CourseStop, stored_m: number, policy: RoomPolicy): string | null {
  const room = roomFor(course, stop, stored_m, policy);
  if (fits(room)) return null;
  const { cases = 0, coils_m = 0 } = stop.taken ?? {};
  const there = [cases > 0 ? counted(cases, "case") : "", coils_m > 0 ? say`other cables' coils` : ""].filter(Boolean);
  const beside = room.way === "long" ? say` with ${there.join(say` and `)} that are there already` : "";
  return say`it is ${round(room.has_m ?? 0)} m ${room.way}, and case and coils at their radius need ${round(room.needs_m)} m${beside}`;
}

const round = (value: number): number => Math.round(value * 100) / 100;

/** The most of a surplus that the place keeps as a coil, by the half metre; all of `most_m` where sizes are not known. */
export function keepable(
  course: Course,
  stop: CourseStop | null,
  stored_m: number,
  surplus_m: number,
  most_m: number,
  policy: RoomPolicy,
): number {
  const wanted_m = Math.min(surplus_m, most_m);
  if (stop === null || fits(roomFor(course, stop, stored_m + wanted_m, policy))) return wanted_m;
  for (let keep_m = Math.floor(wanted_m * 2) / 2; keep_m > 0; keep_m -= 0.5)
    if (fits(roomFor(course, stop, stored_m + keep_m, policy))) return keep_m;
  return 0;
}
