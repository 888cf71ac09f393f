/** A plan as people read it: places by name, lengths to the millimetre, and what it rests on in words. */
import { formatLength } from "../model/units.ts";
import type { RecordRef } from "../trace/answer.ts";
import { plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { MendAnswerPlan, MendPlace, MendSide, MendStrand } from "./answer.ts";
import { atPanel, type Cut, liesOnGround } from "./course.ts";
import { loopsOf, loopsToProve } from "./loop-told.ts";
import { insideOf, legOf, lengthOf, type Stretch } from "./place-cut.ts";
import { laidAnew, NEW_HOLE, pieceBetween } from "./plan.ts";
import type { MendPlan, MendPoint } from "./plans.ts";
import { type HeldCourse, pullWords } from "./pulls.ts";
import type { CourseOnRecord } from "./read-course.ts";
import type { Remain } from "./remain.ts";
import { splicingOf } from "./splices.ts";
import { formOf, NO_WAY, ONCE } from "./ways.ts";

export const millimetre = (value: number): number => Math.round(value * 1000) / 1000;
export const metres = (value: number): string => formatLength(value, "m", 1);

/** Metres of way that a new hole lies beyond the cut, before it negative; 0 where it is at it, and for any other place. */
export function besideCut({ at, hole_m }: Pick<MendPoint, "at" | "hole_m">, cut: Pick<Cut, "at_m">): number {
  const beyond_m = at === "cut" ? (hole_m ?? cut.at_m) - cut.at_m : 0;
  return Math.abs(beyond_m) < 0.05 ? 0 : beyond_m;
}

/** A splice point by name; a new hole by how much nearer it is to one of the places about it than the cut. */
export function pointWords(
  { at, hole_m }: Pick<MendPoint, "at" | "hole_m">,
  on: CourseOnRecord,
  cut: Pick<Cut, "at_m">,
): string {
  if (at !== "cut") return on.stops[at]?.name ?? say`a place not known`;
  const beyond_m = besideCut({ at, hole_m }, cut);
  if (beyond_m === 0) return say`a new hole at the cut`;
  const nearer = on.stops[legOf(on, cut) + (beyond_m < 0 ? 0 : 1)]?.name ?? say`a place not known`;
  return say`a new hole ${metres(Math.abs(beyond_m))} nearer to ${nearer} than the cut`;
}

const isPanel = ({ course }: CourseOnRecord, at: MendPoint["at"]): boolean => {
  const stop = at === "cut" ? undefined : course.stops[at];
  return stop !== undefined && atPanel(stop);
};

/** Where the piece of a plan is landed, of the ends of the cable. */
const endOf = ({ landed }: MendPlan, { stops }: CourseOnRecord): number => (landed === "left" ? 0 : stops.length - 1);

export const shortWords = ({ stops }: CourseOnRecord, left_m: number, right_m: number): string =>
  [
    left_m > 0 ? say`${metres(left_m)} on the side of ${stops[0]?.name ?? say`its first stop`}` : "",
    right_m > 0 ? say`${metres(right_m)} on the side of ${stops.at(-1)?.name ?? say`its last stop`}` : "",
  ]
    .filter(Boolean)
    .join(say` and `);

export interface Telling {
  readonly tag: string;
  readonly on: HeldCourse;
  readonly cut: Cut;
  readonly order: readonly MendStrand[];
}

export function told(plan: MendPlan, { tag, on, cut, order }: Telling): MendAnswerPlan {
  const wordsOf = (point: MendPoint): string => pointWords(point, on, cut);
  const points = plan.points.map((point): MendPlace => {
    const { at, hole_m, work_m, held } = point;
    const stop = on.course.stops[at === "cut" ? -1 : at];
    return {
      place: at === "cut" ? null : (on.stops[at]?.place ?? null),
      words: wordsOf(point),
      work_m,
      at_m: millimetre(stop ? stop.left_m + stop.through_m / 2 : (hole_m ?? cut.at_m)),
      held,
    };
  });
  const end = on.stops[endOf(plan, on)];
  const landed: MendPlace | null =
    plan.landed && end
      ? {
          place: end.place,
          words: end.name,
          work_m: on.course.stops[endOf(plan, on)]?.work_m ?? 0,
          at_m: millimetre(on.course.stops[endOf(plan, on)]?.left_m ?? 0),
          held: true,
          ...(plan.landed_in_case ? { in_case: true } : {}),
        }
      : null;
  const side = (remain: Remain, from: RecordRef | null): MendSide => ({
    from,
    lack_m: millimetre(remain.lack_m),
    trimmed_m: millimetre(remain.trimmed_m),
    over_m: millimetre(remain.over_m),
    needless_m: millimetre(remain.needless_m ?? 0),
    kept_m: millimetre(Math.max(0, -remain.lack_m)),
    pulls: remain.drawn.map(({ stop, pulled_m, left_m }) => ({
      stop: on.stops[stop]?.stop as RecordRef,
      place: on.stops[stop]?.place ?? null,
      pulled_m: millimetre(pulled_m),
      left_m: millimetre(left_m),
    })),
  });
  const legs = [
    ...plan.left.unproven.map((leg) => ({ leg, side: "left" as const })),
    ...plan.right.unproven.map((leg) => ({ leg, side: "right" as const })),
  ].sort((a, b) => a.leg - b.leg);
  const unknown = [...new Set([...plan.left.unknown, ...plan.right.unknown])];
  const slides = [
    ...new Set(
      legs.map(
        ({ leg, side }) =>
          say`whether the cable slides between ${on.stops[leg]?.name} and ${on.stops[leg + 1]?.name}${pullWords(on.pulls[leg], side)}`,
      ),
    ),
  ];
  const remains = [
    ...slides,
    ...unknown.map((stop) =>
      plan.kind === "new_cable" || (plan.landed !== null && plan[plan.landed].unknown.includes(stop))
        ? say`${unknownCoil(on, stop)}: nothing is reckoned for it`
        : say`${unknownCoil(on, stop)}: nothing is taken`,
    ),
  ];
  const loops = plan.dark_only ? loopsToProve(plan, on) : null;
  const sizes = plan.points.flatMap((point) =>
    point.unproven.map((what) => (point.at === "cut" ? what : say`${what} at ${wordsOf(point)}`)),
  );
  const to_prove = [...(loops ?? remains), ...sizes];
  return {
    kind: plan.kind,
    sentence: planSentence(
      plan,
      points,
      plan.points.map(({ at }) => isPanel(on, at)),
      landed,
      waitWords(on, cut),
      plan.points[0] !== undefined && besideCut(plan.points[0], cut) !== 0,
      laidAnew(plan, on.course) ? [on.stops[0]?.name ?? "", on.stops.at(-1)?.name ?? ""] : null,
    ),
    points,
    landed,
    sides: [
      ...(plan.dark_only || plan.kind === "new_cable" || plan.landed === "left"
        ? []
        : [side(plan.left, on.stops[0]?.place ?? on.stops[0]?.stop ?? null)]),
      ...(plan.dark_only || plan.kind === "new_cable" || plan.landed === "right"
        ? []
        : [side(plan.right, on.stops.at(-1)?.place ?? on.stops.at(-1)?.stop ?? null)]),
    ],
    loops: loopsOf(plan, on),
    new_cable_m: millimetre(plan.new_cable_m),
    bare: bareWords(plan, on, legOf(on, cut)),
    joints: plan.joints,
    new_holes: plan.new_holes,
    pulled_m: millimetre(plan.pulled_m),
    to_prove,
    // In a hole dug for both remains there is as much room as is wanted.
    rests_on: [...(loops ?? slides), ...sizes.filter((what) => what !== NEW_HOLE || plan.kind !== "one_point")],
    waits_for_pipe: plan.waits_for_pipe,
    splicing: splicingOf(plan.kind, points, order, tag, plan.landed),
  };
}

/** What a plan waits for by what the cable lies in at the break. */
/** What nobody knows of the coil there: how much, or only how an opening parts it. */
function unknownCoil({ stops, course }: CourseOnRecord, at: number): string {
  const [name, both_m] = [stops[at]?.name, course.stops[at]?.both_coils_m];
  return both_m === undefined
    ? say`what is coiled at ${name}`
    : say`on which side of its opening at ${name} the ${metres(both_m)} there are coiled`;
}

const waitWords = (on: CourseOnRecord, cut: Cut): string => `, ${ONCE[formOf(on.ways[legOf(on, cut)] ?? NO_WAY)]}`;

function planSentence(
  plan: MendPlan,
  points: readonly MendPlace[],
  ends: readonly boolean[],
  landed: MendPlace | null,
  wait: string,
  beside: boolean,
  over_ground: readonly [string, string] | null,
): string {
  const pulled = plan.pulled_m >= 0.05 ? say`${metres(plan.pulled_m)} pulled from coils` : say`nothing pulled`;
  const after = plan.waits_for_pipe ? wait : "";
  const where = points.map(({ words, held }, index) =>
    plan.points[index]?.loop?.reaches === "opened"
      ? say`${words} in the case there`
      : held
        ? say`${words} beside the ${ends[index] ? say`panel` : say`case`} there`
        : words,
  );
  if (plan.dark_only && landed?.in_case)
    return say`The dark strands alone cut and spliced, at ${where[0]}, and ${metres(millimetre(plan.new_cable_m))} of new cable from there to ${landed.words}, spliced in the case there in their place; the others run on whole, ${pulled}${after}.`;
  if (plan.dark_only && landed)
    return say`The dark strands alone cut and spliced, at ${where[0]}, and ${metres(millimetre(plan.new_cable_m))} of new cable from there to ${landed.words}, landed there in their place; the others run on whole, ${pulled}${after}.`;
  if (plan.dark_only)
    return say`The dark strands alone cut and spliced, at ${where.join(say` and `)}, with ${metres(millimetre(plan.new_cable_m))} of new cable between; the others run on whole, ${pulled}${after}.`;
  if (plan.kind === "one_point") return say`One splice at ${where[0]}, ${pulled}, no new cable${after}.`;
  if (plan.kind === "to_end") {
    if (landed?.in_case)
      return say`One splice at ${where[0]}, and ${metres(millimetre(plan.new_cable_m))} of new cable from there to ${landed.words}, spliced in the case there in the place of the old; the dead piece is taken out, ${pulled}${after}.`;
    return say`One splice at ${where[0]}, and ${metres(millimetre(plan.new_cable_m))} of new cable from there to ${landed?.words}, landed in the place of the old; the dead piece is taken out, ${pulled}${after}.`;
  }
  if (plan.kind === "two_points") {
    // "Than the cut" of the first isn't to be read on to the second.
    const both = beside ? say`${where[0]}, and ${where[1]}` : where.join(say` and `);
    return say`Two splices, at ${both}, with ${metres(millimetre(plan.new_cable_m))} of new cable between, ${pulled}${after}.`;
  }
  if (over_ground)
    return say`For the time being ${metres(millimetre(plan.new_cable_m))} of new cable over the ground again, from ${over_ground[0]} to ${over_ground[1]} in the place of the old, guarded${after}.`;
  return say`A new cable of ${metres(millimetre(plan.new_cable_m))} from end to end${after}.`;
}

/**
 * Places that a piece passes: it is ordered as long as its way and what its splices take, so that nothing of it is coiled
 * there. Null where it passes none.
 */
export function bareWords(plan: MendPlan, { course, stops }: CourseOnRecord, before: number): string | null {
  if (plan.kind !== "two_points") return null;
  const [from, to] = pieceBetween(plan, before, stops.length - 1);
  const passed = course.stops.flatMap((stop, at) => (at > from && at < to && stop.kind === "passing" ? [at] : []));
  if (passed.length === 0) return null;
  const names = passed.map((at) => stops[at]?.name ?? say`a place not known`).join(", ");
  const keep_m = passed.reduce((sum, at) => sum + (course.stops[at]?.keep_m ?? 0), 0);
  return keep_m < 0.05
    ? say`no coil of it is reckoned at ${names}, which it passes`
    : say`no coil of it is reckoned at ${names}, which it passes: with what the plant keeps in each place it takes ${metres(keep_m)} more`;
}

/** A way without its figures, which differ by where it is cut. */
export function wayWords(plan: MendPlan, on: CourseOnRecord): string {
  if (plan.kind === "new_cable")
    return laidAnew(plan, on.course) ? say`New cable over the ground again` : say`A new cable from end to end`;
  const where = plan.points.map(({ at, held }) => {
    const name = at === "cut" ? say`a new hole at the cut` : pointWords({ at, hole_m: null }, on, { at_m: 0 });
    return held && at !== "cut" ? say`${name} beside the ${isPanel(on, at) ? say`panel` : say`case`} there` : name;
  });
  if (plan.kind === "one_point") return say`One splice at ${where[0]}`;
  if (plan.dark_only && plan.landed !== null)
    return say`The dark strands alone, at ${where[0]}, and new cable from there to ${on.stops[endOf(plan, on)]?.name}`;
  if (plan.dark_only) return say`The dark strands alone, at ${where.join(say` and `)}, with new cable between`;
  if (plan.kind === "two_points") return say`Two splices, at ${where.join(say` and `)}, with new cable between`;
  return say`One splice at ${where[0]}, and new cable from there to ${on.stops[endOf(plan, on)]?.name}`;
}

/** How many circuits a cut takes down, in words; those that aren't in service yet are told apart. */
export function downWords(strands: number, circuits: number, not_in_service: number): string {
  if (strands === 0) return say`none of its strands is on record, so nobody knows what is down`;
  const later = not_in_service === 0 ? "" : say`; ${not_in_service} planned or reserved would run over it`;
  if (circuits === 0) return say`no circuit ${later === "" ? say`is on it` : say`in service is on it`}${later}`;
  return plural(circuits, "{0} circuit is down{1}", "{0} circuits are down{1}", later);
}

/** Where it is cut; of a cut in a place that its coil goes with it. */
function whereWords(tag: string, on: CourseOnRecord, { cut, mark, stretch, apart_m }: WhereCut): string {
  if (stretch) {
    const [a, b] = stretch.map((at) => on.stops[at]?.name);
    const length = metres(lengthOf(on, stretch));
    const passed = on.stops.slice(stretch[0] + 1, stretch[1]).map(({ name }) => name);
    return passed.length > 0
      ? say`${tag} is cut somewhere on the ${length} between ${a} and ${b}, on which it comes by ${passed.join(", ")}`
      : say`${tag} is cut somewhere on the ${length} between ${a} and ${b}`;
  }
  const between = legOf(on, cut);
  const inside = insideOf(on, cut);
  if (inside !== null) {
    const at = mark === null ? "" : say` at mark ${mark}`;
    return say`${tag} is cut inside ${on.stops[inside]?.name}${at}, where what is coiled is taken as lost`;
  }
  const [a, b] = [on.stops[between]?.name, on.stops[between + 1]?.name];
  if (apart_m !== null) return say`${tag} is cut twice between ${a} and ${b}, ${metres(apart_m)} apart`;
  return say`${tag} is cut between ${a} and ${b}`;
}

export interface WhereCut {
  readonly cut: Cut;
  /** What was read at the cut. */
  readonly mark: number | null;
  /** Nobody knows where between these two stops. */
  readonly stretch: Stretch | null;
  /** Metres from the place asked for to another cut on record, where both are mended as one. */
  readonly apart_m: number | null;
  /** Who else the cable belongs to, as a sentence. */
  readonly owner: string | null;
}

interface Reckoned {
  readonly cut: Cut;
  readonly somewhere: Pick<WhereCut, "stretch"> | null;
  readonly both: { readonly apart_m: number } | null;
  readonly theirs: { readonly words: string } | null;
}

export const whereOf = ({ cut, somewhere, both, theirs }: Reckoned, mark: number | null): WhereCut => ({
  cut,
  mark,
  stretch: somewhere?.stretch ?? null,
  apart_m: both?.apart_m ?? null,
  owner: theirs?.words ?? null,
});

export function sentence(
  tag: string,
  on: CourseOnRecord,
  cut: WhereCut,
  plans: readonly MendAnswerPlan[],
  hit: string,
): string {
  const where = `${cut.owner === null ? "" : `${cut.owner}. `}${whereWords(tag, on, cut)}`;
  if (cut.owner !== null) return `${where}: ${hit}.`;
  const [best] = plans;
  if (!best || (best.kind === "new_cable" && !liesOnGround(on.course)))
    return say`${where}: ${hit}. No coil reaches: ${best?.sentence ?? say`nothing can be planned.`}`;
  const proof = best.to_prove.some((what) => what !== NEW_HOLE) ? say` It is to be proved first.` : "";
  const all = cut.stretch ? say`ways that hold wherever on it that is` : say`ways to mend it`;
  return say`${where}: ${hit}. Best of ${plans.length} ${all}: ${best.sentence}${proof}`;
}
