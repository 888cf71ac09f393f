/**
 * A cut that is known only to lie between two places: which legs of the cable that is. Where no metres are said nothing of
 * them is relied on, so that what is planned holds wherever in them the cut is found.
 */
import { refuse } from "../result.ts";
import { pick } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import type { CableFacts } from "../trace/cables.ts";
import type { SheathStop } from "../trace/sheath.ts";
import { say } from "../words/say.ts";
import type { Cut } from "./course.ts";
import { lengthOf, type MendAsked, mouthOf, type Stretch } from "./place-cut.ts";
import type { CourseOnRecord } from "./read-course.ts";

/** So little of the outer legs is left at both mouths that what hangs in the places is not touched: a micrometre. */
const MOUTH_M = 1e-6;

/**
 * All between two stops as a cut that takes all of it. It is put into the middle of its longest leg: in a place on the way
 * it would be a cut there.
 */
export function wholeStretch(on: CourseOnRecord, stretch: Stretch): Cut {
  const [from, to] = stretch;
  const legs = on.course.legs.slice(from, to).map(({ length_m }, index) => ({ length_m, before: from + index }));
  const longest = legs.reduce((one, other) => (other.length_m > one.length_m ? other : one), {
    length_m: 0,
    before: from,
  });
  const at_m = mouthOf(on, longest.before) + longest.length_m / 2;
  return {
    at_m,
    lost_left_m: Math.max(0, at_m - mouthOf(on, from) - MOUTH_M),
    lost_right_m: Math.max(0, mouthOf(on, from) + lengthOf(on, stretch) - at_m - MOUTH_M),
  };
}

/** Refuses `bad_input` where a stop in the stretch is opened, severed or held: what is joined there is not given up unlooked at. */
export function refuseParted(on: CourseOnRecord, [from, to]: Stretch, tag: string): void {
  const inner = on.course.stops.slice(from + 1, to);
  const at = inner.findIndex(({ kind, held }) => kind !== "passing" || held);
  if (at < 0) return;
  const name = (index: number): string => on.stops[index]?.name ?? say`a place not known`;
  const stop = from + 1 + at;
  const how = inner[at]?.held ? say`held` : inner[at]?.kind === "opened" ? say`opened` : say`severed`;
  const legs = [`${name(from)}..${name(stop)}`, `${name(stop)}..${name(to)}`].join(say` or `);
  const reason = say`is ${how} at ${name(stop)}, between ${name(from)} and ${name(to)}: look there on which side it is cut, and say ${legs}`;
  refuse("bad_input", `${tag} ${reason}.`, [{ field: "between", record: tag, reason }]);
}

/**
 * The question with the stops around the cut in place of the two places, and its metres from them. A cut on record between
 * them is the one that is meant. Refuses `bad_input` for what is no place of the cable, `ambiguous` where they are that more
 * than once.
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
  const pairs = a.flatMap((one) => b.map((other) => [one, other] as const));
  const beside = pairs.filter(([one, other]) => Math.abs(one - other) === 1);
  const meant = beside.length > 0 ? beside : pairs;
  if (meant.length > 1) {
    const all = meant
      .map(([one, other]) => `${stopTag(stops[one], tag)}..${stopTag(stops[other], tag)}`)
      .join(say` or `);
    const reason =
      beside.length > 0
        ? say`beside one another more than once: say ${all}`
        : say`on its way more than once: say ${all}`;
    refuse("ambiguous", say`${tag} has ${from.tag} and ${to.tag} ${reason}.`, [
      { field: "between", record: tag, reason: say`are ${reason}` },
    ]);
  }
  const [one, other] = meant[0] as readonly [number, number];
  const turned = one > other;
  const [first, last] = [Math.min(one, other), Math.max(one, other)];
  return {
    ...asked,
    ...around(cable, stops[first] as Along, stops[last] as Along),
    metres: null,
    along: asked.metres === null ? null : { metres: asked.metres, of: null, from_far_end: turned },
    ...(turned ? { lost_left_m: asked.lost_right_m, lost_right_m: asked.lost_left_m } : {}),
  };
}

interface Along extends SheathStop {
  readonly space_id: number | null;
}

const alongOf = ({ sheath, stops }: CableFacts): Along[] =>
  sheath
    .stopsBetween(stops[0]?.id ?? null, stops.at(-1)?.id ?? null)
    .map((stop, index) => ({ ...stop, space_id: stops[index]?.space_id ?? null }));

const isPlace = ({ kind, space_id }: Along): boolean => kind !== "severed" || space_id !== null;

/** A cut that waits in the middle of a way is no place. */
const stopsOf = (cable: CableFacts): Along[] => alongOf(cable).filter(isPlace);

/** The stops beside the cut: the two, or, where one cut is on record between them, those beside that one. */
function around(cable: CableFacts, first: Along, last: Along): Pick<MendAsked, "after" | "until"> {
  const { tag } = cable.ref;
  const all = alongOf(cable);
  const [from, to] = [all.findIndex(({ id }) => id === first.id), all.findIndex(({ id }) => id === last.id)];
  const cuts = all.flatMap((stop, index) => (from < index && index < to && !isPlace(stop) ? [index] : []));
  const [only = 0] = cuts;
  if (cuts.length === 1) return { after: stopTag(all[only - 1], tag), until: null };
  const beside = to - from - cuts.length === 1;
  return { after: stopTag(first, tag), until: beside ? null : stopTag(last, tag) };
}

const stopTag = (stop: SheathStop | undefined, tag: string): string => `${tag}@${stop?.ordinal}`;

const named = (reader: Reader, text: string): Promise<RecordRef> =>
  pick(reader, text, { kinds: ["space", "stop"], field: "between" });

function placesOn(stops: readonly Along[], { kind, id, tag: place }: RecordRef, tag: string): number[] {
  const found = stops.flatMap((stop, index) => ((kind === "stop" ? stop.id : stop.space_id) === id ? [index] : []));
  if (found.length > 0) return found;
  const reason = say`is no place of ${tag}, which comes by ${stops.map((stop) => stop.place).join(", ")}`;
  return refuse("bad_input", `${place} ${reason}.`, [{ field: "between", record: place, reason }]);
}
