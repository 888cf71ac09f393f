/** What was measured against what the record adds up to: loss and length, and which record to look at first. */
import { limitSource } from "../standards/limits/in-use.ts";
import type { Hop, RecordRef } from "../trace/answer.ts";
import { toMillimetre } from "../trace/totals.ts";
import { say } from "../words/say.ts";
import type { Disagreement } from "./answer.ts";
import { coreOf } from "./classes.ts";
import type { Reading } from "./facts.ts";
import type { AskedWay, LightLine } from "./line.ts";
import { isIn, readingWords, type Stretch, stretchOf, whyNot } from "./measured.ts";
import { spokenDecibel, spokenMetres } from "./spoken.ts";
import { type LossTerm, sumOf } from "./terms.ts";
import type { Terms } from "./values.ts";

/** Readings that disagree with the record beyond tolerance; ones that are older than what they ran through say nothing. */
export function disagreementsOn(line: LightLine, asked: Terms): Disagreement[] {
  const found: Disagreement[] = [];
  for (const reading of line.facts.readings) {
    const stretch = stretchOf(reading, line.hops, line.facts);
    if (!stretch || whyNot(reading, line.hops, stretch, line.facts) !== null) continue;
    found.push(...lengthOf(line, reading, stretch), ...lossOf(line, reading, stretch, asked));
  }
  return found;
}

const refOf = ({ id, tag }: Reading): RecordRef => ({ kind: "measurement", id, tag });

function lossOf(line: LightLine, reading: Reading, stretch: Stretch, asked: Terms): Disagreement[] {
  const { loss_db, wavelength_nm } = reading;
  const limit = line.limits.get("tolerance.loss_db");
  if (loss_db === null || wavelength_nm === null || !limit || !(limit.value >= 0)) return [];
  const way: AskedWay = {
    ...asked,
    worst: "limit",
    wavelength_nm,
    direction: "a_to_b",
    as: "channel",
    reference_method: "one_cord",
    by_formula: false,
  };
  // Where cores differ each way has a loss of its own, and a reading may be of the other.
  if (new Set(line.loss(way).classes.map(coreOf)).size > 1) return [];
  const parts = line.parts(way).filter((term) => isIn(term, stretch));
  const { loss_db: most, least_db: least, complete } = sumOf(parts);
  if (most === null) return [];
  const common = {
    what: "loss",
    measurement: refOf(reading),
    measured: loss_db,
    least,
    most,
    tolerance: limit.value,
  } as const;
  const source = limitSource(limit);
  // The most is only known where every part is.
  if (complete && loss_db > most + limit.value) {
    const [look_first, why] = suspectOf(parts, reading);
    const sentence = say`${readingWords(reading)}: ${loss_db} dB, and all on record there loses at most ${spokenDecibel(most, loss_db)} dB.`;
    return [{ ...common, sentence, look_first, why, source }];
  }
  const glass = parts.find(({ kind }) => kind === "glass");
  if (loss_db < least - limit.value && glass) {
    const sentence = say`${readingWords(reading)}: ${loss_db} dB, and what is on record there loses at least ${spokenDecibel(least, loss_db)} dB.`;
    const why = say`the glass may be shorter than recorded, or the reading is of another strand`;
    return [{ ...common, sentence, look_first: glass.record, why, source }];
  }
  return [];
}

/** Plugs first: they get dirty, and can be cleaned. Then joints that nobody measured, then the reading itself. */
function suspectOf(parts: readonly LossTerm[], reading: Reading): [RecordRef, string] {
  const unmeasured = parts.filter(({ basis }) => basis !== "measured");
  const pair = unmeasured.find(({ kind }) => kind === "pair" || kind === "end_pair");
  if (pair) return [pair.record, say`plugs get dirty: clean and measure them first`];
  const joint = unmeasured.find(({ kind }) => kind.endsWith("splice") || kind === "module");
  if (joint) return [joint.record, say`it is a joint that nobody measured`];
  return [refOf(reading), say`every joint on it was measured: read it again`];
}

function lengthOf(line: LightLine, reading: Reading, stretch: Stretch): Disagreement[] {
  const { length_m } = reading;
  const metres = line.limits.get("tolerance.length_m");
  const ratio = line.limits.get("tolerance.length_ratio");
  if (length_m === null || !metres || !ratio || !(metres.value >= 0) || !(ratio.value >= 0)) return [];
  const glass = line.hops
    .slice(stretch.first, stretch.last + 1)
    .filter(({ kind }) => kind === "strand" || kind === "cord");
  if (glass.length === 0 || glass.some(({ glass_m, lacks }) => glass_m === null || lacks !== null)) return [];
  const recorded = toMillimetre(glass.reduce((sum, hop) => sum + (hop.glass_m ?? 0), 0));
  const tolerance = toMillimetre(metres.value + ratio.value * recorded);
  const difference = Math.abs(length_m - recorded);
  if (difference <= tolerance) return [];
  const [look_first, why] = lengthSuspect(line, reading, glass, recorded, tolerance);
  return [
    {
      what: "length",
      measurement: refOf(reading),
      measured: length_m,
      least: recorded,
      most: recorded,
      tolerance,
      sentence: say`${readingWords(reading)}: ${length_m} m of glass, and the record adds up to ${spokenMetres(recorded, length_m)} m.`,
      look_first,
      why,
      source: `${limitSource(metres)}; ${limitSource(ratio)}`,
    },
  ];
}

/** The index first, for it scales every length; then what the record's own length rests on. */
function lengthSuspect(
  line: LightLine,
  reading: Reading,
  glass: readonly Hop[],
  recorded: number,
  tolerance: number,
): [RecordRef, string] {
  const longest = glass.toSorted((a, b) => (b.glass_m ?? 0) - (a.glass_m ?? 0))[0] as Hop;
  const own = line.facts.glass.get(longest.record.id)?.index[reading.wavelength_nm ?? 0] ?? null;
  // True length = shown × index used ÷ true index.
  if (own !== null && reading.group_index !== null && own > 0) {
    const corrected = ((reading.length_m ?? 0) * reading.group_index) / own;
    if (Math.abs(corrected - recorded) <= tolerance) {
      const words = say`by the cable's own index ${own} it would be ${spokenMetres(corrected)} m, which agrees`;
      return [refOf(reading), say`the instrument was set to index ${reading.group_index}; ${words}`];
    }
  }
  const pathway = longest.also.find(({ kind }) => kind === "pathway");
  if (longest.length_from === "pathway" && pathway)
    return [pathway, say`its length stands in for marks that nobody read`];
  const cable = longest.also.find(({ kind }) => kind === "cable");
  if (longest.length_from === "planned" && cable) return [cable, say`its length is only as planned: read its marks`];
  if (longest.kind === "strand" && cable) return [cable, say`read its marks, excess and coils again`];
  return [longest.record, say`it is the longest part of it`];
}
