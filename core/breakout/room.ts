/** Whether the place holds the case, and the loop and the lateral in turns at the coil's radius, beside what lies there. */
import { formatLength } from "../model/units.ts";
import type { CourseOnRecord } from "../repair/read-course.ts";
import { fits, noRoom, roomFor } from "../repair/room.ts";
import { asKnown } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import type { CaseChoice, HoleRoom } from "./answer.ts";

export interface RoomAsked {
  readonly on: CourseOnRecord | null;
  /** Place of the stop in it. */
  readonly at: number;
  /** What of the cable lies there afterwards, crossing and window included; null where nobody knows. */
  readonly loop_m: number | null;
  readonly crossing_m: number | null;
  readonly window_m: number;
  /** What of the lateral lies there. */
  readonly lateral_m: number;
  readonly case: Pick<CaseChoice, "how" | "tag">;
  /** Room that a case takes. */
  readonly case_m: number;
  readonly place: string;
}

/** A size that is not on record never refuses; it is to be proved. */
export function roomHere(asked: RoomAsked): HoleRoom {
  const { on, at, loop_m, crossing_m, window_m, lateral_m, case_m, place } = asked;
  const stop = on?.course.stops[at];
  if (!on || !stop)
    return { fits: null, needs_m: null, has_m: null, words: unknown(place), to_prove: [unknown(place)] };
  // What is opened lies in the case, and what is dressed along the walls is no coil.
  const stored_m = Math.max(0, (loop_m ?? 0) - (crossing_m ?? 0) - window_m) + lateral_m;
  const { cases = 0, coils_m = 0, unknown: others = 0 } = stop.taken ?? {};
  // A case that hangs there already is the one that is used.
  const taken = { cases: asked.case.how === "here" ? Math.max(0, cases - 1) : cases, coils_m, unknown: others };
  const here = { ...stop, taken };
  const room = roomFor(on.course, here, stored_m, { case_m });
  const reason = noRoom(on.course, here, stored_m, { case_m });
  const to_prove = [
    ...room.unproven.map((words) => say`${words} in ${place}`),
    ...(loop_m === null && room.has_m !== null
      ? [say`what room the loop takes in ${place}: how long it is, is not known`]
      : []),
  ];
  const known = room.has_m !== null && to_prove.length === 0;
  const needs = formatLength(room.needs_m, "m", 2);
  const words =
    reason !== null
      ? say`${place} is too small: ${reason}`
      : room.has_m === null
        ? stop.indoors
          ? say`${place} is a room: whether case and coils fit is not asked`
          : unknown(place)
        : say`${place} has room: it is ${formatLength(room.has_m, "m", 2)} ${room.way}, and case and coils need ${asKnown(needs, known)}`;
  return {
    fits: reason !== null ? "no" : known && fits(room) ? "yes" : null,
    needs_m: Math.round(room.needs_m * 1000) / 1000,
    has_m: room.has_m,
    words,
    to_prove: reason === null ? to_prove : [],
  };
}

const unknown = (place: string): string =>
  say`whether case and coils fit in ${place}: its size or the coil's radius is not on record`;
