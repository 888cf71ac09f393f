/** What a way of free strands would lose, as a channel with its joints made, and whether an application would run on it. */
import type { Verdict } from "../light/answer.ts";
import { type Channel, limitsFor, meets } from "../light/applications.ts";
import { coreOf, type FibreClass, lowestOf, modeOf } from "../light/classes.ts";
import { editionOf, lossBy } from "../light/loss.ts";
import { type LossTerm, sumOf, toDecibel } from "../light/terms.ts";
import { Values, type Worst } from "../light/values.ts";
import { unreckonedOf, wavelengthsOf } from "../light/wavelengths.ts";
import { type Limits, limitSource } from "../standards/limits/in-use.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { toMillimetre } from "../trace/totals.ts";
import { say } from "../words/say.ts";
import type { FreeWay, WayLoss, WayWavelength } from "./answer.ts";

export interface LossAsked {
  readonly limits: Limits;
  readonly today: string;
  /** As limits have it; undefined where nothing is wanted. */
  readonly application: string | undefined;
}

interface Reckoned {
  readonly terms: readonly LossTerm[];
  readonly classes: readonly FibreClass[];
  readonly length_m: number | null;
  readonly length_complete: boolean;
  readonly assumptions: readonly string[];
}

/** The loss of the strand that loses most, of all that are asked for. */
export async function lossOfWay(reader: Reader, way: FreeWay, asked: LossAsked): Promise<WayLoss | null> {
  const count = way.stretches[0]?.strands.length ?? 0;
  const found: WayLoss[] = [];
  for (let strand = 0; strand < count; strand += 1) {
    const one = await lossOfStrand(reader, way, strand, asked);
    if (one) found.push(one);
  }
  const most = ({ wavelengths: [first] }: WayLoss) => first?.worst_loss_db ?? -1;
  const [worst] = found.sort((a, b) => most(b) - most(a));
  return worst ? { ...worst, reckoned: count } : null;
}

async function lossOfStrand(reader: Reader, way: FreeWay, strand: number, asked: LossAsked): Promise<WayLoss | null> {
  const first = way.stretches[0]?.strands[strand]?.sections[0];
  if (!first) return null;
  const { application, limits } = asked;
  const own = application === undefined ? [] : wavelengthsOf(limits, application);
  const byWavelength = new Map<number, Record<Worst, Reckoned[]>>();
  for (const worst of ["typical", "limit"] as const) {
    for (const { strands } of way.stretches) {
      const section = strands[strand]?.sections[0];
      if (!section) return null;
      const { lines } = await lossBy(
        reader,
        limits,
        {
          what: { kind: "section", id: section.id },
          direction: "a_to_b",
          worst,
          as: "channel",
          reference_method: "one_cord",
          application,
          wanted_only: true,
          brief: true,
        },
        asked.today,
      );
      const [line] = lines;
      if (!line) return null;
      for (const { wavelength_nm, terms } of line.losses) {
        if (own.length > 0 && !own.includes(wavelength_nm)) continue;
        const known = byWavelength.get(wavelength_nm) ?? { typical: [], limit: [] };
        const { classes, length_m, length_complete, assumptions } = line;
        known[worst].push({ terms, classes, length_m, length_complete, assumptions });
        byWavelength.set(wavelength_nm, known);
      }
    }
  }
  // Glass of several modes has no wavelength in common.
  const common = [...byWavelength].filter(([, { typical }]) => typical.length === way.stretches.length);
  if (common.length === 0) return null;
  const edition = editionOf(limits, undefined).edition;
  const told = common.map(([wavelength_nm, found]) => {
    const of = (worst: Worst) => {
      const values = new Values(limits, { wavelength_nm, worst, edition });
      return [...found[worst].flatMap(({ terms }) => terms), ...jointsToMake(way, found[worst], values)];
    };
    return { wavelength_nm, parts: found.typical, typical: of("typical"), limit: of("limit") };
  });
  const [shown] = told as [(typeof told)[number]];
  const wavelengths = told.map(({ wavelength_nm, typical, limit }): WayWavelength => {
    const [now, then] = [sumOf(typical), sumOf(limit)];
    return {
      wavelength_nm,
      loss_db: now.loss_db,
      worst_loss_db: then.loss_db,
      complete: now.complete && then.complete,
      unknown: [...new Set([...now.unknown, ...then.unknown])],
    };
  });
  // What is allowed for joints may not be there: for a receiver that needs some loss the least of it counts.
  const least_db = Math.min(...told.map(({ typical }) => sumOf(typical).least_db));
  const lengths = shown.parts.map(({ length_m }) => length_m);
  const length_m = lengths.includes(null) ? null : toMillimetre(lengths.reduce<number>((sum, m) => sum + (m ?? 0), 0));
  const length_complete = shown.parts.every((part) => part.length_complete) && length_m !== null;
  const classes = [...new Set(shown.parts.flatMap((part) => part.classes))];
  return {
    strand: first,
    reckoned: 1,
    length_m,
    wavelengths,
    terms: shown.limit,
    assumptions: [
      ...new Set([
        ...shown.parts.flatMap(({ assumptions }) => assumptions),
        ...(way.cords > 0 ? [say`Of cords to be patched the plugs are counted, and their glass isn't.`] : []),
        ...[application === undefined ? [] : (unreckonedOf(limits, application) ?? [])].flat(),
      ]),
    ],
    application:
      application === undefined
        ? null
        : verdictOf(application, limits, classes, wavelengths, { length_m, length_complete, least_db }),
  };
}

/** The splices that would join one stretch to the next; the plugs of cords are counted at the ports already. */
function jointsToMake(way: FreeWay, parts: readonly Reckoned[], values: Values): LossTerm[] {
  return way.joints.flatMap(({ kind, space }, n): LossTerm[] => {
    const [before, after] = [parts[n]?.classes ?? [], parts[n + 1]?.classes ?? []];
    const last = before.at(-1) ?? null;
    const value = values.splice(last && modeOf(last), "fusion");
    const unlike = new Set([...before, ...after].map(coreOf)).size > 1;
    const term = (words: string, of: typeof value, lacks: string | null): LossTerm => {
      const figure = typeof of === "string" ? null : of;
      return {
        kind: unlike && lacks !== null ? "core_mismatch" : "splice",
        words,
        loss_db: figure && toDecibel(figure.value),
        least_db: 0,
        basis: figure?.basis ?? "unknown",
        source: figure?.source ?? say`not on record`,
        record: space,
        rests_on: figure?.rests_on ?? [],
        hop: n,
        at_m: null,
        lacks: figure ? lacks : typeof of === "string" ? of : lacks,
        replaces: [],
      };
    };
    return [
      ...(kind === "splice" ? [term(say`splice to be made in ${space.tag}`, value, null)] : []),
      ...(unlike
        ? [term(say`glass of unlike cores meets in ${space.tag}`, say`what that loses depends on the way`, null)]
        : []),
    ];
  });
}

function verdictOf(
  application: string,
  limits: Limits,
  classes: readonly FibreClass[],
  wavelengths: readonly WayWavelength[],
  length: Pick<Channel, "length_m" | "length_complete" | "least_db">,
): NonNullable<WayLoss["application"]> {
  const about = (runs: Verdict, runs_at_worst: Verdict, reasons: readonly string[]) => ({
    application,
    runs,
    runs_at_worst,
    limit_db: null,
    margin_db: null,
    limit_m: null,
    reasons,
    sources: [] as string[],
    rests_on: [] as RecordRef[],
  });
  if (new Set(classes.map(modeOf)).size > 1)
    return about("no", "no", [say`single-mode and multimode glass would be joined`]);
  const fibre = lowestOf(classes);
  if (fibre === null) return about("cannot_tell", "cannot_tell", [say`the class of its fibre is not on record`]);
  const own = limitsFor(limits, application, fibre);
  if (!own) return about("no", "no", [say`it isn't made for such glass (${fibre.toUpperCase()})`]);
  const complete = wavelengths.every((one) => one.complete);
  const channel = (of: (one: WayWavelength) => number | null): Channel => {
    const known = wavelengths.flatMap((one) => of(one) ?? []);
    return { loss_db: known.length > 0 ? Math.max(...known) : null, complete, ...length };
  };
  const [now, then] = [channel(({ loss_db }) => loss_db), channel(({ worst_loss_db }) => worst_loss_db)];
  const [usually, atWorst] = [meets(now, own), meets(then, own)];
  const { loss, length: longest, least } = own;
  const { least_db } = length;
  const little = least && complete && least_db < least.value;
  const reasons = [
    ...(little
      ? [say`it may lose no more than ${toDecibel(least_db)} dB, which is less than the ${least.value} dB it needs`]
      : []),
    ...usually.reasons,
    ...atWorst.reasons.filter((one) => !usually.reasons.includes(one)).map((one) => say`at worst: ${one}`),
  ];
  const used = [loss, longest, least].flatMap((limit) => (limit ? [limit] : []));
  return {
    ...about(little ? "no" : usually.verdict, little ? "no" : atWorst.verdict, reasons),
    limit_db: loss?.value ?? null,
    margin_db: loss && then.loss_db !== null && complete ? toDecibel(loss.value - then.loss_db) : null,
    limit_m: longest?.value ?? null,
    sources: used.map((limit) => `${limit.value} ${limit.unit ?? ""}: ${limitSource(limit)}`),
    rests_on: used.flatMap(({ record }) => record ?? []),
  };
}
