/** A plan as people read it: places by name, lengths to the millimetre, and what it rests on in words. */
import { formatLength } from "../model/units.ts";
import type { RecordRef } from "../trace/answer.ts";
import type { MendAnswerPlan, MendPlace, MendSide, MendStrand } from "./answer.ts";
import type { MendPlan } from "./plans.ts";
import { type HeldCourse, pullWords } from "./pulls.ts";
import type { CourseOnRecord } from "./read-course.ts";
import type { Point, Remain } from "./remain.ts";
import { splicingOf } from "./splices.ts";

export const millimetre = (value: number): number => Math.round(value * 1000) / 1000;
export const metres = (value: number): string => formatLength(value, "m", 1);

export const pointWords = (at: Point, on: CourseOnRecord): string =>
  at === "cut" ? "a new hole at the cut" : (on.stops[at]?.name ?? "a place not known");

export const shortWords = (left_m: number, right_m: number): string =>
  [
    left_m > 0 ? `${metres(left_m)} on the side of the first stop` : "",
    right_m > 0 ? `${metres(right_m)} on the side of the last` : "",
  ]
    .filter(Boolean)
    .join(" and ");

export interface Telling {
  readonly tag: string;
  readonly on: HeldCourse;
  readonly order: readonly MendStrand[];
}

export function told(plan: MendPlan, { tag, on, order }: Telling): MendAnswerPlan {
  const points = plan.points.map(
    ({ at, work_m }): MendPlace => ({
      place: at === "cut" ? null : (on.stops[at]?.place ?? null),
      words: pointWords(at, on),
      work_m,
    }),
  );
  const side = (remain: Remain, from: RecordRef | null): MendSide => ({
    from,
    lack_m: millimetre(remain.lack_m),
    trimmed_m: millimetre(remain.trimmed_m),
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
  const to_prove = [
    ...new Set(
      legs.map(
        ({ leg, side }) =>
          `whether the cable slides between ${on.stops[leg]?.name} and ${on.stops[leg + 1]?.name}${pullWords(on.pulls[leg], side)}`,
      ),
    ),
    ...unknown.map((stop) => `what is coiled at ${on.stops[stop]?.name}: nothing is taken`),
    ...plan.points.flatMap(({ at, unproven }) =>
      unproven.map((what) => (at === "cut" ? what : `${what} at ${pointWords(at, on)}`)),
    ),
  ];
  return {
    kind: plan.kind,
    sentence: planSentence(plan, points),
    points,
    sides:
      plan.kind === "new_cable"
        ? []
        : [side(plan.left, on.stops[0]?.place ?? null), side(plan.right, on.stops.at(-1)?.place ?? null)],
    new_cable_m: millimetre(plan.new_cable_m),
    joints: plan.joints,
    new_holes: plan.new_holes,
    pulled_m: millimetre(plan.pulled_m),
    to_prove,
    waits_for_pipe: plan.waits_for_pipe,
    splicing: splicingOf(plan.kind, points, order, tag),
  };
}

function planSentence(plan: MendPlan, points: readonly MendPlace[]): string {
  const pulled = plan.pulled_m > 0 ? `${metres(plan.pulled_m)} pulled from coils` : "nothing pulled";
  const wait = plan.waits_for_pipe ? ", once the pipe is mended" : "";
  if (plan.kind === "one_point") return `One splice at ${points[0]?.words}, ${pulled}, no new cable${wait}.`;
  if (plan.kind === "two_points") {
    return `Two splices, at ${points.map(({ words }) => words).join(" and ")}, with ${metres(plan.new_cable_m)} of new cable between, ${pulled}${wait}.`;
  }
  return `A new cable of ${metres(plan.new_cable_m)} from end to end${wait}.`;
}

export function sentence(
  tag: string,
  on: CourseOnRecord,
  before: number,
  half: boolean,
  plans: readonly MendAnswerPlan[],
  /** Null where none of its strands is on record. */
  circuits: number | null,
): string {
  const where = `${tag} is cut between ${on.stops[before]?.name} and ${on.stops[before + 1]?.name}${half ? ", taken as half-way" : ""}`;
  const hit =
    circuits === null
      ? "none of its strands is on record, so nobody knows what is down"
      : circuits === 0
        ? "no circuit is on it"
        : `${circuits} ${circuits === 1 ? "circuit is" : "circuits are"} down`;
  const [best] = plans;
  if (!best || best.kind === "new_cable")
    return `${where}: ${hit}. No coil reaches: ${best?.sentence ?? "nothing can be planned."}`;
  return `${where}: ${hit}. Best of ${plans.length} ways to mend it: ${best.sentence}`;
}
