/** What finding the break would allow, where a cut is only known to lie between two places: part by part the best way. */

import { say } from "../words/say.ts";
import type { MendStrand } from "./answer.ts";
import type { Cut } from "./course.ts";
import { cutAmong, sparing } from "./left-alone.ts";
import type { MendReckoned } from "./mend.ts";
import type { MendNarrowed } from "./narrowed-answer.ts";
import { insideOf, lengthOf, mouthOf } from "./place-cut.ts";
import { type MendPlan, type MendPolicy, mendPlans } from "./plans.ts";
import { betterBy } from "./rank.ts";
import { metres, millimetre, told, wayWords } from "./told.ts";

/** Each leg is tried in so many parts, and where the best way changes that is found to the decimetre. */
const PARTS = 24;
const FINE_M = 0.1;

/** Pure. Empty where the place is known; the parts in the order of the leg. */
export function narrowedWays(reckoned: MendReckoned, order: readonly MendStrand[]): MendNarrowed[] {
  const { somewhere, theirs, on, cable, found, lit } = reckoned;
  // Ways that leave the others whole rest on the places beside it alone, wherever between them the cut is.
  if (somewhere === null || theirs !== null || found.plans[0]?.dark_only) return [];
  const { stretch } = somewhere;
  const { lost_left_m, lost_right_m } = somewhere.told;
  const [least_m, most_m] = [lost_left_m, lengthOf(on, stretch) - lost_right_m];
  if (most_m <= least_m) return [];
  const anywhere = found.plans[0];

  const tried = new Map<number, Found | null>();
  const at = (from_m: number): Found | null => {
    const known = tried.get(from_m);
    if (known !== undefined) return known;
    const there: Cut = { at_m: mouthOf(on, stretch[0]) + from_m, lost_left_m, lost_right_m };
    const mend = insideOf(on, there) === null ? mendPlans(on.course, there, somewhere.policy) : "";
    const best = typeof mend === "string" ? undefined : sparing(mend.plans, lit, cutAmong(on, there, null))[0];
    const own =
      best && (!anywhere || betters(best, anywhere, somewhere.policy)) ? { from_m, cut: there, plan: best } : null;
    tried.set(from_m, own);
    return own;
  };
  /** The last metre at which the best way is still that of `from_m`. */
  const upTo = (from_m: number, to_m: number): [number, number] => {
    let [near_m, far_m] = [from_m, to_m];
    while (far_m - near_m > FINE_M) {
      const middle_m = (near_m + far_m) / 2;
      if (same(at(from_m), at(middle_m))) near_m = middle_m;
      else far_m = middle_m;
    }
    return [near_m, far_m];
  };

  const parts: Found[][] = [];
  const tries = PARTS * (stretch[1] - stretch[0]);
  const metres = Array.from({ length: tries + 1 }, (_, part) => least_m + ((most_m - least_m) * part) / tries);
  for (const [index, from_m] of metres.entries()) {
    const previous_m = metres[index - 1];
    const here = at(from_m);
    if (previous_m === undefined) {
      if (here) parts.push([here]);
      continue;
    }
    // Between two that were tried further ways may lie, each from where the one before it ends.
    let begin_m = previous_m;
    while (!same(at(begin_m), here)) {
      const [near_m, far_m] = upTo(begin_m, from_m);
      const [near, far] = [at(near_m), at(far_m)];
      if (near && near_m > begin_m) parts.at(-1)?.push(near);
      if (far) parts.push([far]);
      begin_m = far_m;
    }
    if (here && begin_m < from_m) parts.at(-1)?.push(here);
  }
  return parts.map((part): MendNarrowed => {
    const [first, last] = [part[0] as Found, part.at(-1) as Found];
    const spread = (of: (plan: MendPlan) => number): [number, number] => {
      const all = part.map(({ plan }) => millimetre(of(plan)));
      return [Math.min(...all), Math.max(...all)];
    };
    const { to_prove } = told(first.plan, { tag: cable.tag, on, cut: first.cut, order });
    return {
      from_m: millimetre(first.from_m),
      to_m: millimetre(last.from_m),
      words: wayWords(first.plan, on),
      pulled_m: spread(({ pulled_m }) => pulled_m),
      new_cable_m: spread(({ new_cable_m }) => new_cable_m),
      to_prove,
    };
  });
}

/** The widest part in a sentence, for whoever must decide whether to look for the break first; empty where none is. */
export function narrowedSentence(parts: readonly MendNarrowed[], from: string): string {
  const [widest] = parts.toSorted((a, b) => b.to_m - b.from_m - (a.to_m - a.from_m));
  if (!widest) return "";
  const words = `${widest.words.charAt(0).toLowerCase()}${widest.words.slice(1)}`;
  return say` Find the break if time allows: ${metres(widest.from_m)} to ${metres(widest.to_m)} from ${from}, ${words} would do.`;
}

interface Found {
  readonly from_m: number;
  readonly cut: Cut;
  readonly plan: MendPlan;
}

/** Another way, and a better one: the same with less to pull is none that has to be looked for. */
export const betters = (plan: MendPlan, anywhere: MendPlan, { ranking }: MendPolicy): boolean =>
  keyOf(plan) !== keyOf(anywhere) && (downs(plan) - downs(anywhere) || betterBy(ranking)(plan, anywhere)) < 0;

/** Taking nothing down that the cut left alone comes first. */
const downs = ({ also_down = [] }: MendPlan): number => Number(also_down.length > 0);

const same = (a: Found | null, b: Found | null): boolean => (a && keyOf(a.plan)) === (b && keyOf(b.plan));

const keyOf = ({ kind, landed, sure, points }: MendPlan): string =>
  [kind, landed, sure, ...points.map(({ at }) => at)].join(" ");
