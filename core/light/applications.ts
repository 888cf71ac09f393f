/** Which applications a line carries: loss, length and class of fibre must all be met. */

import { type LimitInUse, type Limits, limitSource } from "../standards/limits/in-use.ts";
import { say } from "../words/say.ts";
import type { ApplicationVerdict, Direction, Verdict } from "./answer.ts";
import { classWords, downFrom, type FibreClass, lowestOf, modeOf } from "./classes.ts";
import type { LightLine, Loss } from "./line.ts";
import { spokenDecibel, spokenMetres } from "./spoken.ts";
import { toDecibel } from "./terms.ts";
import type { Terms, Worst } from "./values.ts";
import { unreckonedOf, wavelengthsOf } from "./wavelengths.ts";

const HEAD = "application.";

type ByClass = ReadonlyMap<string, ApplicationLimits>;

/** Applications by the list of limits they were read from: mostly the published one, the same for every line. */
const read = new WeakMap<readonly LimitInUse[], ReadonlyMap<string, ByClass>>();

const PARTS: Readonly<Record<string, keyof ApplicationLimits>> = {
  loss_db: "loss",
  length_m: "length",
  least_db: "least",
};

function applicationsOf(limits: Limits): ReadonlyMap<string, ByClass> {
  const among = limits.under(HEAD);
  const known = read.get(among);
  if (known) return known;
  const all = new Map<string, Map<string, Partial<Record<keyof ApplicationLimits, LimitInUse>>>>();
  for (const limit of among) {
    const words = limit.tag.slice(HEAD.length).split(".");
    const [fibre, part] = [words.at(-2), PARTS[words.at(-1) ?? ""]];
    const name = words.slice(0, -2).join(".");
    if (!fibre || !part || !name) continue;
    const classes = all.get(name) ?? new Map();
    all.set(name, classes.set(fibre, { ...classes.get(fibre), [part]: limit }));
  }
  read.set(among, all as ReadonlyMap<string, ByClass>);
  return all as ReadonlyMap<string, ByClass>;
}

/** Every application there are limits for, in order of names. */
export const applicationsIn = (limits: Limits): readonly string[] => [...applicationsOf(limits).keys()];

/** The name as limits have it, whatever its case; undefined where there are none. */
export const applicationNamed = (limits: Limits, text: string): string | undefined =>
  applicationsIn(limits).find((name) => name.toLowerCase() === text.trim().toLowerCase());

export interface ApplicationLimits {
  readonly loss?: LimitInUse | undefined;
  readonly length?: LimitInUse | undefined;
  readonly least?: LimitInUse | undefined;
}

/** The limits of an application on a class; null where it isn't made for that class. */
export function limitsFor(limits: Limits, application: string, fibre: FibreClass): ApplicationLimits | null {
  const classes = applicationsOf(limits).get(application);
  if (!classes) return null;
  const rows = modeOf(fibre) === "single_mode" ? [fibre, "single_mode"] : downFrom(fibre);
  for (const row of rows) {
    const found = classes.get(row);
    if (found?.loss || found?.length) return found;
  }
  return null;
}

/** Floating sums of decimals may end a hair above the limit that they meet. */
const HAIR = 1e-9;

export interface Channel {
  readonly loss_db: number | null;
  readonly least_db: number;
  readonly complete: boolean;
  readonly length_m: number | null;
  readonly length_complete: boolean;
}

/** That a channel loses more than its limit, in words; null where it doesn't, or nobody knows. */
export const lossTooMuch = (loss_db: number | null, limit_db: number | null): string | null =>
  loss_db !== null && limit_db !== null && loss_db > limit_db + HAIR
    ? say`loss ${spokenDecibel(loss_db, limit_db)} dB is more than ${limit_db} dB`
    : null;

/** Whether a channel meets limits, and why not. What is known of it is a lower bound: above a limit it fails in any case. */
export function meets(channel: Channel, limits: ApplicationLimits): { verdict: Verdict; reasons: string[] } {
  const { loss, length } = limits;
  const no: string[] = [];
  const unsure: string[] = [];
  for (const limit of [loss, length]) {
    if (limit && !(limit.value >= 0)) unsure.push(say`the limit ${limit.tag} is ${limit.value}, which makes no sense`);
  }
  const tooMuch = lossTooMuch(channel.loss_db, loss?.value ?? null);
  if (tooMuch !== null) no.push(tooMuch);
  if (length && channel.length_m !== null && channel.length_m > length.value + HAIR) {
    no.push(say`length ${spokenMetres(channel.length_m, length.value)} m is more than ${length.value} m`);
  }
  if (!loss) unsure.push(say`its greatest loss is not on record`);
  else if (!channel.complete) unsure.push(say`not all of the loss is known`);
  if (!length) unsure.push(say`its greatest length is not on record`);
  else if (!channel.length_complete) unsure.push(say`not all of the length is known`);
  return { verdict: no.length > 0 ? "no" : unsure.length > 0 ? "cannot_tell" : "yes", reasons: [...no, ...unsure] };
}

const BOTH: readonly Direction[] = ["a_to_b", "b_to_a"];

export interface Hardest extends Channel {
  readonly classes: readonly FibreClass[];
  readonly classless: boolean;
  readonly ends_bare: boolean;
  readonly assumptions: readonly string[];
}

/** What was found for a line before: many applications ask for the same wavelengths. */
const found = new WeakMap<LightLine, Map<string, Hardest>>();

/** The way and wavelength with the greatest loss: an application must run each way. */
function hardest(line: LightLine, asked: Terms, wavelengths: readonly number[], worst: Worst): Hardest {
  const known = found.get(line) ?? new Map<string, Hardest>();
  found.set(line, known);
  const key = `${worst} ${asked.edition} ${wavelengths.join(" ")}`;
  const before = known.get(key);
  if (before) return before;
  const fixed = {
    edition: asked.edition,
    worst,
    as: "channel",
    reference_method: "one_cord",
    by_formula: false,
  } as const;
  const losses = wavelengths.flatMap((wavelength_nm) =>
    BOTH.map((direction) => line.loss({ ...fixed, wavelength_nm, direction })),
  );
  const channel = channelOf(losses);
  known.set(key, channel);
  return channel;
}

function channelOf(losses: readonly Loss[]): Hardest {
  const known = losses.flatMap(({ sum }) => sum.loss_db ?? []);
  const [first] = losses;
  return {
    loss_db: known.length > 0 ? Math.max(...known) : null,
    least_db: Math.min(...losses.map(({ sum }) => sum.least_db)),
    complete: losses.length > 0 && losses.every(({ sum }) => sum.complete),
    length_m: first?.length_m ?? null,
    length_complete: first?.length_complete ?? false,
    classes: first?.classes ?? [],
    classless: first?.classless ?? false,
    ends_bare: first?.ends_bare ?? false,
    assumptions: [...new Set(losses.flatMap(({ assumptions }) => assumptions))],
  };
}

export interface Wanted {
  readonly asked: Terms;
  /** Where an application names none, these stand in. */
  readonly wavelengths_nm: readonly number[];
  readonly wanted: boolean;
}

/** What one application makes of a line. */
export function verdictOn(line: LightLine, application: string, { asked, wavelengths_nm, wanted }: Wanted) {
  const own = wavelengthsOf(line.limits, application);
  const wavelengths = own.length > 0 ? own : wavelengths_nm;
  const [now, then] = [hardest(line, asked, wavelengths, "typical"), hardest(line, asked, wavelengths, "limit")];
  const { classes, classless } = then;
  // A cord to come is some metres: what is on record decides, and the margin in length is not known.
  const length_complete = now.length_complete && !now.ends_bare;
  const fibre = lowestOf(classes);
  const limits = fibre && limitsFor(line.limits, application, fibre);
  const about = (
    verdict: Verdict,
    runs_at_worst: Verdict,
    usual: readonly string[],
    worse: readonly string[] = [],
  ): ApplicationVerdict => {
    const { loss, length, least } = limits ?? { loss: undefined, length: undefined, least: undefined };
    const margin = (limit: number | undefined, value: number | null, known: boolean) =>
      limit === undefined || value === null || !known ? null : toDecibel(limit - value);
    return {
      application,
      wanted,
      runs: verdict,
      runs_at_worst,
      wavelengths_nm: wavelengths,
      fibre_class: fibre,
      loss_db: now.loss_db,
      worst_loss_db: then.loss_db,
      limit_db: loss?.value ?? null,
      margin_db: margin(loss?.value, now.loss_db, now.complete),
      worst_margin_db: margin(loss?.value, then.loss_db, then.complete),
      length_m: now.length_m,
      length_complete,
      limit_m: length?.value ?? null,
      margin_m: margin(length?.value, now.length_m, length_complete),
      reasons: [...new Set([...usual, ...worse.map((reason) => say`at worst: ${reason}`)])],
      usual_reasons: [...new Set(usual)],
      assumptions: [...now.assumptions, ...[unreckonedOf(line.limits, application) ?? []].flat()],
      sources: [...new Set([loss, length, least].flatMap((limit) => (limit ? [limitWords(limit)] : [])))],
      rests_on: [loss, length, least].flatMap((limit) => limit?.record ?? []),
    };
  };
  if (new Set(classes.map(modeOf)).size > 1) {
    return about("no", "no", [say`single-mode and multimode glass are joined on it`]);
  }
  if (fibre === null || classless) {
    return about("cannot_tell", "cannot_tell", [say`the class of some of its fibre is not on record`]);
  }
  if (!limits) return about("no", "no", [say`it isn't made for ${classWords(fibre)}`]);
  const [usually, atWorst] = [meets(now, limits), meets(then, limits)];
  const little = tooLittle(now, limits.least);
  // What holds as it usually is holds at worst, and is said once.
  const worse = atWorst.reasons.filter((reason) => !usually.reasons.includes(reason));
  return little === null
    ? about(usually.verdict, atWorst.verdict, usually.reasons, worse)
    : about("no", "no", [little, ...usually.reasons], worse);
}

const limitWords = (limit: LimitInUse): string => `${limit.value} ${limit.unit ?? ""}: ${limitSource(limit)}`;

/**
 * Where a receiver wants some loss and the line may have less: what is allowed for joints may not be there, so the least
 * the line can lose decides, at the wavelength and the way where it is lowest.
 */
const tooLittle = ({ least_db, complete }: Channel, least: LimitInUse | undefined): string | null =>
  least && complete && least_db < least.value - HAIR
    ? say`it may lose no more than ${spokenDecibel(least_db, least.value)} dB, which is less than the ${least.value} dB it needs`
    : null;
