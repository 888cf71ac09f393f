/**
 * Whether circuits in service run from A to Z over their own glass. The one walk goes over a view of the plant's glass
 * that has no sections but those given to the circuit, or to one it rides on; so it ends where the circuit's glass ends.
 */
import { type CircuitPortRow, PORTS_OF_ALL_CIRCUITS } from "../glass/circuit-ports.ts";
import { across, idOf, isFront, isPosition, NOWHERE, positionEnd, sideOf } from "../glass/end.ts";
import { ASSUMED, type Glass } from "../glass/glass.ts";
import type { PlantGlass } from "../glass/plant-glass.ts";
import { dayNumber } from "../glass/plant-tables.ts";
import { type Walk, walk } from "../glass/walk.ts";
import type { KindName, Row } from "../model/dictionary.ts";
import { say } from "../words/say.ts";
import type { Ground } from "./rule.ts";

export type InService = Pick<
  Row<"circuit">,
  "id" | "tag" | "strands" | "a_port_id" | "z_port_id" | "a_party_id" | "z_party_id"
>;

/** Where a line that doesn't arrive stops. `unknown`: not the glass but the record ends there. */
export interface Stopping {
  readonly words: string;
  readonly unknown: boolean;
  readonly record: readonly [KindName, number] | null;
}

export interface CircuitLines {
  readonly circuit: InService;
  readonly needed: number;
  /** Sections given to it today, its carriers' left out. */
  readonly given: readonly number[];
  /** Whether it, or one it rides on, is given any. */
  readonly hasGlass: boolean;
  /** Lines from A that arrive at Z; null where neither end has a port of ours. */
  readonly arrive: number | null;
  /** Where those that don't arrive stop; told only when too few arrive. */
  readonly stops: readonly Stopping[];
  /** Own sections on the lines that arrive. */
  readonly onLine: ReadonlySet<number>;
  /** Ports that assumed cords join on the way. */
  readonly assumed: readonly (readonly [number, number])[];
}

/** The plant's glass without the sections of others. */
class OwnGlass implements Glass {
  readonly #base: Glass;
  readonly #own: ReadonlySet<number>;

  constructor(base: Glass, own: ReadonlySet<number>) {
    this.#base = base;
    this.#own = own;
  }
  first(end: number): number {
    return this.#passing(this.#base.first(end));
  }
  next(handle: number): number {
    return this.#passing(this.#base.next(handle));
  }
  #passing(handle: number): number {
    let at = handle;
    while (at >= 0) {
      const to = this.#base.to(at);
      if (to === NOWHERE || isPosition(to) || this.#own.has(idOf(to))) break;
      at = this.#base.next(at);
    }
    return at;
  }
  to(handle: number): number {
    return this.#base.to(handle);
  }
  kind(handle: number): number {
    return this.#base.kind(handle);
  }
  id(handle: number): number {
    return this.#base.id(handle);
  }
}

/** Every circuit in service that has an A and a Z end on record, each once a report. */
export const circuitLines = (ground: Ground): Promise<CircuitLines[]> =>
  ground.once("circuit lines", () => readLines(ground));

async function readLines(ground: Ground): Promise<CircuitLines[]> {
  const { reader, today } = ground;
  const plant = await ground.glass();
  const glass = await plant.on(reader, today);
  const circuits = await reader.rows<InService>(
    `select id, tag, strands, a_port_id, z_port_id, a_party_id, z_party_id from circuit
     where state = 'in_service' and coalesce(a_port_id, -1) <> coalesce(z_port_id, -2)
       and coalesce(a_port_id, a_party_id) is not null and coalesce(z_port_id, z_party_id) is not null order by id`,
  );
  const carriers = new Map(
    (
      await reader.rows<{ id: number; rides_on_id: number }>(
        "select id, rides_on_id from circuit where rides_on_id is not null",
      )
    ).map(({ id, rides_on_id }) => [id, rides_on_id]),
  );
  const positions = Map.groupBy(
    await reader.rows<CircuitPortRow>(PORTS_OF_ALL_CIRCUITS),
    ({ circuit_id, end }) => `${circuit_id} ${end}`,
  );
  const severed = new Set(
    (await reader.rows<{ id: number }>("select id from stop where kind = 'severed'")).map(({ id }) => id),
  );
  const lines: CircuitLines[] = [];
  for (const [index, circuit] of circuits.entries()) {
    const given = givenOn(plant, circuit.id, today);
    const own = new Set(given);
    const seen = new Set([circuit.id]);
    for (let id = carriers.get(circuit.id); id !== undefined && !seen.has(id); id = carriers.get(id)) {
      seen.add(id);
      for (const section of givenOn(plant, id, today)) own.add(section);
    }
    const at = (end: "A" | "Z"): number[] => (positions.get(`${circuit.id} ${end}`) ?? []).map(({ id }) => id);
    lines.push(linesOf(plant, glass, { circuit, given, own, severed, a: at("A"), z: at("Z") }));
    if (index % 1000 === 999) await ground.breathe();
  }
  return lines;
}

/** Sections a circuit is given on a day, each once. */
export function givenOn(plant: PlantGlass, circuit: number, today: string): number[] {
  const { assignment } = plant.tables;
  const day = dayNumber(today);
  const sections = new Set<number>();
  for (const id of plant.service.ofCircuit(circuit)) {
    const until = assignment.until_on.get(id);
    if (assignment.from_on.get(id) > day || (until > 0 && until <= day)) continue;
    sections.add(assignment.section.get(id));
  }
  return [...sections];
}

interface Asked {
  readonly circuit: InService;
  readonly given: readonly number[];
  readonly own: ReadonlySet<number>;
  /** Stops at which a cable is severed. */
  readonly severed: ReadonlySet<number>;
  /** Positions of its A and Z ports. */
  readonly a: readonly number[];
  readonly z: readonly number[];
}

function linesOf(plant: PlantGlass, base: Glass, { circuit, given, own, severed, a, z }: Asked): CircuitLines {
  const needed = circuit.strands ?? 1;
  const glass = new OwnGlass(base, own);
  const onLine = new Set<number>();
  const assumed = new Map<string, readonly [number, number]>();
  const note = (walked: Walk, steps: readonly number[]): void => {
    for (const step of steps) {
      const to = walked.to[step] as number;
      if (to !== NOWHERE && !isPosition(to)) onLine.add(idOf(to));
      if (walked.kind[step] !== ASSUMED) continue;
      const port = (end: number) => plant.tables.position.port.get(idOf(end));
      const pair = [port(walked.outAfter(walked.before[step] as number)), port(to)].sort((x, y) => x - y);
      assumed.set(pair.join(" "), pair as [number, number]);
    }
  };
  const stopped = { plant, base, own: glass, severed };
  const known = { circuit, needed, given, hasGlass: own.size > 0, onLine };
  const done = (arrive: number | null, stops: readonly Stopping[]): CircuitLines => ({
    ...known,
    arrive,
    stops,
    assumed: [...assumed.values()],
  });
  // Handed over at an end: what is ours of the line must only be there; where the party takes it is theirs to say.
  if (a.length === 0 || z.length === 0) {
    const here = a.length > 0 ? a : z;
    if (here.length === 0) return done(null, []);
    const tried = here.map((id) => walksFrom(plant, glass, id));
    const going = tried.filter((walks) => walks.some((walked) => touches(walked)));
    for (const walks of going) for (const walked of walks) note(walked, [...walked.to.keys()]);
    return going.length >= needed ? done(going.length, []) : done(going.length, stoppings(stopped, tried));
  }
  const targets = new Set(z);
  let arrive = 0;
  const failed: Walk[][] = [];
  for (const id of a) {
    const walks = walksFrom(plant, glass, id);
    const found = walks.flatMap((walked) => {
      const step = walked.to.findIndex((to) => to !== NOWHERE && isPosition(to) && targets.has(idOf(to)));
      return step < 0 ? [] : [{ walked, step }];
    });
    const [line] = found;
    if (!line) failed.push(walks);
    else {
      arrive += 1;
      note(line.walked, line.walked.pathTo(line.step));
    }
  }
  if (arrive >= needed) return done(arrive, []);
  const back = z
    .map((id) => walksFrom(plant, glass, id))
    .filter((walks) => !walks.some(({ to }) => to.some((end) => isPosition(end) && a.includes(idOf(end)))));
  for (const walks of [...failed, ...back]) {
    for (const walked of walks) if (touches(walked)) note(walked, [...walked.to.keys()]);
  }
  return done(arrive, stoppings(stopped, failed, back));
}

/** From a position both ways; equipment has only a front. */
const walksFrom = (plant: PlantGlass, glass: Glass, position: number): Walk[] =>
  (plant.isDevice(position) ? (["front"] as const) : (["back", "front"] as const)).map((face) =>
    walk(glass, positionEnd(position, face)),
  );

const sectionsAlong = (walked: Walk, steps: Iterable<number>): number => {
  let count = 0;
  for (const step of steps) {
    const to = walked.to[step] as number;
    if (to !== NOWHERE && !isPosition(to)) count += 1;
  }
  return count;
};
const touches = (walked: Walk): boolean => sectionsAlong(walked, walked.to.keys()) > 0;

interface Among {
  readonly plant: PlantGlass;
  /** All glass, and that of the circuit alone. */
  readonly base: Glass;
  readonly own: Glass;
  readonly severed: ReadonlySet<number>;
}

/** Where the lines stop that should go on: of those that go over the circuit's own glass, if any do. */
function stoppings(among: Among, ...ends: readonly (readonly Walk[][])[]): Stopping[] {
  const stops = new Map<string, Stopping>();
  for (const walks of ends) {
    const touching = walks.flatMap((pair) => pair.filter(touches));
    // A port's bare side says nothing while the other leads somewhere.
    const looked =
      touching.length > 0 ? touching : walks.map((pair) => pair.find(({ steps }) => steps > 0) ?? pair.at(-1));
    for (const walked of looked) {
      if (!walked) continue;
      const [far] = walked
        .leaves()
        .map((leaf) => ({ leaf, sections: sectionsAlong(walked, walked.pathTo(leaf)) }))
        .sort((x, y) => y.sections - x.sections);
      const stop = stoppingAt(among, walked, far?.leaf ?? -1);
      stops.set(`${stop.words} ${stop.record?.join(" ")}`, stop);
    }
  }
  return [...stops.values()];
}

function stoppingAt({ plant, base, own, severed }: Among, walked: Walk, step: number): Stopping {
  const why = step < 0 ? "end" : walked.stop[step];
  const to = step < 0 ? across(walked.start) : (walked.to[step] as number);
  if (to === NOWHERE) {
    return { words: say`a cord hangs loose`, unknown: false, record: ["cord", walked.id[step] as number] };
  }
  const record = recordOf(plant, to);
  if (why === "ring" || why === "again") return { words: say`the line comes back to itself`, unknown: false, record };
  if (why === "unshown") return { words: say`there are more forks than can be followed`, unknown: true, record };
  const out = across(to);
  if (own.first(out) < 0 && base.first(out) >= 0) {
    const next = base.to(base.first(out));
    const other = next === NOWHERE ? record : recordOf(plant, next);
    return { words: say`it goes on over glass that is not given to it`, unknown: false, record: other };
  }
  if (!isPosition(out)) {
    const stop = plant.stopOf(idOf(out), sideOf(out));
    if (severed.has(stop)) return { words: say`the glass is cut`, unknown: false, record };
    const known = stop > 0 && plant.tables.stop.space.get(stop) > 0;
    return known
      ? { words: say`the glass ends open`, unknown: false, record }
      : { words: say`the record doesn't say where the glass ends`, unknown: true, record };
  }
  const port = plant.tables.position.port.get(idOf(out));
  // From equipment light only goes out; where it arrives there, it arrives at the wrong equipment.
  if (plant.isDevice(idOf(out)) && step >= 0)
    return { words: say`it arrives at other equipment`, unknown: false, record };
  if (!isFront(out)) return { words: say`nothing is on record behind the port`, unknown: true, record };
  return plant.tables.port.may_hold_cord.get(port) === 1
    ? { words: say`no cord is on record`, unknown: true, record }
    : { words: say`the port was seen empty`, unknown: false, record };
}

const recordOf = (plant: PlantGlass, end: number): readonly [KindName, number] =>
  isPosition(end) ? ["port", plant.tables.position.port.get(idOf(end))] : ["section", idOf(end)];
