/**
 * Where glass is broken: an instrument's reading becomes travel, the travel is spent along the traced line, each part at
 * its own index, and what may be off is carried along to an honest band.
 */
import type { LengthUnit } from "../model/units.ts";
import { refuse } from "../result.ts";
import { limitsInUse } from "../standards/limits/in-use.ts";
import type { Reader } from "../store/handle.ts";
import type { Band, LocateAnswer, ReadingAnswer, Spent, Where } from "./answer.ts";
import { addTo, bandOf, boundOf, Learned, type Parameters, type Residual, weightsOf } from "./band.ts";
import { candidatesAt, stopsWithin } from "./candidates.ts";
import { closuresAt, plantUnit } from "./facts.ts";
import { type Layout, mapped, type Parameter, type Slopes, type Spot } from "./layout.ts";
import { type Placing, placeAt, withCoordinate } from "./place.ts";
import { type ReadingInput, roundTrip, shownWords } from "./reading.ts";
import { type Shot, shoot } from "./shot.ts";
import { BOTH_ENDS, FIRST_ONLY, LOCATE_CAUTIONS, ONE_BREAK, sentenceOf } from "./wording.ts";

export interface LocateInput {
  /** The first says whose line the answer is told along. */
  readonly readings: readonly ReadingInput[];
}

/** One reading walked to its spot, and that spot on the first reading's line. */
interface Walked {
  readonly shot: Shot;
  readonly spot: Spot;
  /** Metres along its own line for one unit of each parameter. */
  readonly own: Slopes;
  /** The same on the first reading's line; null where it can't be told there. */
  readonly shared: { readonly x: number; readonly turned: boolean; readonly slopes: Slopes } | null;
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
  if (!main) return refuse("bad_input", "No reading is given.", [{ field: "readings", reason: "is empty" }]);
  const parameters = parametersOf(shots);
  const residuals = shots.flatMap((shot) => shot.residuals);
  const isExplained = ({ off_m, slopes }: Residual): boolean => Math.abs(off_m) <= boundOf(slopes, parameters);
  // What nothing on record explains teaches nothing about it.
  const learned = new Learned(residuals.filter(isExplained), parameters);
  const walked = shots.map((shot) => walk(shot, main, learned));
  const doubts = [...unexpected(residuals, parameters), ...shots.flatMap(({ layout }) => layout.doubts)];
  const notes = shots.flatMap((shot) => shot.notes);
  const { weights, told } = weigh(walked, parameters);
  doubts.push(...told);

  const all = walked.flatMap((one, at) => (weights[at] ? [{ one, weight: weights[at] as number }] : []));
  const slopes: Slopes = new Map();
  let x = 0;
  for (const { one, weight } of all) {
    x += weight * (one.shared?.x ?? 0);
    addTo(slopes, one.shared?.slopes ?? [], weight);
  }
  const alone = all.length === 1 && all[0]?.one.shot === main;
  const spot = all.length === 0 || alone ? (walked[0] as Walked).spot : main.layout.at(x);
  const band = bandOf(all.length === 0 ? (walked[0] as Walked).own : slopes, parameters);
  const where = await placed(reader, main, main.layout, spot, band, unit, endWords(main));
  const answers: ReadingAnswer[] = [];
  for (const [at, one] of walked.entries()) {
    // The only reading is the answer.
    const own = walked.length === 1 ? where : await whereOf(reader, one, parameters, unit);
    answers.push(tellReading(one, own, weights[at] ?? 0, parameters));
  }

  const ways: LocateAnswer["ways"][number][] = [];
  const apart = main.ways.length > 1 && !sharedByAll(main, spot);
  if (apart) {
    for (const way of main.ways) {
      const own = way.layout.spend(travelOf(main, learned), learned.values);
      ways.push({ to: way.to, where: await placed(reader, main, way.layout, own, band, unit, way.to) });
    }
    notes.push(
      `The glass forks before that: echoes of all ${main.ways.length} ways come back over each other, and a reading from here can't tell which way is broken. Read from the far ends, or find which of them are dark.`,
    );
  }
  const bounded = spot.kind === "on" || spot.kind === "beyond";
  const closures = bounded ? await closuresAt(reader, stopsWithin(main.layout, spot.x, band.bound_m)) : new Map();
  const candidates = bounded ? candidatesAt(spot.x, band, main.layout, main.traced.facts, closures) : [];
  const turned = walked.some(({ shared }) => shared?.turned);
  if (all.length > 1) notes.push(ONE_BREAK);
  return {
    asked: main.asked,
    sentence: sentenceOf(where, band, candidates, answers, unit, ways.length),
    where,
    band,
    candidates,
    readings: answers,
    ways,
    doubts: [...new Set(doubts)],
    lacks: [...new Set(shots.flatMap(({ layout }) => layout.lacks))],
    notes: [...new Set([...notes, turned ? BOTH_ENDS : FIRST_ONLY])],
    cautions: [...new Set([...LOCATE_CAUTIONS, ...shots.flatMap(({ traced }) => traced.answer.cautions)])],
  };
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
    const metres = (travel: number) => `${Math.round((Math.abs(travel) / 1.47) * 10) / 10} m`;
    return [
      `The known event ${words} lies ${metres(off_m)} of glass ${off_m > 0 ? "farther" : "nearer"} than on record, where ${metres(most)} could be explained, so it isn't used: look at the lengths before ${point.record.tag}, the index and the launch cord first.`,
    ];
  });

/** How much each reading counts; readings that contradict each other aren't averaged. */
function weigh(walked: readonly Walked[], parameters: Parameters): { weights: number[]; told: string[] } {
  const told: string[] = [];
  const usable = walked.flatMap((one, at) => (one.shared ? [{ at, shared: one.shared, from: one.shot.asked }] : []));
  for (const { shot, spot, shared } of walked) {
    if (shared) continue;
    if (spot.kind === "on" || spot.kind === "beyond") {
      told.push(`The reading from ${shot.asked} shares no glass or cable with the first: it stands by itself.`);
    } else if (walked.length > 1)
      told.push(`The reading from ${shot.asked} could not be followed to a place: it isn't used.`);
  }
  const weights = walked.map(() => 0);
  const [first, ...others] = usable;
  if (!first) return { weights, told };
  for (const other of others) {
    const difference: Slopes = new Map(first.shared.slopes);
    addTo(difference, other.shared.slopes, -1);
    const off = other.shared.x - first.shared.x;
    const most = boundOf(difference, parameters);
    if (Math.abs(off) <= most) continue;
    const metres = `${Math.round(Math.abs(off) * 10) / 10} m`;
    const by = `The readings from ${first.from} and ${other.from} are ${metres} apart, where ${Math.round(most * 10) / 10} m could be explained`;
    const opposite = first.shared.turned !== other.shared.turned;
    told.push(
      opposite && off > 0 === !first.shared.turned
        ? `${by}: the glass is broken at both places, and what lies between is cut off from both ends.`
        : `${by}: they are not of one break, or a length, an index or a port on record is wrong.`,
    );
  }
  if (told.some((words) => words.includes(" apart, "))) {
    weights[first.at] = 1;
    return { weights, told };
  }
  const shares = weightsOf(
    usable.map(({ shared }) => shared.slopes),
    parameters,
  );
  for (const [index, { at }] of usable.entries()) weights[at] = shares[index] as number;
  return { weights, told };
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

function tellReading({ shot, spot, own }: Walked, where: Where, weight: number, parameters: Parameters): ReadingAnswer {
  const { input, hops, instrument, travel, layout } = shot;
  return {
    from: hops[0]?.record ?? { kind: "port", id: 0, tag: shot.asked },
    words: `${shownWords(input)} from ${shot.asked}`,
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
