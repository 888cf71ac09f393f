/** What feeds a building or space: its cables by way in, each strand's state and far end, and what is free from here. */

import type { Adjacency } from "../glass/adjacency.ts";
import { idOf, isPosition, NOWHERE, sectionEnd } from "../glass/end.ts";
import type { Glass } from "../glass/glass.ts";
import type { PlantGlass } from "../glass/held-glass.ts";
import { glassAround } from "../glass/line-glass.ts";
import { type Circuit, Service } from "../glass/service.ts";
import type { WithAssumed } from "../glass/with-assumed.ts";
import { refsOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { Place, RecordRef, StrandState } from "../trace/answer.ts";
import { Cables } from "../trace/cables.ts";
import { type EndFacts, endOf } from "../trace/ends.ts";
import {
  cordsOf,
  type GlassSection,
  glassAt,
  type InPort,
  inPorts,
  interfacesOf,
  manyPositions,
  markCut,
  sectionsOf,
} from "../trace/facts.ts";
import { circuitRef } from "../trace/hops.ts";
import { sectionTag } from "../trace/line-facts.ts";
import { placeOf } from "../trace/places.ts";
import { stateOf } from "../trace/state.ts";
import { toMillimetre } from "../trace/totals.ts";
import { landedIn, readAround, Sheaths } from "./along.ts";
import type { FeedCable, FeedStrand, FeedsAnswer, StateCounts } from "./answer.ts";
import { factsInMemory, factsRead, type GlassFacts } from "./glass-facts.ts";
import { type Route, Routes } from "./routes.ts";
import { apartFromInside, type ComingCable, cablesComing, entranceOf, farStop as farCableStop } from "./sheaths.ts";
import { type Of, type Subject, subjectOf } from "./subject.ts";
import { type FeedWalk, portAt, reachedFrom, Walker } from "./walks.ts";
import { type Begin, singlePoints } from "./ways.ts";
import { cautionsOf, STATES, sentenceOf } from "./wording.ts";

export interface FeedsOptions {
  readonly today: string;
  /** The plant's glass, where it is in memory; else what is needed of it is read. */
  readonly held: PlantGlass | null;
  /** Only strands in these states are listed; counts tell of all. */
  readonly states?: readonly StrandState[] | undefined;
}

const noCounts = (): Record<StrandState, number> =>
  Object.fromEntries(Object.keys(STATES).map((state) => [state, 0])) as Record<StrandState, number>;

const addUp = (all: readonly StateCounts[]): StateCounts => {
  const sum = noCounts();
  for (const counts of all) for (const state of Object.keys(sum) as StrandState[]) sum[state] += counts[state];
  return sum;
};

/** Everything read, and every strand walked, before anything is put in words. */
interface Read {
  readonly subject: Subject;
  readonly coming: readonly ComingCable[];
  /** Strands of each cable that end here, inside or from outside. */
  readonly ended: ReadonlyMap<number, number>;
  readonly inside: number;
  readonly walks: readonly FeedWalk[];
  readonly glass: Glass;
  readonly passed: GlassFacts;
  readonly facts: EndFacts;
}

export async function feeds(reader: Reader, of: Of, options: FeedsOptions): Promise<FeedsAnswer> {
  const read = await readAll(reader, of, options);
  const { subject, inside } = read;
  const cables = cablesOf(read, options.states);
  const spaces = read.facts.cables.spaces;
  const counts = addUp(cables.map((cable) => cable.counts));
  const answer = {
    subject: subject.ref,
    name: subject.name,
    cables,
    counts,
    cut: cables.reduce((sum, { cut }) => sum + cut, 0),
    cut_circuits: distinct(cables.flatMap((cable) => cable.cut_circuits)),
    total: read.walks.length,
    inside,
    entrances: entrancesOf(cables),
    free_to: await freeTo(reader, read),
    single_points: await pointsOf(reader, read, options),
  };
  const kinds = new Set([...subject.spaces].map((id) => spaces.get(id)?.kind ?? null));
  return { ...answer, sentence: sentenceOf(answer), cautions: cautionsOf(cables, kinds) };
}

async function readAll(reader: Reader, of: Of, { today, held }: FeedsOptions): Promise<Read> {
  const subject = await subjectOf(reader, of);
  const comes = await cablesComing(reader, subject);
  const stopsHere = new Set(comes.cables.flatMap(({ stops, here }) => here.map((index) => stops[index]?.id ?? 0)));
  const ending = stopsHere.size === 0 ? [] : await glassAt(reader, stopsHere);
  const { coming, sections, strands, alone } = apartFromInside(comes.cables, ending);
  const inside = comes.inside + alone;
  const order = new Map(coming.map(({ id }, index) => [id, index]));
  sections.sort(
    (a, b) =>
      (order.get(a.cable_id) ?? 0) - (order.get(b.cable_id) ?? 0) || a.number - b.number || a.ordinal - b.ordinal,
  );
  const ends = sections.flatMap(({ id }) => [sectionEnd(id, "A"), sectionEnd(id, "B")]);
  const around = held ? null : await glassAround(reader, ends, today);
  const glass = around ?? (await (held as PlantGlass).on(reader, today));
  const begins = sections.map((section) => ({
    section,
    side: stopsHere.has(section.a_stop_id ?? 0) ? ("A" as const) : ("B" as const),
  }));
  const passed = around ? await factsAlong(reader, around, today) : factsInMemory(held as PlantGlass, today);
  const routes = new Routes();
  const walker = new Walker(glass, passed, routes);
  const walks = begins.map(({ section, side }) => walker.walk(section, side));
  const facts = await endFacts(reader, walks, glass, today, new Set([...order.keys(), ...routes.cables]), held);
  return { subject, coming, ended: strands, inside, walks, glass, passed, facts };
}

/** Facts of all that was read of the graph. */
function factsAlong(reader: Reader, { base }: WithAssumed<Adjacency>, today: string): Promise<GlassFacts> {
  const [sections, positions] = [new Set<number>(), new Set<number>()];
  for (const end of base.ends) (isPosition(end) ? positions : sections).add(idOf(end));
  return factsRead(reader, sections, positions, today);
}

/** What was read of cables beside a plant's glass, good as long as nothing is written. */
const kept = new WeakMap<PlantGlass, { readonly revision: number; readonly cables: Cables }>();
/** More cables than this are let go of and read again as they are asked for. */
const MOST_KEPT = 2_000;

function cablesKept(held: PlantGlass): Cables {
  let own = kept.get(held);
  if (own?.revision !== held.revision || own.cables.byId.size > MOST_KEPT) {
    own = { revision: held.revision, cables: Cables.none() };
    kept.set(held, own);
  }
  return own.cables;
}

const inMemory = ({ tables: { position } }: PlantGlass, ids: ReadonlySet<number>): InPort[] =>
  Array.from(ids, (id) => ({ id, ordinal: position.ordinal.get(id), port_id: position.port.get(id) }));

/** Facts of the sections that end here and of whatever their walks end at. */
async function endFacts(
  reader: Reader,
  walks: readonly FeedWalk[],
  glass: Glass,
  today: string,
  cableIds: ReadonlySet<number>,
  held: PlantGlass | null,
): Promise<EndFacts> {
  const sections = new Map<number, GlassSection>(walks.map(({ section }) => [section.id, section]));
  const [further, ports, cordIds] = [new Set<number>(), new Set<number>(), new Set<number>()];
  for (const { far } of walks) {
    if (!far) continue;
    if (far.end === NOWHERE) cordIds.add(far.id);
    else if (isPosition(far.end)) ports.add(idOf(far.end));
    else if (!sections.has(idOf(far.end))) further.add(idOf(far.end));
  }
  if (further.size > 0) for (const [id, section] of await sectionsOf(reader, further)) sections.set(id, section);
  const positions = await manyPositions(reader, held ? inMemory(held, ports) : await inPorts(reader, ports));
  const equipment = [...positions.values()].flatMap(({ device_id, port_id }) => (device_id === null ? [] : [port_id]));
  const interfaces = await interfacesOf(reader, equipment);
  const cords = await cordsOf(reader, cordIds);
  const units = new Set(walks.flatMap(({ section }) => section.unit_id ?? []));
  const rooms = new Set([...positions.values()].flatMap(({ space_id }) => space_id ?? []));
  const cables = await Cables.read(reader, cableIds, units, rooms, held ? cablesKept(held) : undefined);
  await markCut(reader, sections.values(), (stop) => cables.stops.get(stop ?? 0)?.kind === "end");
  const given = held ? [...sections.keys()].filter((id) => held.service.isGiven(id)) : sections.keys();
  const service = await Service.read(reader, given, today, glass);
  return { glass, sections, positions, interfaces, cords, cables, service };
}

function cablesOf(read: Read, states: readonly StrandState[] | undefined): FeedCable[] {
  const { facts, coming, ended, walks } = read;
  const placed = new Places(facts.cables);
  const byCable = Map.groupBy(walks, ({ section }) => section.cable_id);
  return coming.map((cable) => {
    const own = byCable.get(cable.id) ?? [];
    const ending = new Map<number, number>();
    for (const { section, side } of own) {
      const stop = (side === "A" ? section.a_stop_id : section.b_stop_id) ?? 0;
      ending.set(stop, (ending.get(stop) ?? 0) + 1);
    }
    const entrance = entranceOf(cable, ending);
    const strands = own.map((one) => strandOf(read, one));
    const counts = noCounts();
    for (const { state } of strands) counts[state] += 1;
    const known = facts.cables.byId.get(cable.id);
    return {
      cable: known?.ref ?? { kind: "cable", id: cable.id, tag: String(cable.id) },
      entrance: placed.at(entrance?.space_id ?? null),
      ends_in: [...new Set([...ending.keys()].map((stop) => facts.cables.stops.get(stop)?.space_id ?? null))].map(
        (id) => placed.at(id),
      ),
      from: placed.at(farCableStop(cable, entrance)?.space_id ?? null),
      strands: states ? strands.filter(({ state }) => states.includes(state)) : strands,
      counts,
      cut: strands.filter(isDown).length,
      cut_circuits: distinct(
        strands.filter(isDown).flatMap(({ section }) => inService(facts.service.circuitsOf(section.id))),
      ),
      without_strands: cable.strands === 0,
      passes_only: cable.strands > 0 && own.length === 0,
      express: cable.strands - (ended.get(cable.id) ?? 0),
      owner: known?.foreign_owner ?? null,
    };
  });
}

/** Places are shared by many strands: each is made once. */
class Places {
  readonly #cables: Cables;
  readonly #made = new Map<number | null, Place>();
  constructor(cables: Cables) {
    this.#cables = cables;
  }
  at(space_id: number | null): Place {
    let place = this.#made.get(space_id);
    if (!place) {
      place = placeOf(this.#cables.spaces.get(space_id ?? 0));
      this.#made.set(space_id, place);
    }
    return place;
  }
}

function strandOf({ facts, glass }: Read, walked: FeedWalk): FeedStrand {
  const { section, far, route } = walked;
  const { cables, service } = facts;
  const cable = cables.byId.get(section.cable_id);
  const tag = sectionTag(facts, section);
  const { state, why } = stateOf(section, cable, service, glass, (id) => cables.stops.get(id));
  const circuits = service.circuitsOf(section.id);
  const colours = cables.coloursOf(section);
  const length_m = route?.lengthIn(cables) ?? null;
  const end = far && endOf(facts, far);
  return {
    section: { kind: "section", id: section.id, tag },
    strand: tag,
    number: section.number,
    unit: cables.unitWords(section),
    colours,
    state,
    far: end,
    far_ends: walked.far_ends,
    circuits: circuits.map(circuitRef),
    owner: circuits.find(({ tenant }) => tenant !== null)?.tenant ?? cable?.foreign_owner ?? null,
    why,
    length_m: length_m === null ? null : toMillimetre(length_m),
    assumed: walked.assumed,
    cut: end?.cut === true,
  };
}

const inService = (circuits: readonly Circuit[]): RecordRef[] =>
  circuits.filter(({ state }) => state === "in_service").map(circuitRef);
const distinct = (records: readonly RecordRef[]): RecordRef[] =>
  [...new Map(records.map((one) => [one.id, one])).values()].sort((a, b) =>
    a.tag.localeCompare(b.tag, "en", { numeric: true }),
  );

/** In service by what it is given to, and yet nothing comes over it. */
const isDown = ({ cut, state }: FeedStrand): boolean => cut && (state === "in_service" || state === "leased");

function entrancesOf(cables: readonly FeedCable[]): FeedsAnswer["entrances"] {
  const used = cables.filter(({ passes_only }) => !passes_only);
  return [...Map.groupBy(used, ({ entrance }) => entrance.space?.id ?? 0).values()].map((own) => ({
    place: (own[0] as FeedCable).entrance,
    cables: own.length,
    counts: addUp(own.map(({ counts }) => counts)),
  }));
}

/** How many strands are free from a port here to a port in each other building. */
async function freeTo(reader: Reader, { subject, walks, passed, facts }: Read): Promise<FeedsAnswer["free_to"]> {
  const { cables } = facts;
  const ends = walks.flatMap(({ free, near, far }) => {
    const [here, there] = free ? [portAt(near, passed), portAt(far, passed)] : [null, null];
    return here === null || there === null || here === there ? [] : [{ here, there }];
  });
  await cables.readSpaces(
    reader,
    new Set(ends.flatMap(({ here, there }) => [passed.roomOf(here), passed.roomOf(there)])),
  );
  const taken = new Set<number>();
  const byBuilding = new Map<number, number>();
  for (const { here, there } of ends) {
    const [near, far] = [here, there].map((position) => cables.spaces.get(passed.roomOf(position)));
    const isHere =
      near && (subject.spaces.has(near.id) || (near.building_id !== null && near.building_id === subject.building_id));
    if (!isHere || far?.building_id == null || far.building_id === subject.building_id || taken.has(here)) continue;
    taken.add(here);
    byBuilding.set(far.building_id, (byBuilding.get(far.building_id) ?? 0) + 1);
  }
  const refs = await refsOf(reader, "building", byBuilding.keys());
  const names = new Map(
    [...cables.spaces.values()].map(({ building_id, building_name }) => [building_id, building_name]),
  );
  return [...byBuilding]
    .flatMap(([id, strands]) => {
      const building = refs.get(id);
      return building ? [{ building, name: names.get(id) ?? null, strands }] : [];
    })
    .sort((a, b) => a.building.tag.localeCompare(b.building.tag, "en", { numeric: true }));
}

async function pointsOf(reader: Reader, read: Read, { today }: FeedsOptions): Promise<RecordRef[]> {
  const { subject, walks, glass, passed, facts } = read;
  const sheaths = new Sheaths(subject, facts.cables);
  // Strands of one route are one way; where some glass is broken, or it forks, each is looked at by itself.
  const seen = new Set<Route>();
  const begins = walks.flatMap(({ section, side, route, broken }): Begin[] => {
    if (route && !broken && seen.size === seen.add(route).size) return [];
    return [{ section: section.id, side }];
  });
  let first = true;
  const points = await singlePoints(
    begins,
    sheaths,
    async (around) => {
      if (!first) return readAround(reader, around, today, sheaths);
      first = false;
      const { positions } = reachedFrom(glass, begins);
      const rooms = new Set([...positions].map((position) => passed.roomOf(position)));
      await facts.cables.readSpaces(reader, rooms);
      return { glass, facts: passed };
    },
    (room) => landedIn(reader, room),
  );
  const tags = {
    space: await refsOf(reader, "space", idsOfKind(points, "space")),
    pathway: await refsOf(reader, "pathway", idsOfKind(points, "pathway")),
  };
  return points.flatMap(({ kind, id }) => tags[kind].get(id) ?? []);
}

const idsOfKind = (points: readonly { kind: "space" | "pathway"; id: number }[], kind: "space" | "pathway"): number[] =>
  points.filter((point) => point.kind === kind).map(({ id }) => id);
