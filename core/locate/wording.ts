/** The answer in sentences. */
import { formatLength, formatMark, type LengthUnit } from "../model/units.ts";
import { cautionsSaid, LOCATE_ACTS } from "../standards/cautions.ts";
import { capital, listed } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import type { Band, BreakPlace, Disagreement, Where } from "./answer.ts";

function markWords({ mark }: Where): string {
  if (!mark) return "";
  const { value, unit, least, most } = mark;
  const range =
    least === null || most === null
      ? ""
      : say` (${formatMark(Math.round(least), unit)} to ${formatMark(Math.round(most), unit)})`;
  return say`, near mark ${formatMark(Math.round(value), unit)}${range}`;
}

function besideWords({ kind, between }: Where, unit: LengthUnit): string {
  if (kind === "leg") return `: ${listed(between.map(({ words }) => words))}`;
  const [first] = between;
  return first && kind !== "window" ? say`: ${formatLength(first.metres, unit)} in` : "";
}

/** "± 6.2 m in 95 of 100 cases, never more than 9.8 m by what is on record" */
function bandWords({ likely_m, nearer_m, farther_m }: Band, from: string, unit: LengthUnit): string {
  const [near, far] = [formatLength(nearer_m, unit), formatLength(farther_m, unit)];
  return near === far
    ? say`± ${formatLength(likely_m, unit)} in 95 of 100 cases, never more than ${near} by what is on record`
    : say`± ${formatLength(likely_m, unit)} in 95 of 100 cases, never more than ${near} nearer to ${from} or ${far} farther by what is on record`;
}

/** @param ways how many ways it may be, where the glass forks before the place; else 0 */
export function sentenceOf({ from, where, band, candidates }: BreakPlace, unit: LengthUnit, ways: number): string {
  const together = from.length > 1 ? say`By ${from.length} readings together: ` : "";
  const by = ways > 1 ? say`${together}If it is the first of ${ways} ways beyond the fork: ` : together;
  if (where.kind === "unknown" || where.kind === "launch") return `${by}${capital(where.words)}.`;
  if (where.kind === "cord")
    return `${by}${capital(where.words)}; ${bandWords(band, from[0]?.tag ?? say`the port`, unit)}.`;
  const place = `${capital(where.words)}${besideWords(where, unit)}${markWords(where)}; ${bandWords(band, from[0]?.tag ?? say`the port`, unit)}.`;
  const joints = candidates.filter(({ kind, likely }) => likely && kind !== "coil" && kind !== "cable");
  const named = joints
    .slice(0, 4)
    .map(({ words, place: at }) => (at && !words.includes(at.tag) ? say`${words} at ${at.tag}` : words));
  const more = joints.length > named.length ? say` and ${joints.length - named.length} more` : "";
  const first =
    named.length > 0 ? say` Look first at ${listed(named)}${more}: most faults are at joints and ports.` : "";
  return `${by}${place}${first}`;
}

/** Readings that are not of one break: by how much, and each with its own place. */
export function apartSentence(places: readonly BreakPlace[], apart: readonly Disagreement[], unit: LengthUnit): string {
  const far = apart.toSorted((a, b) => (b.apart_m ?? 0) - (a.apart_m ?? 0))[0];
  const by =
    far?.apart_m == null || far.explained_m === null
      ? say`share no glass and no cable`
      : say`are ${formatLength(far.apart_m, unit)} apart, where ${formatLength(far.explained_m, unit)} could be explained`;
  const each = places.map(({ from, where, band }) => {
    const mark = markWords({ ...where, mark: where.mark && { ...where.mark, least: null, most: null } });
    return say`from ${listed(from.map(({ tag }) => tag))}: ${where.words}${mark}, ± ${formatLength(band.likely_m, unit)}`;
  });
  const head =
    far?.apart_m == null ? say`The readings are of different glass` : say`The readings do not agree on one break`;
  return say`${head}: they ${by}. ${capital(each.join("; "))}.`;
}

export const FIRST_ONLY = say`Only the first break is seen from this end: there may be others beyond it.`;
export const ONE_BREAK = say`The readings are taken to be of one break.`;
export const BOTH_ENDS = say`From each end only the first break is seen.`;

/** Cautions of the act itself, before those of the places. */
export const LOCATE_CAUTIONS: readonly string[] = cautionsSaid(LOCATE_ACTS);
