/** One reading on its own line: which way the instrument looks, the ways that may be, and the events it is held against. */
import type { FibreClass } from "../light/classes.ts";
import { waysOf } from "../light/ways.ts";
import { refuse } from "../result.ts";
import type { Limits } from "../standards/limits/in-use.ts";
import type { Reader } from "../store/handle.ts";
import type { Hop, TraceLine } from "../trace/answer.ts";
import { type Traced, traced } from "../trace/trace.ts";
import { say } from "../words/say.ts";
import { addTo, type Residual } from "./band.ts";
import { cableRows, sidesAt } from "./facts.ts";
import { type Ground, layOut } from "./lay-out.ts";
import type { Layout, Parameter, Point, Slopes } from "./layout.ts";
import { checkShown, Instrument, type ReadingInput, shownWords, type Travel } from "./reading.ts";
import { Values } from "./values.ts";

export interface Shot {
  readonly input: ReadingInput;
  readonly asked: string;
  readonly traced: Traced;
  readonly line: TraceLine;
  readonly ground: Ground;
  readonly hops: readonly Hop[];
  readonly layout: Layout;
  /** Beyond a fork the same glass goes several ways; the first is `layout`. */
  readonly ways: readonly { readonly hops: readonly Hop[]; readonly layout: Layout; readonly to: string }[];
  readonly instrument: Instrument;
  readonly nm: number;
  readonly travel: Travel;
  readonly residuals: readonly (Residual & { readonly point: Point; readonly words: string })[];
  readonly parameters: ReadonlyMap<string, Parameter>;
  readonly notes: readonly string[];
}

const isPort = (hop: Hop | undefined): boolean => hop?.kind === "port" || hop?.kind === "interface";

/** Traces a reading's line and lays it out from the port; refuses what no instrument reads and ports with nothing behind. */
export async function shoot(
  reader: Reader,
  input: ReadingInput,
  limits: Limits,
  today: string,
  number: number,
): Promise<Shot> {
  checkShown(input, input.from, say`The reading`);
  for (const known of input.known ?? []) checkShown(known, known.at, say`The known event`);
  const done = await traced(reader, input.from, today);
  const { answer, facts } = done;
  const notes: string[] = [];
  const looked = answer.lines.map((line) => lookFrom(line, answer.asked, input.side));
  const at = Math.max(
    0,
    looked.findIndex((look) => look.ways.length > 0),
  );
  const [line, look] = [answer.lines[at], looked[at]];
  const [first] = look?.ways ?? [];
  if (!line || !first) return nothing(input, answer.asked, look?.why ?? say`no glass is on record there`);
  if (answer.lines.length > 1) {
    notes.push(
      say`${answer.asked} is ${answer.lines.length} strands side by side: ${line.asked} is taken; name another to have its own.`,
    );
  }
  notes.push(...notesOn(line, look?.words ?? null));
  const hops = new Set(look?.ways.flatMap((way) => way.hops));
  const sections = [...hops].flatMap((hop) => (hop.kind === "strand" ? (facts.sections.get(hop.record.id) ?? []) : []));
  const cables = await cableRows(reader, new Set(sections.map(({ cable_id }) => cable_id)));
  const values = new Values(limits);
  const ground: Ground = {
    facts,
    cables,
    values,
    forward: await directions(reader, hops, done, look?.turned ?? false),
  };
  const fibre = fibreAhead(first.hops, done);
  const nm = input.wavelength_nm ?? values.usualWavelength(fibre);
  const near = first.hops.find((hop) => hop.kind === "strand");
  const cable = cables.get(facts.sections.get(near?.record.id ?? 0)?.cable_id ?? 0);
  const index = values.index(fibre, nm, cable);
  const instrument = new Instrument(input, index, values.indexNotGiven(fibre), values, number);
  instrument.conventions.push(
    input.wavelength_nm === undefined ? say`no wavelength was given: ${nm} nm is taken` : say`read at ${nm} nm`,
  );
  const ways = (look?.ways ?? []).map((way) => ({ ...way, layout: layOut(way.hops, ground, nm) }));
  const [{ layout }] = ways as [(typeof ways)[number]];
  const travel = instrument.travel(input, 0);
  const residuals = (input.known ?? []).map((known, event) => {
    const point = pointNamed(layout, known.at, input.from);
    const seen = instrument.travel(known, event + 1);
    const slopes: Slopes = layout.slopesAt({ part: point.part, share: 0 });
    addTo(slopes, seen.slopes);
    return {
      off_m: seen.travel_m - layout.travelTo(point),
      slopes,
      point,
      words: say`${point.words} at ${shownWords(known)}`,
    };
  });
  const parameters = new Map(ways.flatMap((way) => [...way.layout.parameters]));
  for (const parameter of instrument.parameters) parameters.set(parameter.key, parameter);
  return {
    input,
    asked: answer.asked,
    traced: done,
    line,
    ground,
    hops: first.hops,
    layout,
    ways,
    instrument,
    nm,
    travel,
    residuals,
    parameters,
    notes,
  };
}

const nothing = (input: ReadingInput, asked: string, reason: string): never =>
  refuse("not_possible", say`From ${asked} nothing can be located: ${reason}.`, [
    { field: "from", record: input.from, reason },
  ]);

interface Look {
  readonly ways: readonly { readonly hops: readonly Hop[]; readonly to: string }[];
  /** They are walked against the order of the trace. */
  readonly turned: boolean;
  readonly words: string | null;
  readonly why: string;
}

/** The hops an instrument at a port sees, in order: those behind the port, unless it looks through what is plugged in front. */
function lookFrom(line: TraceLine, asked: string, side: ReadingInput["side"]): Look {
  const all = waysOf(line, asked);
  const none = (why: string): Look => ({ ways: [], turned: false, words: null, why });
  const { at } = line;
  const hop = line.hops[at];
  const told = (one: TraceLine) => endWords(one.to);
  if (!isPort(hop)) {
    if (line.hops.length === 0) return none(say`no glass is on record there`);
    const words = say`${asked} is not a port: the reading is taken from ${line.from.record?.tag ?? line.from.words}.`;
    return { ways: all.map((one) => ({ hops: one.hops, to: told(one) })), turned: false, words, why: "" };
  }
  const rank = (next: Hop | undefined): number =>
    next === undefined ? 3 : next.kind === "cord" || next.kind === "assumed" ? 2 : next.kind === "join" ? 1 : 0;
  const [before, after] = [rank(line.hops[at - 1]), rank(line.hops[at + 1])];
  const front = side === "front" && hop?.kind === "port";
  const ahead = front ? after === 2 : after <= before;
  const chosen = front && before !== 2 ? after : ahead ? after : before;
  if (front && chosen !== 2) return none(say`no cord is on record in front of this port`);
  if (chosen === 3) return none(say`no glass is on record at this port`);
  if (!front && chosen === 2 && hop?.kind === "port") return none(say`no glass is on record behind this port`);
  if (ahead)
    return {
      ways: all.map((one) => ({ hops: one.hops.slice(at), to: told(one) })),
      turned: false,
      words: null,
      why: "",
    };
  const from = endWords(line.from);
  return { ways: [{ hops: line.hops.slice(0, at + 1).toReversed(), to: from }], turned: true, words: null, why: "" };
}

function notesOn(line: TraceLine, words: string | null): string[] {
  const notes = words === null ? [] : [words];
  if (line.from.kind === "ring" || line.to.kind === "ring") {
    notes.push(
      say`The line comes back to itself on record: light runs round both ways, and the place is told the way the trace goes round.`,
    );
  }
  if (line.behind !== null || line.root.fork?.why === "record") {
    notes.push(say`The line forks where the record is in doubt: the first branch is followed.`);
  }
  return notes;
}

/** The class of the first strand whose class is on record. */
function fibreAhead(hops: readonly Hop[], { facts }: Traced): FibreClass | null {
  for (const hop of hops) {
    const section = hop.kind === "strand" ? facts.sections.get(hop.record.id) : undefined;
    const fibre = section && facts.cables.fibreClassOf(section);
    if (fibre) return fibre;
  }
  return null;
}

/** Which end light enters each strand by: from the places it runs between, and where they are one, from its joints. */
async function directions(
  reader: Reader,
  hops: Iterable<Hop>,
  { facts }: Traced,
  turned: boolean,
): Promise<Ground["forward"]> {
  const endsOf = (hop: Hop | undefined): readonly (number | null)[] => {
    const section = facts.sections.get(hop?.record.id ?? 0);
    return [section?.a_stop_id, section?.b_stop_id].map((id) => facts.cables.stops.get(id ?? 0)?.space_id ?? null);
  };
  const splices = new Set<number>();
  const landings = new Set<number>();
  let doubtful = false;
  for (const hop of hops) {
    const { kind, record, also } = hop;
    if (kind === "strand") {
      const [a, b] = endsOf(hop);
      doubtful ||= a === b;
    } else if (kind === "splice") splices.add(record.id);
    for (const ref of also) if (ref.kind === "termination") landings.add(ref.id);
  }
  const sides = new Map<string, "A" | "B">();
  for (const { joint, section_id, side } of doubtful ? await sidesAt(reader, splices, landings) : []) {
    sides.set(`${joint} ${section_id}`, side);
  }
  const sideAt = (hop: Hop | undefined, section: number): "A" | "B" | undefined => {
    if (hop?.kind === "splice") return sides.get(`splice ${hop.record.id} ${section}`);
    const landing = hop?.also.find(
      ({ kind, id }) => kind === "termination" && sides.has(`termination ${id} ${section}`),
    );
    return landing && sides.get(`termination ${landing.id} ${section}`);
  };
  return (line, at) => {
    const hop = line[at];
    const id = hop?.record.id ?? 0;
    const [a, b] = endsOf(hop);
    // A hop's places are in the order of the trace, which may be walked against.
    if (a !== b) return ((hop?.place?.space?.id ?? null) === a) !== turned;
    const side = sideAt(line[at - 1], id);
    return side ? side === "A" : sideAt(line[at + 1], id) !== "A";
  };
}

const folded = (text: string): string => text.trim().toLowerCase().replace(/\s+/g, " ");
/** Joints so near to each other are one for an instrument. */
const ONE_EVENT_M = 3;

/** The joint or port that a known event names. */
function pointNamed(layout: Layout, at: string, from: string): Point {
  const last = layout.points.at(-1);
  const wanted = folded(at);
  const all =
    wanted === "end"
      ? last
        ? [last]
        : []
      : layout.points.filter(({ names }) => names.some((name) => folded(name) === wanted));
  const [first, ...more] = all;
  const tells = (code: "not_found" | "ambiguous" | "not_possible", reason: string) =>
    refuse(code, say`The known event at ${at} ${reason}.`, [{ field: "known", record: at, reason }]);
  if (!first) {
    const on = [...new Set(layout.points.flatMap(({ names }) => names[0] ?? []))].slice(0, 12).join(", ");
    return tells(
      "not_found",
      say`is not a port, splice, closure or place of a joint on the line from ${from}; there are ${on}`,
    );
  }
  const apart = more.some(({ x }) => Math.abs(x - first.x) > ONE_EVENT_M);
  if (apart) {
    return tells("ambiguous", say`may be ${all.map(({ words }) => words).join(say`, or `)}; name one of them`);
  }
  if (layout.isUnknownBefore(first)) {
    return tells(
      "not_possible",
      say`lies past a stretch whose length is not on record, so it can't be held against it`,
    );
  }
  return first;
}

/** What ends a line on record: its address, and in brackets what the record says of it. */
const endWords = ({ record, words }: TraceLine["to"]): string => (record?.tag ? `${record.tag} (${words})` : words);
