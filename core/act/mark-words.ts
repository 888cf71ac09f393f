/** A mark as whoever reads it finds it: what is printed, and at which mouth or edge. */
import { say } from "../words/say.ts";

export type MarkField = "mark_in" | "mark_out" | "mark_open_from" | "mark_open_to";

/** @param first and last: the places at both ends of the cable */
export function markWords(field: MarkField, mark: number | null, first: string, last: string): string {
  const where = {
    mark_in: say`at the mouth towards ${first}`,
    mark_out: say`at the mouth towards ${last}`,
    mark_open_from: say`where the sheath that comes from ${first} ends`,
    mark_open_to: say`where the sheath that comes from ${last} ends`,
  };
  return say`${mark} ${where[field]}`;
}
