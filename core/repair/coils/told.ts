/** The study of one cable as people read it: places by name, lengths in words, and what would cure each stretch. */
import type { RecordRef } from "../../trace/answer.ts";
import type { MendCircuit } from "../answer.ts";
import { legOf, markAt, mouthOf } from "../place-cut.ts";
import type { MendPolicy } from "../plans.ts";
import { mendPlans } from "../plans.ts";
import type { HeldCourse } from "../pulls.ts";
import type { CourseOnRecord, StopOnCourse } from "../read-course.ts";
import { metres, millimetre, pointWords, shortWords } from "../told.ts";
import type { CoilsCable, CoilsCure, CoilsLine, CoilsSpot, CoilsStretch } from "./answer.ts";
import { insteadOf, type OpenCourse, type OpenStretch } from "./open.ts";
import type { Lost } from "./pieces.ts";
import type { SmallestSet } from "./smallest.ts";
import type { Stakes } from "./stake.ts";

export interface Reckoning {
  readonly lost: Lost;
  readonly policy: MendPolicy;
}

export function toldCable(
  cable: RecordRef,
  on: HeldCourse,
  open: OpenCourse,
  stakes: Stakes,
  by: Reckoning,
): CoilsCable {
  const stopIds = on.stops.map(({ stop }) => stop.id);
  const stretches = open.stretches.map((one) => toldStretch(cable, on, one, stakes, by));
  const bad = open.stretches.filter(({ state }) => state !== "untold");
  const all = stakes.on(cable.id, stopIds, new Set(bad.flatMap((one) => legsOf(on, one))));
  const length = (state: OpenStretch["state"]): number =>
    millimetre(
      open.stretches.filter((one) => one.state === state).reduce((sum, one) => sum + one.to_m - one.from_m, 0),
    );
  return {
    cable,
    asked_m: millimetre(open.asked_m),
    lacks_m: length("lacks"),
    to_prove_m: length("to_prove"),
    untold_m: length("untold"),
    strands: stakes.strandsOf(cable.id),
    strands_in_service: all.strands_in_service,
    circuits: all.circuits,
    mark_unit: on.unit,
    stretches,
    cure: toldCure(on, open.proven, []),
    cure_once_proven: open.once_proven && toldCure(on, open.once_proven, unprovenLegs(on)),
    assumed: [...on.stuck, ...on.assumed],
  };
}

/** Legs that a stretch touches, by the stops they begin at. */
const legsOf = ({ course }: CourseOnRecord, { from_m, to_m }: { from_m: number; to_m: number }): number[] =>
  course.legs.flatMap((_, leg) => {
    const [a, b] = [course.stops[leg], course.stops[leg + 1]];
    return a && b && from_m < b.left_m + b.through_m && to_m > a.left_m ? [leg] : [];
  });

const legWords = (on: CourseOnRecord, leg: number): string =>
  `between ${on.stops[leg]?.name} and ${on.stops[leg + 1]?.name}`;

const listed = (words: readonly string[]): string =>
  words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} and ${words.at(-1)}`;

const unprovenLegs = (on: CourseOnRecord): string[] =>
  on.course.legs.flatMap(({ slides, slides_back = slides }, leg) =>
    slides === "unproven" || slides_back === "unproven" ? [legWords(on, leg)] : [],
  );

function spotAt(on: CourseOnRecord, at_m: number): CoilsSpot {
  const { stops } = on.course;
  const here = Math.max(
    0,
    stops.findLastIndex(({ left_m }) => left_m <= at_m + 0.0005),
  );
  const beyond_m = Math.max(0, at_m - mouthOf(on, here));
  const { stop, place, name } = on.stops[here] as StopOnCourse;
  const next = stops[here + 1];
  const inside = next !== undefined && beyond_m > 0 && at_m < next.left_m;
  return {
    at_m: millimetre(at_m),
    stop,
    place,
    beyond_m: millimetre(beyond_m),
    words: beyond_m < 0.05 ? name : `${metres(beyond_m)} beyond ${name}`,
    mark: inside ? markAt(on, { at_m, lost_left_m: 0, lost_right_m: 0 }, here) : mouthMark(on, here, at_m),
  };
}

/** The mark at a mouth of a place; within the place itself nobody says. */
function mouthMark({ course, stops }: CourseOnRecord, here: number, at_m: number): number | null {
  const stop = course.stops[here];
  if (!stop) return null;
  if (Math.abs(at_m - stop.left_m) < 0.01) return stops[here]?.in?.mark ?? null;
  return Math.abs(at_m - stop.left_m - stop.through_m) < 0.01 ? (stops[here]?.out?.mark ?? null) : null;
}

/** The middle of the longest leg in a stretch: a cut that has a mark, where marks are on record. */
function cutIn(on: CourseOnRecord, { from_m, to_m }: OpenStretch): { at_m: number; leg: number } {
  let best = {
    at_m: (from_m + to_m) / 2,
    leg: legOf(on, { at_m: (from_m + to_m) / 2, lost_left_m: 0, lost_right_m: 0 }),
  };
  let longest_m = 0;
  for (const [leg, { length_m }] of on.course.legs.entries()) {
    const mouth_m = mouthOf(on, leg);
    const [a, b] = [Math.max(from_m, mouth_m), Math.min(to_m, mouth_m + length_m)];
    if (b - a <= longest_m) continue;
    longest_m = b - a;
    best = { at_m: (a + b) / 2, leg };
  }
  return best;
}

function toldStretch(
  cable: RecordRef,
  on: CourseOnRecord,
  one: OpenStretch,
  stakes: Stakes,
  by: Reckoning,
): CoilsStretch {
  const cut = cutIn(on, one);
  const stake = stakes.on(
    cable.id,
    on.stops.map(({ stop }) => stop.id),
    new Set(legsOf(on, one)),
  );
  const before = on.stops[cut.leg] as StopOnCourse;
  const once = on.stops.filter(({ place }) => place !== null && place.id === before.place?.id).length === 1;
  return {
    from: spotAt(on, one.from_m),
    to: spotAt(on, one.to_m),
    length_m: millimetre(one.to_m - one.from_m),
    state: one.state,
    why: whyOf(on, one, by),
    cure: cureOf(on, one, by),
    circuits: stake.circuits satisfies readonly MendCircuit[],
    strands_in_service: stake.strands_in_service,
    cut: {
      after: (once ? before.place?.tag : null) ?? before.stop.tag,
      mark: markAt(on, { at_m: cut.at_m, lost_left_m: 0, lost_right_m: 0 }, cut.leg),
    },
  };
}

function whyOf(on: CourseOnRecord, one: OpenStretch, by: Reckoning): string {
  if (one.state === "untold") return `it hangs on what is coiled at ${listed(unknownCoils(on))}, which nobody knows`;
  if (one.state === "to_prove") {
    const legs = provenBy(on, one, by);
    return `a splice reaches only if the cable slides ${listed(legs.length > 0 ? legs : unprovenLegs(on))}, which nobody has proven`;
  }
  if (!one.nearest) return "no place beside it takes a splice";
  const { at, short_left_m, short_right_m } = one.nearest;
  return `in its middle the nearest splice, at ${pointWords(at, on)}, lacks ${shortWords(short_left_m, short_right_m)}`;
}

const unknownCoils = ({ course, stops }: CourseOnRecord): string[] =>
  stops.flatMap(({ name }, at) =>
    course.stops[at]?.coil_left_m == null || course.stops[at]?.coil_right_m == null ? [name] : [],
  );

/** What the best plan in the middle of a stretch has to prove. */
function provenBy(on: CourseOnRecord, { from_m, to_m }: OpenStretch, { lost, policy }: Reckoning): string[] {
  const cut = { at_m: (from_m + to_m) / 2, lost_left_m: lost.left_m, lost_right_m: lost.right_m };
  const found = mendPlans(on.course, cut, policy);
  const plan = typeof found === "string" ? undefined : found.plans.find(({ kind }) => kind === "one_point");
  const legs = new Set([...(plan?.left.unproven ?? []), ...(plan?.right.unproven ?? [])]);
  return [...legs].sort((a, b) => a - b).map((leg) => legWords(on, leg));
}

function cureOf(on: CourseOnRecord, one: OpenStretch, { lost, policy }: Reckoning): string {
  if (one.state === "untold") return "look what is coiled there";
  if (one.state === "to_prove") return "find out whether it slides there";
  if (one.by_coils === "proven") return "more coil, as below";
  if (one.by_coils === "once_proven") return "more coil, as below, once it is proven that the cable slides";
  const instead = insteadOf(on.course, lost, policy, (one.from_m + one.to_m) / 2);
  if (instead.kind === "hole") {
    const where = listed(instead.stops.map((stop) => on.stops[stop]?.name ?? ""));
    return `no coil there cures it: it takes a hole with a coil close to ${where}`;
  }
  const stuck = instead.legs.map((leg) => legWords(on, leg));
  return `no coil cures it unless the cable can slide ${listed(stuck)}`;
}

/** Rounded up, so that what is said is enough. */
const tenthUp = (length: number): number => Math.ceil(length * 10 - 1e-6) / 10;

function toldCure(on: CourseOnRecord, set: SmallestSet, to_prove: readonly string[]): CoilsCure {
  const coils = set.coils.map(({ stop, more_m }) => {
    const { stop: ref, place, name } = on.stops[stop] as StopOnCourse;
    const holds_m = on.course.stops[stop]?.coil_left_m ?? null;
    return {
      stop: ref,
      place,
      words: name,
      holds_m: holds_m === null ? null : millimetre(holds_m),
      more_m: tenthUp(more_m),
    };
  });
  return {
    coils,
    more_m: millimetre(coils.reduce((sum, { more_m }) => sum + more_m, 0)),
    exact: set.exact,
    to_prove,
    left_open_m: millimetre(set.barred.reduce((sum, { from_m, to_m }) => sum + to_m - from_m, 0)),
  };
}

export const lineOf = ({ course, stops }: CourseOnRecord): CoilsLine => ({
  end_m: (course.stops.at(-1)?.left_m ?? 0) + (course.stops.at(-1)?.through_m ?? 0),
  stops: course.stops.map(({ kind, left_m, through_m, coil_left_m, coil_right_m }, at) => {
    const { stop, place, name } = stops[at] as StopOnCourse;
    return { stop, place, words: name, kind, left_m, through_m, coil_left_m, coil_right_m };
  }),
  legs: course.legs,
});
