/** Loss: what light loses along the one trace, what that is made of, and what it means for applications and optics. */
import { refuse } from "../result.ts";
import { EDITIONS, type Edition } from "../standards/limits/acceptance.ts";
import { type Limits, limitsInUse } from "../standards/limits/in-use.ts";
import type { Reader } from "../store/handle.ts";
import type { TraceLine } from "../trace/answer.ts";
import type { LineFacts } from "../trace/line-facts.ts";
import type { What } from "../trace/target.ts";
import { traced } from "../trace/trace.ts";
import { asKnown } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import { acceptanceOf } from "./acceptance.ts";
import type { As, Direction, LineLoss, LossAnswer } from "./answer.ts";
import { applicationNamed, applicationsIn, limitsFor, verdictOn } from "./applications.ts";
import { AS_WORDS, REFERENCE_WORDS } from "./asked-words.ts";
import { type FibreClass, modeOf } from "./classes.ts";
import { editionInUse } from "./edition.ts";
import { readLightFacts } from "./facts.ts";
import { LightLine } from "./line.ts";
import { othersOn } from "./measured.ts";
import { powersOf } from "./powers.ts";
import { disagreementsOn } from "./reconcile.ts";
import type { ReferenceMethod, Worst } from "./values.ts";
import { listedWavelengths, unreckonedOf, wavelengthsOf } from "./wavelengths.ts";
import { inDoubt, waysOf } from "./ways.ts";

export interface LossInput {
  readonly what: What;
  /** Left out: the usual ones of the glass on the line. */
  readonly wavelength_nm?: number | undefined;
  readonly direction: Direction;
  readonly worst: Worst;
  /** Left out: a channel between two pieces of equipment, else a link. */
  readonly as?: As | undefined;
  readonly edition?: Edition | undefined;
  readonly reference_method: ReferenceMethod;
  /** Left out: every application made for the glass. */
  readonly application?: string | undefined;
  /** Only applications that equipment or circuits name; left out: all. */
  readonly wanted_only?: boolean;
  /** Neither acceptance nor what readings disagree with: for lists of many lines. */
  readonly brief?: boolean;
}

export const USUAL = { multimode: [850, 1300], single_mode: [1310, 1550] } as const;

/**
 * @param today the day on which assignments must hold
 * Refuses what `trace` refuses, and `bad_input` for a wavelength no glass has a value at and an application without limits.
 */
export const loss = async (reader: Reader, input: LossInput, today: string): Promise<LossAnswer> =>
  lossBy(reader, await limitsInUse(reader), input, today);

/** As `loss`, with limits that were read before: for many lines of one moment. */
export async function lossBy(reader: Reader, limits: Limits, input: LossInput, today: string): Promise<LossAnswer> {
  const wavelength_nm = knownWavelength(limits, input.wavelength_nm);
  const application = knownApplication(limits, input.application);
  const { edition, words: edition_words } = editionOf(limits, input.edition);
  const { answer, facts } = await traced(reader, input.what, today);
  const ways = answer.lines.flatMap((line, strand) => waysOf(line, answer.asked).map((way) => ({ way, strand })));
  const hops = new Set(ways.flatMap(({ way }) => way.hops));
  const light = await readLightFacts(reader, hops, facts);
  const asked: Asked = { ...input, wavelength_nm, application, edition };
  // A reading of a whole circuit is of one strand, its first.
  const others = { ...light, readings: light.readings.filter(({ subject_kind }) => subject_kind !== "circuit") };
  const lines = ways.map(({ way, strand }) =>
    tell(way, new LightLine(way.hops, strand === 0 ? light : others, limits), facts, asked),
  );
  const [first] = lines;
  const [shown] = first?.losses ?? [];
  return {
    asked: answer.asked,
    worst: input.worst,
    direction: input.direction,
    edition,
    edition_words,
    reference_method: input.reference_method,
    as: first?.as ?? input.as ?? "link",
    wavelength_nm: shown?.wavelength_nm ?? null,
    loss_db: shown?.loss_db ?? null,
    complete: shown?.complete ?? false,
    terms: shown?.terms ?? [],
    unknown: shown?.unknown ?? [],
    lines,
    sentence: sentenceOf(answer.asked, lines, { ...input, edition }),
  };
}

interface Asked extends LossInput {
  readonly edition: Edition;
}

function knownWavelength(limits: Limits, nm: number | undefined): number | undefined {
  if (nm === undefined) return undefined;
  const all = listedWavelengths(limits);
  if (all.includes(nm)) return nm;
  return refuse("bad_input", say`No glass has a value at ${nm} nm; values are on record at ${all.join(", ")} nm.`, [
    { field: "wavelength_nm", record: `${nm} nm`, reason: say`is a wavelength no attenuation is on record for` },
  ]);
}

function knownApplication(limits: Limits, text: string | undefined): string | undefined {
  if (text === undefined) return undefined;
  const name = applicationNamed(limits, text);
  if (name !== undefined) return name;
  return refuse("bad_input", say`No limits of an application "${text}" are on record.`, [
    { field: "application", record: text, reason: say`is an application without limits on record` },
  ]);
}

/** The edition asked for, else the one in use. */
export function editionOf(limits: Limits, asked: Edition | undefined): { edition: Edition; words: string } {
  return asked === undefined ? editionInUse(limits) : { edition: asked, words: EDITIONS[asked] };
}

function tell(line: TraceLine, light: LightLine, facts: LineFacts, asked: Asked): LineLoss {
  const { direction, worst, reference_method, edition } = asked;
  const ends = [light.hops[0], light.hops.at(-1)];
  const lit = ends.every((hop) => hop?.kind === "interface") && light.hops.length > 1;
  const as = asked.as ?? (lit ? "channel" : "link");
  const way = { direction, worst, as, reference_method, edition, by_formula: false };
  const { classes, classless } = light.loss({ ...way, wavelength_nm: 1310 });
  const optics = ends.flatMap((hop) =>
    hop?.kind === "interface" ? (light.facts.optics.get(hop.record.id) ?? []) : [],
  );
  const named = namedOn(light, optics, asked);
  const wavelengths = wavelengthsOn(asked, light.limits, classes, optics, named.known);
  const losses = wavelengths.map((wavelength_nm) => light.loss({ ...way, wavelength_nm }));
  const terms = { worst, edition, wavelength_nm: wavelengths[0] as number };
  const wanted = (name: string) => ({ asked: terms, wavelengths_nm: wavelengths, wanted: named.known.includes(name) });
  const names = asked.wanted_only
    ? named.known
    : applicationsFor(light.limits, classes, asked.application, named.known);
  const applications = names.map((name) => verdictOn(light, name, wanted(name)));
  return {
    asked: line.asked,
    from: line.from,
    to: line.to,
    as,
    ends: endWords(as, reference_method),
    length_m: losses[0]?.length_m ?? null,
    length_complete: losses[0]?.length_complete ?? false,
    ends_bare: losses[0]?.ends_bare ?? false,
    classes,
    losses: losses.map(({ sum, terms: own }, at) => ({ wavelength_nm: wavelengths[at] as number, ...sum, terms: own })),
    applications,
    powers: powersOf(light, facts, terms, terms.wavelength_nm),
    acceptance: (asked.brief ? [] : wavelengths).map((wavelength_nm) =>
      acceptanceOf(light, { wavelength_nm, edition, reference_method }),
    ),
    disagreements: asked.brief ? [] : disagreementsOn(light, terms),
    assumptions: [
      ...new Set([
        ...losses.flatMap(({ assumptions }) => assumptions),
        // What an application makes of a link is told of its channel, and that takes more for granted.
        // What one of all that are made for the glass leaves out is told with that one alone.
        ...applications.flatMap(({ assumptions, wanted, application }) =>
          assumptions.filter((one) => wanted || one !== unreckonedOf(light.limits, application)),
        ),
        ...(as === "link" && !lit && applications.length > 0
          ? [say`For applications equipment at both ends is to come: what is on record is reckoned as their channel.`]
          : []),
        ...(inDoubt(line) ? [say`The line forks where the record is in doubt: the first branch is reckoned.`] : []),
        ...(as === "channel" && !lit
          ? [say`No equipment is on record at both ends: what is on record is reckoned.`]
          : []),
        ...(classless ? [say`Some glass has no class on record: what it loses is not known.`] : []),
      ]),
    ],
    doubts: [
      ...new Set([
        ...losses.flatMap(({ doubts }) => doubts),
        ...othersOn(light.hops, light.facts),
        ...named.unknown.map((name) => say`"${name}" is on record as an application, and has no limits on record.`),
      ]),
    ],
  };
}

/** Applications that equipment at the ends or circuits on the line name, and those asked for. */
function namedOn(light: LightLine, optics: readonly { application: string | null }[], asked: Asked) {
  const circuits = light.hops.flatMap((hop) => hop.circuits.map(({ id }) => light.facts.circuits.get(id)));
  const texts = new Set([...optics, ...circuits].flatMap((one) => one?.application?.trim() || []));
  const known: string[] = asked.application === undefined ? [] : [asked.application];
  const unknown: string[] = [];
  for (const text of texts) {
    const name = applicationNamed(light.limits, text);
    if (name === undefined) unknown.push(text);
    else known.push(name);
  }
  return { known: [...new Set(known)], unknown };
}

/** The one asked for; else those wanted, then all that are made for the glass. */
function applicationsFor(
  limits: Limits,
  classes: readonly FibreClass[],
  asked: string | undefined,
  wanted: readonly string[],
): readonly string[] {
  if (asked !== undefined) return [asked];
  const made = applicationsIn(limits).filter((name) => classes.some((fibre) => limitsFor(limits, name, fibre)));
  return [...new Set([...wanted, ...made])];
}

function wavelengthsOn(
  { wavelength_nm, application }: Asked,
  limits: Limits,
  classes: readonly FibreClass[],
  optics: readonly { wavelength_nm: number | null }[],
  named: readonly string[],
): readonly number[] {
  if (wavelength_nm !== undefined) return [wavelength_nm];
  const own = application === undefined ? [] : wavelengthsOf(limits, application);
  if (own.length > 0) return own;
  const all = listedWavelengths(limits);
  const sent = optics.flatMap(({ wavelength_nm }) =>
    all.includes(wavelength_nm ?? 0) ? [wavelength_nm as number] : [],
  );
  const run = named.flatMap((name) => wavelengthsOf(limits, name));
  const modes = new Set(classes.map(modeOf));
  const usual = [...modes].flatMap((mode) => USUAL[mode]);
  return [...new Set([...sent, ...run, ...(usual.length > 0 ? usual : USUAL.single_mode)])];
}

function endWords(as: As, reference_method: ReferenceMethod): string {
  if (as === "channel") return say`cords in, the plugs in equipment at both ends out`;
  const counted = {
    one_cord: say`both end joints in`,
    two_cords: say`the near end joint in`,
    three_cords: say`no end joint in`,
  };
  return say`from the first port to the last, reference by ${REFERENCE_WORDS[reference_method]}: ${counted[reference_method]}`;
}

function sentenceOf(
  asked: string,
  lines: readonly LineLoss[],
  { worst, edition, reference_method }: Pick<Asked, "worst" | "edition" | "reference_method">,
): string {
  const [line] = lines;
  const [first] = line?.losses ?? [];
  if (!line || !first) return say`${asked} has no glass to reckon.`;
  const at = line.losses.map(({ wavelength_nm, loss_db, complete }) => {
    const what = loss_db === null ? say`not known` : asKnown(`${Math.round(loss_db * 100) / 100} dB`, complete);
    return say`${what} at ${wavelength_nm} nm`;
  });
  const how =
    worst === "limit"
      ? say`with limits where nothing was measured`
      : say`with typical values where nothing was measured`;
  const more = lines.length > 1 ? say` It is one of ${lines.length} ways, side by side or beyond a fork.` : "";
  const lacks = first.unknown.length > 0 ? say` Not known: ${first.unknown.join("; ")}.` : "";
  // Of a channel no cord of the meter is a part: the reference is that of a link.
  const reference = line.as === "link" ? say`, reference by ${REFERENCE_WORDS[reference_method]}` : "";
  const by = say` By ${EDITIONS[edition]}${reference}.`;
  return say`${asked} as a ${AS_WORDS[line.as]} loses ${at.join(", ")}, ${how}.${by}${lacks}${more}`;
}
