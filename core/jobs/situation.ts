/** What was known when a mend was planned, kept with the job: the cut, the line with its coils, what is down. */

import type { NotBack } from "../repair/answer.ts";
import { hangsAt } from "../repair/course.ts";
import { legDoubtWords } from "../repair/doubtful.ts";
import type { Expected } from "../repair/expected.ts";
import { loopsOf } from "../repair/loop-told.ts";
import type { MendReckoned } from "../repair/mend.ts";
import type { MendPlan } from "../repair/plans.ts";
import { pointWords } from "../repair/told.ts";
import { formOf, NO_WAY, type WayForm } from "../repair/ways.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";

export interface SituationStop {
  readonly name: string;
  readonly place?: RecordRef | null;
  /** Metres of way from the first stop to its first mouth, and from mouth to mouth. */
  readonly at_m: number;
  readonly through_m: number;
  readonly mark_in: number | null;
  readonly mark_out: number | null;
  readonly coil_m: number | null;
  /** Both together, where it is opened and nobody knows how they part. */
  readonly both_coils_m?: number;
  /** What the plan leaves coiled: where it draws, where it splices, and 0 where the cable no longer passes; else null. */
  readonly left_m: number | null;
  /** How its marks were known then, and when somebody last looked there, `YYYY-MM-DD`; null where nobody said. */
  readonly marks_basis?: "read" | "computed" | null;
  readonly seen_on?: string | null;
}

/** A cable that is cut too and not mended by the job, and why, in words. */
export interface LeftOut {
  readonly cable: RecordRef;
  readonly reason: string;
  /** The record contradicts itself on whether it lies there at all. */
  readonly doubtful?: boolean;
}

export interface Situation {
  readonly cable: RecordRef;
  readonly kind: MendPlan["kind"];
  readonly unit: "m" | "ft" | null;
  readonly between: readonly [string, string];
  /** The place it passes in which it was found cut, and the mark read there; left out where it is cut between two. */
  readonly inside?: { readonly name: string; readonly mark: number | null };
  /** Metres of way from the first stop. */
  readonly cut_m: number;
  /** Nobody knows where in its leg it is cut: that is the middle, and all of the leg counts as lost. */
  readonly somewhere?: boolean;
  /** Strands that the cut left whole and the mend leaves alone; left out where there are none. */
  readonly whole?: readonly number[];
  /** Of jobs planned while the middle was taken where nobody said where in its leg it is cut: `cut_m` is that middle. */
  readonly half?: boolean;
  readonly lost_left_m: number;
  readonly lost_right_m: number;
  /** A temporary mend bridges it and this one stays: stops are as they are with that, and the cut's own marks are gone. */
  readonly lasting?: boolean;
  readonly stops: readonly SituationStop[];
  /** From each stop to the next: metres of sheath from mouth to mouth, and the way by its address. */
  readonly legs: readonly { readonly length_m: number; readonly pathway: string | null }[];
  /** Where it is spliced: metres of way, and in words. */
  readonly points: readonly { readonly at_m: number; readonly words: string; readonly work_m: number }[];
  readonly new_cable_m: number;
  /** Where the sheath is not parted: how it is opened at each point, in words. */
  readonly loops?: readonly string[];
  readonly to_prove: boolean;
  readonly waits_for_pipe: boolean;
  /** What is broken there, to a crew; left out of jobs planned before it was told. */
  readonly form?: WayForm;
  readonly assumed: readonly string[];
  /** The pathway that is broken. */
  readonly pathway: RecordRef | null;
  /** The day on which all this was known. */
  readonly known_on?: string;
  /** Circuits that no way brings back, and why; left out where there is none, and of jobs planned before it was told. */
  readonly not_back?: readonly NotBack[];
  /** What should be measured from port to port when the work is done, strand by strand of each circuit. */
  readonly expected?: readonly Expected[];
}

/** What is looked up for the paper beside the plan itself. */
export interface SituationFacts {
  readonly before: number;
  readonly hole: string | null;
  readonly pathway: RecordRef | null;
  /** By the stop a leg leads on from. */
  readonly ways: ReadonlyMap<number, string>;
  /** By stop. */
  readonly known: ReadonlyMap<number, Pick<SituationStop, "marks_basis" | "seen_on">>;
  readonly known_on: string;
  readonly expected: readonly Expected[];
  readonly not_back: readonly NotBack[];
  /** Strands that run on past its splices. */
  readonly whole: readonly number[];
}

/** By stop, metres coiled once it is mended: at a splice what it has beyond what is worked with. */
function leftCoiled({ points, left, right, landed }: MendPlan, before: number, last: number): Map<number, number> {
  const coiled = new Map([...left.drawn, ...right.drawn].map(({ stop, left_m }) => [stop, left_m]));
  const [first, second = first] = points;
  if (!first || !second) return coiled;
  for (const [{ at, work_m }, { stump_m }, stands] of [
    [first, left, landed !== "left"],
    [second, right, landed !== "right"],
  ] as const) {
    if (at !== "cut" && stands) coiled.set(at, (coiled.get(at) ?? 0) + Math.max(0, stump_m - work_m));
  }
  // Between a splice and the cut the sheath has come back; beyond the cut it runs straight through, or a piece does.
  const from = landed === "left" ? 0 : Math.min(first.at === "cut" ? before : first.at, before);
  const to = landed === "right" ? last : Math.max(second.at === "cut" ? before + 1 : second.at, before + 1);
  for (let index = from + 1; index < to; index++) if (!coiled.has(index)) coiled.set(index, 0);
  return coiled;
}

/** The same of a sheath that is not parted: neighbours have what they don't lend, and a loop what isn't opened of it. */
function leftInLoops(
  { left, right, points }: MendPlan,
  { course: { stops } }: MendReckoned["on"],
): Map<number, number> {
  const coiled = new Map([...left.drawn, ...right.drawn].map(({ stop, left_m }) => [stop, left_m]));
  for (const { at, loop } of points) {
    if (at === "cut" || !loop || loop.lies_m === null) continue;
    const pulled_m = loop.lent.reduce((sum, one) => sum + one.pulled_m, 0);
    coiled.set(at, Math.max(0, loop.lies_m + pulled_m - loop.window_m - (stops[at]?.through_m ?? 0)));
  }
  return coiled;
}

export function situationOf(
  { cable, on, cut, somewhere, inside, doubts }: MendReckoned,
  plan: MendPlan,
  { before, hole, pathway, ways, known, known_on, expected, not_back, whole }: SituationFacts,
): Situation {
  const coiled = plan.dark_only ? leftInLoops(plan, on) : leftCoiled(plan, before, on.stops.length - 1);
  const name = (index: number): string => on.stops[index]?.name ?? say`a place not known`;
  return {
    cable,
    kind: plan.kind,
    unit: on.unit,
    between: inside ? [name(before), name(before + 2)] : [name(before), name(before + 1)],
    ...(inside ? { inside: { name: name(inside.stop), mark: inside.mark } } : {}),
    cut_m: cut.at_m,
    ...(somewhere === null ? {} : { somewhere: true }),
    ...(whole.length > 0 ? { whole } : {}),
    lost_left_m: cut.lost_left_m,
    lost_right_m: cut.lost_right_m,
    stops: on.course.stops.map((stop, index) => ({
      name: name(index),
      place: on.stops[index]?.place ?? null,
      at_m: stop.left_m,
      through_m: stop.through_m,
      mark_in: on.stops[index]?.in?.mark ?? null,
      mark_out: on.stops[index]?.out?.mark ?? null,
      coil_m: hangsAt(on.course, stop),
      ...(stop.both_coils_m === undefined ? {} : { both_coils_m: stop.both_coils_m }),
      left_m: coiled.get(index) ?? null,
      ...known.get(on.stops[index]?.stop.id ?? 0),
    })),
    legs: on.course.legs.map(({ length_m }, index) => ({
      length_m,
      pathway: ways.get(on.stops[index]?.stop.id ?? 0) ?? null,
    })),
    points: plan.points.map((point) => ({
      at_m: point.at === "cut" ? (point.hole_m ?? cut.at_m) : (on.course.stops[point.at]?.left_m ?? 0),
      words: (point.at === "cut" ? hole : null) ?? pointWords(point, on, cut),
      work_m: point.work_m,
    })),
    new_cable_m: plan.new_cable_m,
    ...(plan.dark_only ? { loops: loopsOf(plan, on).map(({ words }) => words) } : {}),
    to_prove: plan.to_prove,
    waits_for_pipe: plan.waits_for_pipe,
    form: formOf(on.ways[before] ?? NO_WAY),
    assumed: [...doubts.map(legDoubtWords), ...on.assumed],
    pathway,
    known_on,
    expected,
    ...(not_back.length > 0 ? { not_back } : {}),
  };
}
