/** Why it can't be told of a stretch whether coils mend it: the places whose coil it hangs on, and what lacks of each. */
import { say } from "../../words/say.ts";
import { type MendPolicy, mendPlans } from "../plans.ts";
import type { CourseOnRecord } from "../read-course.ts";
import type { OpenStretch } from "./open.ts";
import type { Lost } from "./pieces.ts";

/** Longer than any coil: what a place would have to hold is not asked here, only whether it matters. */
const ENOUGH_M = 1_000_000;

interface By {
  readonly lost: Lost;
  readonly policy: MendPolicy;
}

export interface UnknownCoil {
  readonly name: string;
  /** What lacks on record, in words. */
  readonly lacks: string;
}

/** The places of which any one alone would settle it by what is coiled there; all that are unknown, where only several would. */
export function unknownFor(on: CourseOnRecord, one: OpenStretch, by: By): UnknownCoil[] {
  const all = on.course.stops.flatMap(({ coil_left_m, coil_right_m }, at) =>
    coil_left_m === null || coil_right_m === null ? [at] : [],
  );
  const alone = all.length < 2 ? all : all.filter((at) => settles(on, one, by, at));
  return (alone.length > 0 ? alone : all).map((at) => ({ name: on.stops[at]?.name ?? "", lacks: lacksAt(on, at) }));
}

function settles({ course }: CourseOnRecord, { from_m, to_m }: OpenStretch, { lost, policy }: By, at: number) {
  const known = { coil_left_m: ENOUGH_M, coil_right_m: ENOUGH_M };
  const stops = course.stops.map((stop, index) => (index === at ? { ...stop, ...known } : stop));
  const cut = { at_m: (from_m + to_m) / 2, lost_left_m: lost.left_m, lost_right_m: lost.right_m };
  const found = mendPlans({ ...course, stops }, cut, { ...policy, held_too: false });
  if (typeof found === "string") return false;
  return found.plans.some(
    ({ kind, left, right }) => kind === "one_point" && left.unproven.length + right.unproven.length === 0,
  );
}

function lacksAt({ course, stops, off, unit, printed }: CourseOnRecord, at: number): string {
  const [stop, { in: a, out: b, name } = { in: null, out: null, name: "" }] = [course.stops[at], stops[at]];
  const astray = off.find(({ place }) => place === name);
  if (astray) return say`mark ${astray.mark} there runs against the others`;
  if (printed && unit === null) return say`which unit its marks count is not on record`;
  if (stop?.kind === "opened" || stop?.kind === "severed") return say`the marks at its edges are not on record`;
  if (at === 0 || at === stops.length - 1) return say`neither the mark at its end nor its slack is on record`;
  if (a === null && b === null) return say`neither marks at its mouths nor its slack are on record`;
  return say`a mark at one of its mouths and its slack are not on record`;
}

/** In words that follow the stretch: on which coils it hangs. */
export function untoldWords(unknown: readonly UnknownCoil[]): string {
  const [only] = unknown;
  if (only && unknown.length === 1)
    return say`it hangs on what is coiled at ${only.name}, which nobody knows: ${only.lacks}`;
  const each = unknown.map(({ name, lacks }) => say`${name} (${lacks})`).join(", ");
  return say`it hangs on what is coiled at ${each}, which nobody knows`;
}

export const lookWords = (unknown: readonly UnknownCoil[]): string =>
  say`look what is coiled at ${unknown.map(({ name }) => name).join(say` or `)}, and read its marks`;
