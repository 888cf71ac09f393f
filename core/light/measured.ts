/**
 * Measured stretches: a reading stands for the parts it ran through while nothing on it is newer than the reading.
 * By one cord it holds both end pairs, by two the near one, by three none.
 */
import type { Row } from "../model/dictionary.ts";
import { KINDS } from "../model/dictionary.ts";
import { shownDay } from "../model/wording.ts";
import type { Hop, RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import type { LightFacts, Reading } from "./facts.ts";
import { endsOf, type Span } from "./mated-pairs.ts";
import { twoWayMean } from "./mode-field.ts";
import { spokenDecibel } from "./spoken.ts";
import { type LossTerm, toDecibel } from "./terms.ts";

export interface Stretch {
  readonly first: number;
  readonly last: number;
  /** Whether the joints of plugs at its two ends are in the reading. */
  readonly pairs: readonly [first: boolean, last: boolean];
  /** Whether it was read the way light goes here; null for the mean of both ways or where that is not on record. */
  readonly along: boolean | null;
}

interface Read {
  readonly reading: Reading;
  readonly loss_db: number;
  readonly stretch: Stretch;
}

export interface Replaced {
  readonly terms: readonly LossTerm[];
  /** Readings that contradict each other or can't be used, in words. */
  readonly doubts: readonly string[];
}

const refOf = ({ id, tag }: Reading): RecordRef => ({ kind: "measurement", id, tag });
const isPort = (hop: Hop | undefined): boolean => hop?.kind === "port" || hop?.kind === "interface";

/** Where a reading runs among some hops, in their order; null where it can't be placed among them. */
export function stretchOf(reading: Reading, hops: readonly Hop[], facts: LightFacts): Stretch | null {
  const { subject_kind, subject_id, far_port_id, direction, cords_included } = reading;
  let [first, last] = [-1, -1];
  let forward: boolean | null = null;
  if (subject_kind === "section" || subject_kind === "strand") {
    const own = hops.flatMap(({ kind, record }, at) => {
      const id = subject_kind === "section" ? record.id : facts.glass.get(record.id)?.strand_id;
      return kind === "strand" && id === subject_id ? [at] : [];
    });
    // Of a strand that is cut, an instrument sees one piece only.
    const [at, more] = own;
    if (at === undefined || more !== undefined) return null;
    [first, last] = [isPort(hops[at - 1]) ? at - 1 : at, isPort(hops[at + 1]) ? at + 1 : at];
    forward = sectionForward(hops, at, facts);
  } else if (subject_kind === "port") {
    const near = hops.findIndex((hop) => isPort(hop) && hop.record.id === subject_id && !isFurther(hop, facts));
    const far = near < 0 ? -1 : farEnd(hops, near, far_port_id);
    if (near < 0 || far < 0 || near === far) return null;
    [first, last] = [Math.min(near, far), Math.max(near, far)];
    forward = near < far;
  } else if (subject_kind === "circuit") {
    const holds = hops.every(({ kind, circuits }) => kind !== "strand" || circuits.some(({ id }) => id === subject_id));
    if (!holds) return null;
    ({ first, last } = endsOf(hops, "link"));
    forward = null;
  } else return null;
  if (first < 0 || last < first) return null;
  if (cords_included === "yes") {
    if (hops[first]?.kind === "port" && hops[first - 1]?.kind === "cord") first -= 1;
    if (hops[last]?.kind === "port" && hops[last + 1]?.kind === "cord") last += 1;
  }
  const along =
    direction === "both" || direction === null || forward === null ? null : forward === (direction === "a_to_b");
  return { first, last, pairs: pairsIn(reading, along ?? true), along };
}

/** Whether a line takes another position of a port than its first, which is the one a reading of a port is of. */
const isFurther = (hop: Hop, { further }: LightFacts): boolean =>
  hop.also.some(({ kind, id }) => kind === "position" && further.has(id));

/** Readings of ports that are another strand's: told, for the port is the same. */
export const othersOn = (hops: readonly Hop[], facts: LightFacts): string[] =>
  facts.readings.flatMap(({ tag, subject_kind, subject_id }) => {
    const port = subject_kind === "port" && hops.find((hop) => isPort(hop) && hop.record.id === subject_id);
    return port && isFurther(port, facts)
      ? [say`${tag} is of ${port.record.tag} and counts for its first position; this is another.`]
      : [];
  });

function pairsIn({ method, reference_method }: Reading, along: boolean): [boolean, boolean] {
  // A reflectometer between launch and receive cords sees both end joints, as one cord does.
  if (method === "otdr" || reference_method === null || reference_method === "one_cord") return [true, true];
  if (reference_method === "three_cords") return [false, false];
  return along ? [true, false] : [false, true];
}

/** The port at the far end; where none is on record, the last one before the cords to equipment. */
function farEnd(hops: readonly Hop[], near: number, far_port_id: number | null): number {
  if (far_port_id !== null) return hops.findIndex((hop) => isPort(hop) && hop.record.id === far_port_id);
  const isBack = (hop: Hop | undefined) => hop?.kind === "strand" || hop?.kind === "join";
  const [before, after] = [isBack(hops[near - 1]), isBack(hops[near + 1])];
  if (before === after) return -1;
  const { first, last } = endsOf(hops, "link");
  return after ? last : first;
}

/** Whether light goes through a section from its A end; null where neither neighbour says. */
function sectionForward(hops: readonly Hop[], at: number, facts: LightFacts): boolean | null {
  const id = hops[at]?.record.id;
  const sideAt = (hop: Hop | undefined): "A" | "B" | null => {
    if (hop?.kind === "splice") {
      const splice = facts.splices.get(hop.record.id);
      if (!splice) return null;
      return splice.a_section_id === id ? splice.a_side : splice.b_section_id === id ? splice.b_side : null;
    }
    const landing = hop?.also.flatMap((ref) => (ref.kind === "termination" ? (facts.landings.get(ref.id) ?? []) : []));
    return landing?.find(({ section_id }) => section_id === id)?.side ?? null;
  };
  const before = sideAt(hops[at - 1]);
  if (before !== null) return before === "A";
  const after = sideAt(hops[at + 1]);
  return after === null ? null : after === "B";
}

/** Days on which parts of a stretch were made or came there. */
export function daysOn(
  hops: readonly Hop[],
  { first, last }: Span,
  facts: LightFacts,
): { day: string; what: string }[] {
  const days: { day: string; what: string }[] = [];
  const see = (what: string, ...found: (string | null | undefined)[]) => {
    for (const day of found) if (day) days.push({ day, what });
  };
  for (const { record, also } of hops.slice(first, last + 1)) {
    const { kind, id, tag } = record;
    if (kind === "splice") see(tag, facts.splices.get(id)?.made_on, facts.splices.get(id)?.life_from);
    if (kind === "section") see(tag, facts.glass.get(id)?.life_from, facts.glass.get(id)?.installed_on);
    if (kind === "cord") see(tag, facts.cords.get(id)?.life_from);
    if (kind === "module_join") see(tag, facts.joins.get(id)?.life_from);
    if (kind === "port") see(tag, facts.ports.get(id)?.life_from);
    for (const ref of also) {
      if (ref.kind !== "termination") continue;
      see(ref.tag, facts.landings.get(ref.id)?.made_on, facts.landings.get(ref.id)?.life_from);
    }
  }
  return days;
}

/** Why a reading can't be used on its stretch, or null. */
export function whyNot({ tag, measured_on, loss_db }: Reading, hops: readonly Hop[], stretch: Span, facts: LightFacts) {
  if (loss_db !== null && loss_db < 0)
    return say`${tag} says ${loss_db} dB, a gain: no stretch of glass adds light, so it isn't used.`;
  const days = daysOn(hops, stretch, facts).sort((a, b) => (a.day < b.day ? 1 : -1));
  const [newest] = days;
  if (!newest) return null;
  if (measured_on === null)
    return say`${tag} has no day, and ${newest.what} is of ${shownDay(newest.day)}: it isn't used.`;
  return newest.day > measured_on
    ? say`${tag} of ${shownDay(measured_on)} is older than ${newest.what} of ${shownDay(newest.day)}: it isn't used.`
    : null;
}

/** Whether a reading was made at a wavelength: sources vary by some nanometres. */
export const isAt = ({ wavelength_nm }: Reading, nm: number): boolean =>
  wavelength_nm !== null && Math.abs(wavelength_nm - nm) <= 10;

/**
 * Puts readings in the place of the terms they measured. `hops` and `terms` are in the direction of the light.
 * @param directed whether cores on the way differ, so that each way has a loss of its own
 */
export function withReadings(
  hops: readonly Hop[],
  terms: readonly LossTerm[],
  span: Span,
  facts: LightFacts,
  wavelength_nm: number,
  tolerance_db: number,
  directed: boolean,
): Replaced {
  const doubts: string[] = [];
  const usable: Read[] = [];
  for (const reading of facts.readings) {
    if (reading.loss_db === null || reading.method === "visual") continue;
    if (reading.wavelength_nm === null) doubts.push(say`${reading.tag} names no wavelength: it isn't used.`);
    if (!isAt(reading, wavelength_nm)) continue;
    const stretch = stretchOf(reading, hops, facts);
    if (!stretch || stretch.first < span.first || stretch.last > span.last) continue;
    const why = whyNot(reading, hops, stretch, facts);
    if (why !== null) doubts.push(why);
    else usable.push({ reading, loss_db: reading.loss_db, stretch });
    if (why === null && daysOn(hops, stretch, facts).length === 0) {
      doubts.push(
        say`Nothing ${reading.tag} ran through has a day on record: it is used as if nothing had changed since.`,
      );
    }
  }
  const same = Map.groupBy(usable, ({ stretch: { first, last, pairs } }) => `${first} ${last} ${pairs}`);
  const chosen = [...same.values()].flatMap((reads) => {
    doubts.push(...contradictions(reads, tolerance_db));
    const one = choose(reads, directed);
    if (!one)
      doubts.push(say`${tagsOf(reads)}: cores differ on it, and it was not read the way light goes: it isn't used.`);
    return one ?? [];
  });
  chosen.sort((a, b) => b.last - b.first - (a.last - a.first) || (b.day > a.day ? 1 : -1));
  const taken = new Map<LossTerm, Chosen>();
  for (const one of chosen) {
    const own = terms.filter((term) => isIn(term, one));
    if (own.length > 0 && own.every((term) => !taken.has(term))) for (const term of own) taken.set(term, one);
  }
  const told = new Set<Chosen>();
  const replaced = terms.flatMap((term) => {
    const one = taken.get(term);
    if (!one) return [term];
    if (told.has(one)) return [];
    told.add(one);
    return [
      measuredTerm(
        one,
        hops,
        terms.filter((other) => taken.get(other) === one),
      ),
    ];
  });
  return { terms: replaced, doubts };
}

const tagsOf = (reads: readonly Read[]): string => reads.map(({ reading }) => reading.tag).join(", ");

/** Whether a reading of a stretch holds a term. */
export function isIn({ hop, kind }: LossTerm, { first, last, pairs }: Stretch): boolean {
  if (hop < first || hop > last) return false;
  if (kind !== "pair" && kind !== "end_pair") return true;
  return (hop !== first || pairs[0]) && (hop !== last || pairs[1]);
}

interface Chosen extends Stretch {
  readonly loss_db: number;
  readonly day: string;
  readonly readings: readonly Reading[];
}

const dayOf = ({ measured_on }: Reading): string => measured_on ?? "";
/** The newest; of one day the greater loss. */
const newest = (reads: readonly Read[]): Read | undefined =>
  [...reads].sort((a, b) =>
    dayOf(b.reading) > dayOf(a.reading) ? 1 : dayOf(b.reading) < dayOf(a.reading) ? -1 : b.loss_db - a.loss_db,
  )[0];

/** Of readings of one stretch: where cores differ, the way light goes; else the mean of both ways, or the newest. */
function choose(reads: readonly Read[], directed: boolean): Chosen | null {
  const of = (along: boolean | null) => newest(reads.filter(({ stretch }) => stretch.along === along));
  const [there, back, whole] = [of(true), of(false), of(null)];
  const one = (read: Read): Chosen => ({
    ...read.stretch,
    loss_db: read.loss_db,
    day: dayOf(read.reading),
    readings: [read.reading],
  });
  if (directed) return there ? one(there) : null;
  const both: Chosen[] =
    there && back
      ? [
          {
            ...there.stretch,
            along: null,
            loss_db: twoWayMean(there.loss_db, back.loss_db),
            day: [dayOf(there.reading), dayOf(back.reading)].sort()[1] as string,
            readings: [there.reading, back.reading],
          },
        ]
      : [there, back].flatMap((read) => (read ? [one(read)] : []));
  const all = [...both, ...(whole ? [one(whole)] : [])];
  return all.sort((a, b) => (b.day > a.day ? 1 : -1))[0] as Chosen;
}

/** Readings of one stretch, one day and one way that differ by more than instruments do. */
function contradictions(reads: readonly Read[], tolerance_db: number): string[] {
  const told: string[] = [];
  for (const [index, one] of reads.entries()) {
    for (const other of reads.slice(index + 1)) {
      if (one.stretch.along !== other.stretch.along) continue;
      const difference = Math.abs(one.loss_db - other.loss_db);
      if (difference <= tolerance_db + 1e-9) continue;
      told.push(
        say`${one.reading.tag} (${one.loss_db} dB) and ${other.reading.tag} (${other.loss_db} dB) contradict each other by ${spokenDecibel(difference, tolerance_db)} dB over one stretch; the newer is used, or the greater of one day.`,
      );
    }
  }
  return told;
}

const METHODS: Readonly<Record<Row<"measurement">["method"], string>> = KINDS.measurement.fields.method.values;
const REFERENCES = KINDS.measurement.fields.reference_method.values;
const DIRECTIONS = KINDS.measurement.fields.direction.values;

export const readingWords = ({ tag, method, measured_on, reference_method, direction }: Reading): string =>
  [
    tag,
    METHODS[method],
    measured_on ? shownDay(measured_on) : say`day not on record`,
    reference_method
      ? say`reference by ${REFERENCES[reference_method]}`
      : method === "otdr"
        ? null
        : say`reference not on record, taken as one cord`,
    direction && DIRECTIONS[direction],
  ]
    .filter(Boolean)
    .join(", ");

function measuredTerm(one: Chosen, hops: readonly Hop[], replaces: readonly LossTerm[]): LossTerm {
  const [reading, ...more] = one.readings as readonly [Reading, ...Reading[]];
  const [from, to] = [hops[one.first], hops[one.last]].map((hop) => hop?.record.tag ?? "…");
  const loss_db = toDecibel(one.loss_db);
  const readings = one.readings.map(readingWords).join("; ");
  return {
    kind: "measured",
    words: say`measured stretch ${from === to ? from : say`from ${from} to ${to}`}`,
    loss_db,
    least_db: loss_db,
    basis: "measured",
    source: more.length > 0 ? say`mean of both ways: ${readings}` : readings,
    record: refOf(reading),
    rests_on: more.map(refOf),
    hop: one.first,
    at_m: replaces.at(-1)?.at_m ?? null,
    lacks: null,
    replaces,
  };
}
