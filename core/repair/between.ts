/**
 * A cut that is known only to lie between two places: which leg of the cable that is. Where no metres are said nothing of
 * that leg is relied on, so that what is planned holds wherever in it the cut is found.
 */
import { refuse } from "../result.ts";
import { pick } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import type { CableFacts } from "../trace/cables.ts";
import type { SheathStop } from "../trace/sheath.ts";
import { say } from "../words/say.ts";
import type { Cut } from "./course.ts";
import type { MendAsked } from "./place-cut.ts";
import type { CourseOnRecord } from "./read-course.ts";

/** So little of the leg is left at both mouths that what hangs in the places is not touched: a micrometre. */
const MOUTH_M = 1e-6;

/** The leg between two places as a cut that takes all of it. */
export function wholeLeg({ course: { stops, legs } }: CourseOnRecord, before: number): Cut {
  const [stop, length_m] = [stops[before], legs[before]?.length_m ?? 0];
  const half_m = length_m / 2;
  const lost_m = Math.max(0, half_m - MOUTH_M);
  return { at_m: (stop?.left_m ?? 0) + (stop?.through_m ?? 0) + half_m, lost_left_m: lost_m, lost_right_m: lost_m };
}

/**
 * The question with the stop before the cut in place of the two places, and its metres from that stop.
 * Refuses `bad_input` for places that are no neighbours along the cable, `ambiguous` where they are more than once.
 */
export async function placedBetween(reader: Reader, asked: MendAsked, cable: CableFacts): Promise<MendAsked> {
  if (!asked.between) return asked;
  const { tag } = cable.ref;
  if (asked.after !== null) {
    const reason = say`says again what the two places say`;
    refuse("bad_input", say`Say the place before the cut or the two places beside it, not both.`, [
      { field: "after", record: tag, reason },
    ]);
  }
  const [from, to] = [await named(reader, asked.between[0]), await named(reader, asked.between[1])];
  const stops = stopsOf(cable);
  const [a, b] = [placesOn(stops, from, tag), placesOn(stops, to, tag)];
  if (from.kind === to.kind && from.id === to.id) {
    const reason = say`is named twice: a cut lies between two places`;
    refuse("bad_input", `${from.tag} ${reason}.`, [{ field: "between", record: from.tag, reason }]);
  }
  const legs = a.flatMap((one) => b.flatMap((other) => (Math.abs(one - other) === 1 ? [[one, other] as const] : [])));
  const [leg] = legs;
  if (!leg) return refuseApart(stops, from, to, Math.min(...a), Math.min(...b), tag);
  if (legs.length > 1) {
    const all = legs
      .map(([one, other]) => `${stopTag(stops[one], tag)}..${stopTag(stops[other], tag)}`)
      .join(say` or `);
    const reason = say`beside one another more than once: say ${all}`;
    refuse("ambiguous", say`${tag} has ${from.tag} and ${to.tag} ${reason}.`, [
      { field: "between", record: tag, reason: say`are ${reason}` },
    ]);
  }
  const [one, other] = leg;
  const turned = one > other;
  return {
    ...asked,
    after: stopTag(stops[Math.min(one, other)], tag),
    metres: null,
    along: asked.metres === null ? null : { metres: asked.metres, of: null, from_far_end: turned },
    ...(turned ? { lost_left_m: asked.lost_right_m, lost_right_m: asked.lost_left_m } : {}),
  };
}

interface Along extends SheathStop {
  readonly space_id: number | null;
}

/** A cut that waits in the middle of a way is no place. */
const stopsOf = ({ sheath, stops }: CableFacts): Along[] =>
  sheath
    .stopsBetween(stops[0]?.id ?? null, stops.at(-1)?.id ?? null)
    .map((stop, index) => ({ ...stop, space_id: stops[index]?.space_id ?? null }))
    .filter(({ kind, space_id }) => kind !== "severed" || space_id !== null);

const stopTag = (stop: SheathStop | undefined, tag: string): string => `${tag}@${stop?.ordinal}`;

const named = (reader: Reader, text: string): Promise<RecordRef> =>
  pick(reader, text, { kinds: ["space", "stop"], field: "between" });

function placesOn(stops: readonly Along[], { kind, id, tag: place }: RecordRef, tag: string): number[] {
  const found = stops.flatMap((stop, index) => ((kind === "stop" ? stop.id : stop.space_id) === id ? [index] : []));
  if (found.length > 0) return found;
  const reason = say`is no place of ${tag}, which comes by ${stops.map((stop) => stop.place).join(", ")}`;
  return refuse("bad_input", `${place} ${reason}.`, [{ field: "between", record: place, reason }]);
}

/** Between the two lie other places, at each of which it can be looked: the answer names the legs. */
function refuseApart(
  stops: readonly Along[],
  from: RecordRef,
  to: RecordRef,
  a: number,
  b: number,
  tag: string,
): never {
  const part = stops.slice(Math.min(a, b), Math.max(a, b) + 1).map(({ place }) => place);
  const legs = part.slice(1).map((place, index) => `${part[index]}..${place}`);
  const reason = say`has ${part.slice(1, -1).join(", ")} between ${from.tag} and ${to.tag}: look there which leg is broken, and say ${legs.join(say` or `)}`;
  return refuse("bad_input", `${tag} ${reason}.`, [{ field: "between", record: tag, reason }]);
}
