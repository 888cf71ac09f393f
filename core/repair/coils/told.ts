/** The study of one cable as people read it: places by name, lengths in words, and what would cure each stretch. */
import type { RecordRef } from "../../trace/answer.ts";
import { listed } from "../../words/phrase.ts";
import { say } from "../../words/say.ts";
import type { MendCircuit } from "../answer.ts";
import { atPanel, type CourseLeg } from "../course.ts";
import { legOf, markAt, mouthOf } from "../place-cut.ts";
import type { MendPolicy } from "../plans.ts";
import { mendPlans } from "../plans.ts";
import type { HeldCourse } from "../pulls.ts";
import type { CourseOnRecord, StopOnCourse } from "../read-course.ts";
import type { Point } from "../remain.ts";
import { metres, millimetre, pointWords, shortWords } from "../told.ts";
import type { CoilsCable, CoilsCure, CoilsLine, CoilsMore, CoilsSpot, CoilsStretch } from "./answer.ts";
import type { Stretch } from "./cover.ts";
import type { NearlySet } from "./nearly.ts";
import { insteadOf, type OpenCourse, type OpenStretch } from "./open.ts";
import type { Lost } from "./pieces.ts";
import type { SmallestSet } from "./smallest.ts";
import type { Stakes } from "./stake.ts";
import { lookWords, unknownFor, untoldWords } from "./untold.ts";

export interface Reckoning {
  readonly lost: Lost;
  readonly policy: MendPolicy;
  /** Fewer coils that come near are told as well: of one cable that is asked about. */
  readonly nearly?: boolean;
}

/** One part of a cable; a cable without a gap is its own one. */
export interface PartStudied {
  readonly on: HeldCourse;
  readonly open: OpenCourse;
  /** Place of its first stop among all stops of the cable. */
  readonly first: number;
}

/** Where a part begins as the parts of its cable follow one another. */
export interface PartPlaced extends PartStudied {
  readonly from_m: number;
}

export function placed(parts: readonly PartStudied[]): PartPlaced[] {
  let from_m = 0;
  return parts.map((part) => {
    const own = { ...part, from_m };
    from_m += lineEnd(part.on);
    return own;
  });
}

const lineEnd = ({ course }: CourseOnRecord): number =>
  (course.stops.at(-1)?.left_m ?? 0) + (course.stops.at(-1)?.through_m ?? 0);

/** @param stopIds all stops of the cable in order */
export function toldCable(
  cable: RecordRef,
  parts: readonly PartPlaced[],
  parts_untold: readonly string[],
  stopIds: readonly number[],
  stakes: Stakes,
  by: Reckoning,
): CoilsCable {
  const stretches = parts.flatMap((part) =>
    part.open.stretches.map((one) => toldStretch(cable, part, stopIds, one, stakes, by)),
  );
  const legs = parts.flatMap(({ on, open, first }) =>
    open.stretches
      .filter(({ state }) => state !== "untold")
      .flatMap((one) => legsOf(on, one).map((leg) => first + leg)),
  );
  const all = stakes.on(cable.id, stopIds, new Set(legs));
  const length = (state: OpenStretch["state"]): number =>
    millimetre(
      parts
        .flatMap(({ open }) => open.stretches)
        .filter((one) => one.state === state)
        .reduce((sum, one) => sum + one.to_m - one.from_m, 0),
    );
  const later = parts.some(({ open }) => open.once_proven !== null);
  const near = (open: OpenCourse, once: boolean): NearlySet | null => (by.nearly ? open.nearly(once) : null);
  return {
    cable,
    asked_m: millimetre(parts.reduce((sum, { open }) => sum + open.asked_m, 0)),
    lacks_m: length("lacks"),
    to_prove_m: length("to_prove"),
    untold_m: length("untold"),
    strands: stakes.strandsOf(cable.id),
    strands_in_service: all.strands_in_service,
    circuits: all.circuits,
    mark_unit: parts[0]?.on.unit ?? null,
    stretches,
    cure: together(parts.map(({ on, open }) => toldCure(on, open.proven, [], near(open, false)))),
    cure_once_proven: later
      ? together(
          parts.map(({ on, open }) =>
            open.once_proven
              ? toldCure(on, open.once_proven, unprovenLegs(on), near(open, true))
              : toldCure(on, open.proven, [], near(open, false)),
          ),
        )
      : null,
    assumed: [...new Set(parts.flatMap(({ on }) => [...on.stuck, ...on.assumed]))],
    parts: parts.length + parts_untold.length,
    parts_untold,
  };
}

/** Legs that a stretch touches, by the stops they begin at. */
const legsOf = ({ course }: CourseOnRecord, { from_m, to_m }: { from_m: number; to_m: number }): number[] =>
  course.legs.flatMap((_, leg) => {
    const [a, b] = [course.stops[leg], course.stops[leg + 1]];
    return a && b && from_m < b.left_m + b.through_m && to_m > a.left_m ? [leg] : [];
  });

const legWords = (on: CourseOnRecord, leg: number): string =>
  say`between ${on.stops[leg]?.name} and ${on.stops[leg + 1]?.name}`;

const unprovenLegs = (on: CourseOnRecord): string[] =>
  on.course.legs.flatMap(({ slides, slides_back = slides }, leg) =>
    slides === "unproven" || slides_back === "unproven" ? [legWords(on, leg)] : [],
  );

/** Parts of a cable share no stop, so that what cures each cures all. */
function together(cures: readonly CoilsCure[]): CoilsCure {
  const [only] = cures;
  if (only && cures.length === 1) return only;
  return {
    coils: cures.flatMap(({ coils }) => coils),
    more_m: millimetre(cures.reduce((sum, { more_m }) => sum + more_m, 0)),
    exact: cures.every(({ exact }) => exact),
    to_prove: cures.flatMap(({ to_prove }) => to_prove),
    left_open_m: millimetre(cures.reduce((sum, { left_open_m }) => sum + left_open_m, 0)),
    nearly: cures.some(({ nearly }) => nearly !== null)
      ? nearlyTold(
          cures.flatMap(({ coils, nearly }) => nearly?.coils ?? coils),
          cures.reduce((sum, { left_open_m, nearly }) => sum + (nearly?.left_open_m ?? left_open_m), 0),
        )
      : null,
  };
}

/** @param from_m where the part begins */
function spotAt(on: CourseOnRecord, at_m: number, from_m: number): CoilsSpot {
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
    at_m: millimetre(from_m + at_m),
    stop,
    place,
    beyond_m: millimetre(beyond_m),
    words: beyond_m < 0.05 ? name : say`${metres(beyond_m)} beyond ${name}`,
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
    leg: legOf(on, { at_m: (from_m + to_m) / 2 }),
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
  { on, open, first, from_m }: PartPlaced,
  stopIds: readonly number[],
  one: OpenStretch,
  stakes: Stakes,
  by: Reckoning,
): CoilsStretch {
  const cut = cutIn(on, one);
  const stake = stakes.on(cable.id, stopIds, new Set(legsOf(on, one).map((leg) => first + leg)));
  const before = on.stops[cut.leg] as StopOnCourse;
  const once = on.stops.filter(({ place }) => place !== null && place.id === before.place?.id).length === 1;
  return {
    from: spotAt(on, one.from_m, from_m),
    to: spotAt(on, one.to_m, from_m),
    length_m: millimetre(one.to_m - one.from_m),
    state: one.state,
    why: whyOf(on, one, by),
    cure: cureOf(on, one, by, open.unbounded),
    circuits: stake.circuits satisfies readonly MendCircuit[],
    strands_in_service: stake.strands_in_service,
    cut: {
      after: (once ? before.place?.tag : null) ?? before.stop.tag,
      mark: markAt(on, { at_m: cut.at_m, lost_left_m: 0, lost_right_m: 0 }, cut.leg),
    },
  };
}

function whyOf(on: CourseOnRecord, one: OpenStretch, by: Reckoning): string {
  if (one.state === "untold") return untoldWords(unknownFor(on, one, by));
  if (one.state === "to_prove") {
    const legs = provenBy(on, one, by);
    return say`a splice reaches only if the cable slides ${listed(legs.length > 0 ? legs : unprovenLegs(on))}, which nobody has proven`;
  }
  if (!one.nearest) return say`no place beside it takes a splice`;
  const { at, short_left_m, short_right_m } = one.nearest;
  const cut = { at_m: (one.from_m + one.to_m) / 2 };
  return say`in its middle the nearest splice, ${besideWords(at, on)} ${pointWords(one.nearest, on, cut)}, lacks ${shortWords(on, short_left_m, short_right_m)}`;
}

const HELD = {
  end: say`beside the panel at`,
  opened: say`beside the case at`,
  severed: say`beside the cut end at`,
  passing: say`at`,
};

function besideWords(at: Point, { course }: CourseOnRecord): string {
  const stop = at === "cut" ? undefined : course.stops[at];
  if (stop === undefined) return say`at`;
  return stop.kind === "end" && !atPanel(stop) ? HELD.opened : HELD[stop.kind];
}

/** What the best plan in the middle of a stretch has to prove. */
function provenBy(on: CourseOnRecord, { from_m, to_m }: OpenStretch, { lost, policy }: Reckoning): string[] {
  const cut = { at_m: (from_m + to_m) / 2, lost_left_m: lost.left_m, lost_right_m: lost.right_m };
  const found = mendPlans(on.course, cut, policy);
  const plan = typeof found === "string" ? undefined : found.plans.find(({ kind }) => kind === "one_point");
  const legs = new Set([...(plan?.left.unproven ?? []), ...(plan?.right.unproven ?? [])]);
  return [...legs].sort((a, b) => a - b).map((leg) => legWords(on, leg));
}

function cureOf(on: CourseOnRecord, one: OpenStretch, by: Reckoning, longest: SmallestSet | null): string {
  const { lost, policy } = by;
  if (one.state === "untold") return lookWords(unknownFor(on, one, by));
  if (one.state === "to_prove") return say`find out whether it slides there`;
  if (one.by_coils === "proven") return say`more coil, as below`;
  if (one.by_coils === "once_proven") return say`more coil, as below, once it is proven that the cable slides`;
  const instead = insteadOf(on.course, lost, policy, (one.from_m + one.to_m) / 2);
  const than = one.too_long ? tooLong(on, longest) : null;
  if (instead.kind === "hole") {
    const names = instead.stops.map((stop) => on.stops[stop]?.name ?? "");
    const where = names.length === 2 ? say`between ${listed(names)}` : say`close to ${listed(names)}`;
    return say`${than ?? say`no coil there cures it`}: it takes a hole with a coil ${where}, or two cases with a piece of new cable between`;
  }
  const stuck = instead.legs.map((leg) => legWords(on, leg));
  const slides = say`the cable can slide ${listed(stuck)}`;
  return than === null
    ? say`no coil cures it unless ${slides}`
    : say`${than}: it takes a hole nearer by, or two cases with a piece of new cable between, unless ${slides}`;
}

/** Which coils would be longer than their places are to hold. */
function tooLong(on: CourseOnRecord, set: SmallestSet | null): string | null {
  const over = (set?.coils ?? []).flatMap(({ stop, more_m }) => {
    const own = on.course.stops[stop];
    const all_m = (own?.coil_left_m ?? 0) + more_m;
    const most_m = own?.coil_most_m;
    return most_m === undefined || all_m <= most_m
      ? []
      : [say`${metres(all_m)} long at ${on.stops[stop]?.name}, which is to hold ${metres(most_m)} at most`];
  });
  return over.length === 0 ? null : say`not curable by coils, for one would have to be ${listed(over)}`;
}

/** Rounded up, so that what is said is enough. */
const tenthUp = (length: number): number => Math.ceil(length * 10 - 1e-6) / 10;

function toldCure(
  on: CourseOnRecord,
  set: SmallestSet,
  to_prove: readonly string[],
  nearly: NearlySet | null,
): CoilsCure {
  const coils = toldCoils(on, set.coils);
  const barred_m = lengthOf(set.barred);
  return {
    coils,
    more_m: moreOf(coils),
    exact: set.exact,
    to_prove,
    left_open_m: millimetre(barred_m),
    nearly: nearly && nearlyTold(toldCoils(on, nearly.coils), barred_m + lengthOf(nearly.open)),
  };
}

const lengthOf = (list: readonly Stretch[]): number => list.reduce((sum, one) => sum + one.to_m - one.from_m, 0);
const moreOf = (coils: readonly CoilsMore[]): number => millimetre(coils.reduce((sum, { more_m }) => sum + more_m, 0));

const toldCoils = (on: CourseOnRecord, coils: SmallestSet["coils"]): CoilsMore[] =>
  coils.map(({ stop, more_m }) => {
    const { stop: ref, place, name } = on.stops[stop] as StopOnCourse;
    const holds_m = on.course.stops[stop]?.coil_left_m ?? null;
    return {
      stop: ref,
      place,
      words: name,
      holds_m: holds_m === null ? null : millimetre(holds_m),
      most_m: on.course.stops[stop]?.coil_most_m ?? null,
      more_m: tenthUp(more_m),
    };
  });

function nearlyTold(coils: readonly CoilsMore[], open_m: number): NonNullable<CoilsCure["nearly"]> {
  const more_m = moreOf(coils);
  const each = listed(coils.map(({ words, more_m: own_m }) => say`${words} +${metres(own_m)}`));
  return {
    coils,
    more_m,
    left_open_m: millimetre(open_m),
    words: say`Nearly as much is cured by fewer: ${each}, ${metres(more_m)} in all, leave ${metres(open_m)} of way open.`,
  };
}

/** The cable's parts one after the other, and where a gap lies between two. */
export function lineOf(parts: readonly PartPlaced[]): CoilsLine {
  const last = parts.at(-1);
  return {
    end_m: last ? last.from_m + lineEnd(last.on) : 0,
    stops: parts.flatMap(({ on: { course, stops }, from_m }) =>
      course.stops.map(({ kind, left_m, through_m, coil_left_m, coil_right_m }, at) => {
        const { stop, place, name } = stops[at] as StopOnCourse;
        return { stop, place, words: name, kind, left_m: from_m + left_m, through_m, coil_left_m, coil_right_m };
      }),
    ),
    legs: parts.flatMap(({ on: { course } }, index): CourseLeg[] => [
      ...(index > 0 ? [{ length_m: 0, slides: "no" as const }] : []),
      ...course.legs,
    ]),
    gaps_m: parts.slice(1).map(({ from_m }) => from_m),
  };
}
