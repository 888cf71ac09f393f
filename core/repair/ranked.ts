/** Why the first of the ways is the first, in words: what it needs and what it rests on, beside the first that is sure. */
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { MendWholePlan } from "./answer.ts";
import type { MendRanked } from "./narrowed-answer.ts";
import type { MendPlan, MendPolicy } from "./plan.ts";
import { needsOf } from "./rank.ts";
import { metres } from "./told.ts";

/** Null where there is no way, or one alone. */
export function rankedOf(
  found: readonly MendPlan[],
  told: readonly MendWholePlan[],
  { ranking }: MendPolicy,
): MendRanked | null {
  const [best, ...others] = found;
  const first = told[0];
  if (!best || !first || others.length === 0) return null;
  // What severs what shines is for somebody to choose, and no way out of a doubt.
  const sure = found.findIndex((plan) => plan.unlooked === 0 && plan.dark_only === best.dark_only);
  const look_first = unlookedOf(first);
  const needs = needWords(best);
  if (best.unlooked === 0) {
    // What was put behind for its proof, and for nothing else.
    const cheaper = found.findIndex(
      (plan, index) =>
        index > 0 &&
        plan.kind !== "new_cable" &&
        plan.unlooked > 0 &&
        alike(plan, best) &&
        needsOf(plan, ranking) < needsOf(best, ranking),
    );
    const other = found[cheaper];
    const words = other
      ? say`Way 1 comes first because nothing that it rests on is unproven; way ${cheaper + 1} needs less, ${needWords(other)}, but rests on ${restsWords(told[cheaper])}.`
      : say`Way 1 comes first because it needs least, ${needs}, and nothing that it rests on is unproven.`;
    return { sure_way: 1, look_first: [], words };
  }
  const against = found[sure];
  const look = say`Look first: ${restsWords(first)}.`;
  const words =
    against === undefined
      ? best.dark_only
        ? say`Way 1 comes first because it needs least of those that leave whole what shines, ${needs}; every one of them rests on something unproven. ${look}`
        : say`Way 1 comes first because it needs least, ${needs}; every way rests on something unproven. ${look}`
      : against.kind === "new_cable"
        ? say`Way 1 comes first because a new cable is laid at last, and every other way rests on something unproven. ${look} Where that doesn't hold, way ${sure + 1}: ${needWords(against)}.`
        : say`Way 1 comes first because it needs ${needs}; way ${sure + 1}, the first that rests on nothing unproven, needs ${needWords(against)}. ${look} Where that doesn't hold, way ${sure + 1}.`;
  return { sure_way: sure < 0 ? null : sure + 1, look_first, words };
}

/** Ways that take something down, or sever it, come after those that don't, whatever they need. */
const alike = (plan: MendPlan, best: MendPlan): boolean =>
  plan.dark_only === best.dark_only && (plan.also_down ?? []).length === (best.also_down ?? []).length;

const unlookedOf = ({ rests_on, guesses }: MendWholePlan): string[] => [...rests_on, ...guesses];

const restsWords = (plan: MendWholePlan | undefined): string => (plan ? unlookedOf(plan).join("; ") : "");

function needWords({ kind, points, landed, landed_in_case, new_holes, new_cable_m }: MendPlan): string {
  const all = [
    points.length === 0 ? "" : counted(points.length, "splice point"),
    new_holes === 0 ? "" : counted(new_holes, "new hole"),
    new_cable_m < 0.05 ? "" : say`${metres(new_cable_m)} of new cable`,
    kind === "new_cable" ? say`landed anew at both ends` : "",
    landed === null || landed_in_case ? "" : say`landed anew at one end`,
  ].filter(Boolean);
  return all.length < 2 ? (all[0] ?? "") : say`${all.slice(0, -1).join(", ")} and ${all.at(-1)}`;
}

/** For whoever reads one sentence: only where proof decides, or is to be had first. */
export const rankedSentence = (ranked: MendRanked | null): string =>
  ranked === null || ranked.look_first.length === 0 ? "" : ` ${ranked.words}`;
