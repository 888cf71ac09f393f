/** Hours of work a plan takes, by the plant's own rates: an estimate to plan a crew by, part for part. */
import { type LimitInUse, type Limits, limitSource } from "../standards/limits/in-use.ts";
import { say } from "../words/say.ts";
import type { MendAnswerPlan, MendHours, MendHoursPart } from "./answer.ts";

/** What is done so often, by the rate it is reckoned with. */
export type Counts = readonly (readonly [rate: string, count: number, words: string])[];

export function hoursOf(
  plan: Pick<MendAnswerPlan, "kind" | "points" | "sides" | "loops" | "new_holes" | "new_cable_m">,
  work: { readonly strands: number; readonly singles: number; readonly ribbons: number; readonly lines: number },
  limits: Limits,
): MendHours {
  const points = plan.points.length;
  // New cable is landed at both ends, or at one.
  const landings = plan.kind === "new_cable" ? 2 : plan.kind === "to_end" ? 1 : 0;
  const places = points + landings;
  const pulls = [...plan.sides, ...plan.loops].reduce((sum, { pulls: own }) => sum + own.length, 0);
  const counts: Counts = [
    ["set_up", places, say`a place set up, guarded and tested for air`],
    ["dig_hole", plan.new_holes, say`a new hole dug and set`],
    ["pull_coil", pulls, say`a coil taken down and pulled`],
    ["lay_100m", plan.new_cable_m / 100, say`a hundred metres of new cable laid`],
    [
      "prepare_side",
      points * 2 + landings,
      plan.loops.length > 0 ? say`a side of a sheath opened and dressed in` : say`a sheath end opened and dressed in`,
    ],
    ["splice_strand", work.singles * places, landings > 0 ? say`a strand spliced or landed` : say`a strand spliced`],
    ["splice_ribbon", work.ribbons * places, landings > 0 ? say`a ribbon spliced or landed` : say`a ribbon spliced`],
    ["measure_strand", work.strands, say`a strand measured both ways`],
  ];
  return hoursFrom(counts, limits);
}

export function hoursFrom(counts: Counts, limits: Limits): MendHours {
  const parts = counts.flatMap(([rate, count, words]): MendHoursPart[] => {
    if (count === 0) return [];
    const limit = limits.get(`repair.hours.${rate}`);
    return [partOf(limit, count, words)];
  });
  const lacks = parts.filter(({ hours }) => hours === null).map(({ words }) => words);
  const known = parts.flatMap(({ hours }) => hours ?? []);
  return { hours: known.length === 0 ? null : round(known.reduce((sum, one) => sum + one, 0)), parts, lacks };
}

/**
 * Hours of several plans carried out as one job: a place in which more than one works is set up once, and a hole that they
 * share is dug once. Null where those of one of them can't be told.
 * @param again how often a place that another sets up, or a hole that another digs, is counted
 */
export function hoursTogether(
  each: readonly (number | null)[],
  again: { readonly set_up: number; readonly dig_hole: number },
  limits: Limits,
): number | null {
  const known = each.flatMap((hours) => hours ?? []);
  if (known.length < each.length) return null;
  const rate = (name: string): number => Math.max(0, limits.get(`repair.hours.${name}`)?.value ?? 0);
  const spared = again.set_up * rate("set_up") + again.dig_hole * rate("dig_hole");
  return round(known.reduce((sum, one) => sum + one, 0) - spared);
}

const round = (hours: number): number => Math.round(hours * 10) / 10;

function partOf(limit: LimitInUse | undefined, count: number, words: string): MendHoursPart {
  const sensible = limit !== undefined && limit.value >= 0;
  return {
    words: `${Math.round(count * 10) / 10} × ${words}`,
    hours: sensible ? round(count * limit.value) : null,
    source: limit ? limitSource(limit) : say`no rate on record`,
  };
}
