/**
 * Where glass is broken: an instrument's reading becomes travel, the travel is spent along the traced line, each part at
 * its own index, and what may be off is carried along to an honest band.
 */
import { formatLength, type LengthUnit } from "../model/units.ts";
import { refuse } from "../result.ts";
import { limitsInUse } from "../standards/limits/in-use.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import { disagreements, fromOf, grouped, isPlaced, type Walked } from "./agree.ts";
import type { Band, BreakPlace, LocateAnswer, ReadingAnswer, Spent, Where } from "./answer.ts";
import { addTo, bandOf, boundOf, Learned, type Parameters, type Residual, weightsOf } from "./band.ts";
import { candidatesAt, stopsWithin } from "./candidates.ts";
import { closuresAt, plantUnit } from "./facts.ts";
import { jointly } from "./jointly.ts";
import { type Layout, mapped, type Parameter, type Slopes, type Spot } from "./layout.ts";
import { APART, type Placing, placeAt, withCoordinate } from "./place.ts";
import { type ReadingInput, roundTrip, shownWords } from "./reading.ts";
import { type Shot, shoot } from "./shot.ts";
import { apartSentence, BOTH_ENDS, FIRST_ONLY, LOCATE_CAUTIONS, ONE_BREAK, sentenceOf } from "./wording.ts";

export interface LocateInput {
  /** The first says whose line the answer is told along. */
  readonly readings: readonly ReadingInput[];
}

/**
 * @param today the day on which assignments must hold
 * Refuses what `trace` refuses; `bad_input` for a reading of nothing, zero or less; `not_possible` for a port with no glass
 * behind it; `not_found` and `ambiguous` for a known event that names no single joint on the line.
 */
export async function locate(reader: Reader, { readings }: LocateInput, today: string): Promise<LocateAnswer> {
  const limits = await limitsInUse(reader);
  const unit = await plantUnit(reader);
  const shots: Shot[] = [];
  for (const [number, input] of readings.entries()) shots.push(await shoot(reader, input, limits, today, number + 1));
  const [main] = shots;
  if (!main) return refuse("bad_input", say`No reading is given.`, [{ field: "readings", reason: say`is empty` }]);
  const parameters = parametersOf(shots);
  const residuals = shots.flatMap((shot) => shot.residuals);
  const isExplained = ({ off_m, slopes }: Residual): boolean => Math.abs(off_m) <= boundOf(slopes, parameters);
  // What nothing on record explains teaches nothing about it.
  const learned = new Learned(residuals.filter(isExplained), parameters);
  const walked = shots.map((shot) => walk(shot, main, learned));
  const doubts = [
    ...shots.flatMap(({ input: { index }, ground: { values } }) =>
      index === undefined ? [] : (values.oddIndex(index) ?? []),
    ),
    ...unexpected(residuals, parameters),
    ...shots.flatMap(({ layout }) => layout.doubts),
    ...notFollowed(walked),
  ];
  const notes = shots.flatMap((shot) => shot.notes);
  const groups = grouped(walked, parameters);
  const weights = new Map(groups.flatMap((group) => weighed(group, parameters)));
  const lead = walked[0] as Walked;
  const places: BreakPlace[] = [];
  for (const group of groups.length === 0 ? [[lead]] : groups) {
    places.push(await placeOf(reader, group, weights, main, parameters, unit));
  }
  const answers: ReadingAnswer[] = [];
  for (const one of walked) {
    // The only reading is the answer.
    const own = walked.length === 1 ? places[0]?.where : undefined;
    const where = own ?? (await whereOf(reader, one, parameters, unit));
    answers.push(tellReading(one, where, weights.get(one) ?? 0, parameters));
  }

  const ways: LocateAnswer["ways"][number][] = [];
  const [group = [lead]] = groups;
  const { spot, band } = spotOf(group, weights, main, parameters);
  if (main.ways.length > 1 && !sharedByAll(main, spot)) {
    for (const way of main.ways) {
      const own = way.layout.spend(travelOf(main, learned), learned.values);
      ways.push({ to: way.to, where: await placed(reader, main, way.layout, own, band, unit, way.to) });
    }
    notes.push(
      say`The glass forks before that: echoes of all ${main.ways.length} ways come back over each other, and a reading from here can't tell which way is broken. Read from the far ends, or find which of them are dark.`,
    );
  }
  const [place] = places as [BreakPlace];
  const one = places.length === 1;
  const apart = one ? [] : disagreements(groups, parameters);
  if (one && group.length > 1) notes.push(ONE_BREAK);
  const turned = walked.some(({ shared }) => shared?.turned);
  return {
    asked: main.asked,
    sentence: one ? sentenceOf(place, unit, ways.length) : apartSentence(places, apart, unit),
    where: one ? place.where : APART,
    band: one ? place.band : null,
    candidates: one ? place.candidates : [],
    places,
    disagreements: apart,
    readings: answers,
    ways,
    doubts: [...new Set(doubts)],
    lacks: [...new Set(shots.flatMap(({ layout }) => layout.lacks))],
    notes: [...new Set([...notes, turned ? BOTH_ENDS : FIRST_ONLY])],
    cautions: [...new Set([...LOCATE_CAUTIONS, ...shots.flatMap(({ traced }) => traced.answer.cautions)])],
  };
}

/** Where readings of one place put it, each by its weight, told along the line of the first of them. */
function spotOf(
  group: readonly Walked[],
  weights: ReadonlyMap<Walked, number>,
  main: Shot,
  parameters: Parameters,
): { readonly on: Shot; readonly spot: Spot; readonly band: Band } {
  const [first] = group as [Walked];
  if (group.length === 1) return { on: first.shot, spot: first.spot, band: bandOf(first.own, parameters) };
  const { x, band } = jointly(
    group.map((one) => ({
      x: one.shared?.x ?? 0,
      slopes: one.shared?.slopes ?? one.own,
      weight: weights.get(one) ?? 0,
    })),
    parameters,
  );
  const own = first.shot === main ? null : mapped(x, main.layout, first.shot.layout);
  // Told along the other way of the glass, what was nearer is farther.
  const turned = { ...band, nearer_m: band.farther_m, farther_m: band.nearer_m };
  return own
    ? { on: first.shot, spot: first.shot.layout.at(own.x), band: own.turned ? turned : band }
    : { on: main, spot: main.layout.at(x), band };
}

async function placeOf(
  reader: Reader,
  group: readonly Walked[],
  weights: ReadonlyMap<Walked, number>,
  main: Shot,
  parameters: Parameters,
  unit: LengthUnit,
): Promise<BreakPlace> {
  const { on, spot, band } = spotOf(group, weights, main, parameters);
  const where = await placed(reader, on, on.layout, spot, band, unit, endWords(on));
  const bounded = spot.kind === "on" || spot.kind === "beyond";
  const closures = bounded ? await closuresAt(reader, stopsWithin(on.layout, spot.x, band)) : new Map();
  const candidates = bounded ? candidatesAt(spot.x, band, on.layout, on.traced.facts, closures) : [];
  return { from: group.map(fromOf), where, band, candidates };
}

/** Parameters of all readings; of one that several share, such as an index at two wavelengths, the widest bound holds. */
function parametersOf(shots: readonly Shot[]): Parameters {
  const all = new Map<string, Parameter>();
  for (const [key, parameter] of shots.flatMap(({ parameters }) => [...parameters])) {
    const known = all.get(key);
    if (!known || parameter.bound > known.bound) all.set(key, parameter);
  }
  return all;
}

/** A reading's travel, corrected by what known events say of the instrument. */
const travelOf = ({ travel }: Shot, { values }: Learned): number =>
  travel.travel_m - travel.slopes.reduce((sum, [key, slope]) => sum + slope * (values.get(key) ?? 0), 0);

function walk(shot: Shot, main: Shot, learned: Learned): Walked {
  const { layout, travel } = shot;
  const spot = layout.spend(travelOf(shot, learned), learned.values);
  const pace = layout.pace(spot.part);
  const travelled = layout.slopesAt(spot);
  addTo(travelled, travel.slopes);
  const own: Slopes = new Map([...learned.left(travelled)].map(([key, slope]) => [key, slope / pace]));
  if (spot.kind === "before" || spot.kind === "unknown") return { shot, spot, own, shared: null };
  if (shot === main) return { shot, spot, own, shared: { x: spot.x, turned: false, slopes: own } };
  const on = mapped(spot.x, layout, main.layout);
  const slopes: Slopes = on?.turned ? new Map([...own].map(([key, slope]) => [key, -slope])) : own;
  return { shot, spot, own, shared: on && { ...on, slopes } };
}

/** Known events farther from where the record has them than anything on record explains. */
const unexpected = (residuals: Shot["residuals"], parameters: Parameters): string[] =>
  residuals.flatMap(({ off_m, slopes, words, point }) => {
    const most = boundOf(slopes, parameters);
    if (Math.abs(off_m) <= most) return [];
    const metres = (travel: number) => formatLength(Math.abs(travel) / 1.47, "m");
    const [off, explained, at] = [metres(off_m), metres(most), point.record.tag];
    return [
      off_m > 0
        ? say`The known event ${words} lies ${off} of glass farther than on record, where ${explained} could be explained, so it isn't used: look at the lengths before ${at}, the index and the launch cord first.`
        : say`The known event ${words} lies ${off} of glass nearer than on record, where ${explained} could be explained, so it isn't used: look at the lengths before ${at}, the index and the launch cord first.`,
    ];
  });

/** Readings that lead to no place. */
const notFollowed = (walked: readonly Walked[]): string[] =>
  walked.length < 2
    ? []
    : walked.flatMap((one) =>
        isPlaced(one) ? [] : say`The reading from ${one.shot.asked} could not be followed to a place: it isn't used.`,
      );

/** How much each reading of one place counts; together 1. */
function weighed(group: readonly Walked[], parameters: Parameters): [Walked, number][] {
  const shares = weightsOf(
    group.map(({ own, shared }) => shared?.slopes ?? own),
    parameters,
  );
  return group.map((one, at) => [one, shares[at] as number]);
}

const endWords = ({ ways: [way] }: Shot): string => way?.to ?? "";

/** Whether every way of a fork holds the part a spot lies in. */
function sharedByAll({ ways, layout }: Shot, spot: Spot): boolean {
  if (spot.kind === "before") return true;
  const key = spot.kind === "beyond" ? null : layout.parts[spot.part]?.key;
  return key != null && ways.every((way) => way.layout.parts[spot.part]?.key === key);
}

function placed(
  reader: Reader,
  { traced, ground }: Shot,
  layout: Layout,
  spot: Spot,
  band: Band,
  unit: LengthUnit,
  end: string,
): Promise<Where> {
  const placing: Placing = { layout, facts: traced.facts, cables: ground.cables, unit, likely_m: band.likely_m };
  return withCoordinate(reader, placeAt(spot, placing, end), spot, placing);
}

function whereOf(
  reader: Reader,
  { shot, spot, own }: Walked,
  parameters: Parameters,
  unit: LengthUnit,
): Promise<Where> {
  return placed(reader, shot, shot.layout, spot, bandOf(own, parameters), unit, endWords(shot));
}

function tellReading(one: Walked, where: Where, weight: number, parameters: Parameters): ReadingAnswer {
  const { shot, spot, own } = one;
  const { input, instrument, travel, layout } = shot;
  return {
    from: fromOf(one),
    words: say`${shownWords(input)} from ${shot.asked}`,
    conventions: instrument.conventions,
    time_us: Math.round(roundTrip(travel.travel_m) * 1e6) / 1e6,
    where,
    band: bandOf(own, parameters),
    weight: Math.round(weight * 1000) / 1000,
    spent: spentOn(layout, spot),
  };
}

const round = (value: number): number => Math.round(value * 1000) / 1000;

/** The parts up to a spot, with what each took as on record. */
function spentOn({ parts }: Layout, spot: Spot): Spent[] {
  if (spot.kind === "before") return [];
  return parts.slice(0, spot.part + 1).flatMap((part, at) => {
    const share = at < spot.part ? 1 : spot.share;
    if (!part.length_m || share === 0) return [];
    return [
      {
        words: part.words,
        record: part.record,
        length_m: round(part.length_m * share),
        glass_m: round(part.glass_m * share),
        index: part.index,
        time_us: Math.round(roundTrip(part.travel_m * share) * 1e6) / 1e6,
      },
    ];
  });
}
