/** What circuits that were declared diverse share: cables, pipes, pathways and places along all their glass. */
import { idOf, isPosition, NOWHERE, sideOf } from "../glass/end.ts";
import type { PlantGlass } from "../glass/held-glass.ts";
import { HOLDS } from "../glass/line-glass.ts";
import { ROOM, ROOM_JOINS } from "../glass/rooms.ts";
import { FROM, RUNS, runsOf, TO } from "../glass/runs.ts";
import { pick } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { DiverseAnswer, DiversePair, SharedThing } from "./answer.ts";
import { type Declared, declaredOf } from "./circuits.ts";
import { type Course, elementsBetween, readCourses } from "./courses.ts";
import { type Line, linesThrough } from "./lines.ts";
import { byTag, fewOf, Named } from "./named.ts";
import { glassOfSections } from "./section-glass.ts";

/** Where one circuit's light runs, as far as the record says. */
export interface Ground {
  readonly cables: Set<number>;
  /** Keys such as `space 4`. */
  readonly elements: Set<string>;
  /** Spaces it ends in. */
  readonly ends: Set<number>;
  readonly unknown: Set<string>;
  /** Cables whose way is not wholly on record. */
  readonly gaps: Set<number>;
}

export interface GroundOptions {
  readonly today: string;
  /** The plant's glass, where it is in memory; else what is needed of it is read. */
  readonly held: PlantGlass | null;
}

type SectionFact = [id: number, cable: number, a: number, b: number];

/**
 * @param circuit only the pairs of this circuit; null for all pairs on record
 */
export async function diverseOf(
  reader: Reader,
  circuit: string | number | null,
  options: GroundOptions,
): Promise<DiverseAnswer> {
  const of = circuit === null ? null : await pick(reader, circuit, { kinds: ["circuit"], field: "circuit" });
  const declared = await declaredOf(reader, of ? [of.id] : await allDeclared(reader));
  const circuits = [...new Set(declared.flatMap(({ circuit_id, other_id }) => [circuit_id, other_id]))];
  const grounds = await groundsOf(reader, circuits, options);
  const named = new Named();
  named.want("circuit", circuits);
  named.want(
    "diversity",
    declared.map(({ id }) => id),
  );
  const cables = declared.flatMap(({ circuit_id, other_id }) =>
    [circuit_id, other_id].flatMap((id) => [...(grounds.get(id)?.cables ?? []), ...(grounds.get(id)?.gaps ?? [])]),
  );
  named.want("cable", cables);
  for (const { circuit_id, other_id } of declared) {
    const [one, other] = [grounds.get(circuit_id), grounds.get(other_id)];
    for (const key of one?.elements ?? []) {
      if (!other?.elements.has(key)) continue;
      const [kind, id] = key.split(" ") as ["space" | "pathway" | "conduit", string];
      named.want(kind, [Number(id)]);
    }
  }
  await named.read(reader);
  const pairs = declared.map((pair) => pairOf(pair, grounds, named)).sort((a, b) => byTag(a.circuit, b.circuit));
  return { pairs, sentence: sentenceOf(pairs, of) };
}

/** Where the light of some circuits runs: over the glass they are given, that of those they ride on, and what is joined. */
export async function groundsOf(
  reader: Reader,
  circuits: readonly number[],
  { today, held }: GroundOptions,
): Promise<Map<number, Ground>> {
  const given = await glassOf(reader, circuits, today);
  const sections = [...new Set([...given.values()].flatMap((own) => [...own]))];
  const glass = await glassOfSections(reader, sections, { today, held });
  const lines = new Map(linesThrough(glass, sections).map((line) => [line.section, line]));
  const facts = await Facts.read(reader, lines.values());
  const ports = await portRooms(reader, circuits);
  return new Map(
    circuits.map((id) => {
      const own = [...(given.get(id) ?? [])].flatMap((section) => lines.get(section) ?? []);
      return [id, facts.groundOf(own, ports.get(id) ?? new Set())];
    }),
  );
}

const allDeclared = async (reader: Reader): Promise<number[]> =>
  (await reader.lists("select distinct circuit_id from diversity")).map(([id]) => id as number);

/** The sections that circuits, and those they ride on, hold today. */
async function glassOf(reader: Reader, circuits: readonly number[], today: string): Promise<Map<number, Set<number>>> {
  const rows = await reader.lists(
    `with recursive up (circuit, carrier) as (
       select value, value from json_each(?)
       union select u.circuit, c.rides_on_id from up u join circuit c on c.id = u.carrier where c.rides_on_id is not null)
     select u.circuit, a.section_id from up u cross join assignment a on a.circuit_id = u.carrier
       cross join circuit c on c.id = u.carrier where ${HOLDS}`,
    [JSON.stringify(circuits), today, today],
  );
  const glass = new Map<number, Set<number>>();
  for (const [circuit, section] of rows as [number, number][]) {
    glass.set(circuit, (glass.get(circuit) ?? new Set()).add(section));
  }
  return glass;
}

/** The rooms of the A and Z ports of circuits; 0 for an end without one. */
async function portRooms(reader: Reader, circuits: readonly number[]): Promise<Map<number, Set<number>>> {
  const ids = JSON.stringify(circuits);
  const end = (own: "a" | "z") => `select c.id, ifnull(${ROOM}, 0) from circuit c
    left join port p on p.id = c.${own}_port_id ${ROOM_JOINS} where c.id in (select value from json_each(?))`;
  const rooms = new Map<number, Set<number>>();
  for (const [circuit, room] of (await reader.lists(`${end("a")} union ${end("z")}`, [ids, ids])) as [
    number,
    number,
  ][]) {
    rooms.set(circuit, (rooms.get(circuit) ?? new Set()).add(room));
  }
  return rooms;
}

class Facts {
  readonly #sections = new Map<number, SectionFact>();
  readonly #rooms = new Map<number, number>();
  readonly #place = new Map<number, number>();
  #courses: ReadonlyMap<number, Course> = new Map();

  static async read(reader: Reader, lines: Iterable<Line>): Promise<Facts> {
    const facts = new Facts();
    const [sections, positions] = [new Set<number>(), new Set<number>()];
    for (const line of lines) {
      sections.add(line.section);
      for (const id of line.sections) sections.add(id);
      for (const id of line.positions) positions.add(id);
    }
    const rows = await reader.lists(
      `select s.id, t.cable_id, ifnull(s.a_stop_id, 0), ifnull(s.b_stop_id, 0) from ${RUNS}
         cross join section s on s.id between ${FROM} and ${TO} cross join strand t on t.id = s.strand_id`,
      [runsOf(sections)],
    );
    for (const row of rows as SectionFact[]) if (sections.has(row[0])) facts.#sections.set(row[0], row);
    const rooms = await reader.lists(
      `select po.id, ifnull(${ROOM}, 0) from ${RUNS} cross join position po on po.id between ${FROM} and ${TO}
         cross join port p on p.id = po.port_id ${ROOM_JOINS}`,
      [runsOf(positions)],
    );
    for (const [id, room] of rooms as [number, number][]) facts.#rooms.set(id, room);
    facts.#courses = await readCourses(reader, new Set([...facts.#sections.values()].map(([, cable]) => cable)));
    for (const { stops } of facts.#courses.values()) for (const [n, { id }] of stops.entries()) facts.#place.set(id, n);
    return facts;
  }

  groundOf(lines: readonly Line[], ports: ReadonlySet<number>): Ground {
    const ground: Ground = {
      cables: new Set(),
      elements: new Set(),
      ends: new Set([...ports].filter((room) => room > 0)),
      unknown: new Set(),
      gaps: new Set(),
    };
    for (const room of ground.ends) ground.elements.add(`space ${room}`);
    if (lines.length === 0) ground.unknown.add(say`is given no glass`);
    const toEnds = ports.size === 0 || ports.has(0);
    for (const line of lines) {
      for (const id of [line.section, ...line.sections]) this.#section(ground, id);
      for (const id of line.positions) {
        const room = this.#rooms.get(id) ?? 0;
        if (room > 0) ground.elements.add(`space ${room}`);
        else ground.unknown.add(say`passes a port whose room is not on record`);
      }
      // Where no port is on record for an end, it is where the line stops.
      for (const end of toEnds ? line.ends : []) {
        if (end === NOWHERE) continue;
        const space = isPosition(end) ? (this.#rooms.get(idOf(end)) ?? 0) : this.#spaceOf(idOf(end), sideOf(end));
        if (space > 0) ground.ends.add(space);
      }
    }
    return ground;
  }

  #spaceOf(section: number, side: "A" | "B"): number {
    const [, cable = 0, a = 0, b = 0] = this.#sections.get(section) ?? [];
    return this.#courses.get(cable)?.stops[this.#place.get(side === "A" ? a : b) ?? -1]?.space ?? 0;
  }

  #section(ground: Ground, id: number): void {
    const [, cable = 0, a = 0, b = 0] = this.#sections.get(id) ?? [];
    if (cable === 0) return;
    ground.cables.add(cable);
    const course = this.#courses.get(cable);
    const [one, other] = [this.#place.get(a), this.#place.get(b)];
    if (!course || one === undefined || other === undefined) {
      ground.gaps.add(cable);
      return;
    }
    const [from, to] = [Math.min(one, other), Math.max(one, other)];
    for (const { kind, id: element } of elementsBetween(course, from, to)) ground.elements.add(`${kind} ${element}`);
    for (let at = from; at <= to; at += 1) {
      if (course.stops[at]?.space === 0) ground.gaps.add(cable);
      const hop = course.hops[at] ?? [];
      if (at < to && (hop.length === 0 || hop.some(({ pathway }) => pathway === 0))) ground.gaps.add(cable);
    }
  }
}

function pairOf(
  { id, circuit_id, other_id }: Declared,
  grounds: ReadonlyMap<number, Ground>,
  named: Named,
): DiversePair {
  const [one, other] = [grounds.get(circuit_id) as Ground, grounds.get(other_id) as Ground];
  const shared: SharedThing[] = named
    .all(
      "cable",
      [...one.cables].filter((cable) => other.cables.has(cable)),
    )
    .map((record) => ({ record, both_end_here: false }));
  const places: SharedThing[] = [];
  for (const key of one.elements) {
    if (!other.elements.has(key)) continue;
    const [kind, number] = key.split(" ") as ["space" | "pathway" | "conduit", string];
    const both_end_here = kind === "space" && one.ends.has(Number(number)) && other.ends.has(Number(number));
    places.push({ record: named.of(kind, Number(number)), both_end_here });
  }
  const order = ["conduit", "pathway", "space"];
  places.sort(
    (a, b) =>
      Number(a.both_end_here) - Number(b.both_end_here) ||
      order.indexOf(a.record.kind) - order.indexOf(b.record.kind) ||
      byTag(a.record, b.record),
  );
  shared.push(...places);
  const [circuit, diverse] = [named.of("circuit", circuit_id), named.of("circuit", other_id)];
  const unknown = [
    ...[...one.unknown].map((words) => `${circuit.tag} ${words}.`),
    ...[...other.unknown].map((words) => `${diverse.tag} ${words}.`),
    ...named
      .all("cable", new Set([...one.gaps, ...other.gaps]))
      .map(({ tag }) => say`The way of ${tag} is not wholly on record.`),
  ];
  const risks = shared.filter(({ both_end_here }) => !both_end_here).map(({ record }) => record.tag);
  const verdict = risks.length > 0 ? "shared" : unknown.length > 0 ? "unknown" : "separate";
  const words = {
    shared: say`${circuit.tag} and ${diverse.tag} both run through ${fewOf(risks)}.`,
    unknown: say`Whether ${circuit.tag} and ${diverse.tag} share a way can't be told: the record has gaps.`,
    separate: say`${circuit.tag} and ${diverse.tag} share nothing but the places they both end in.`,
  };
  return {
    circuit,
    other: diverse,
    diversity: named.of("diversity", id),
    shared,
    verdict,
    unknown,
    sentence: words[verdict],
  };
}

function sentenceOf(pairs: readonly DiversePair[], of: RecordRef | null): string {
  if (pairs.length === 0)
    return of ? say`${of.tag} is declared diverse from no circuit.` : say`No circuits are declared diverse.`;
  const [only] = pairs;
  if (pairs.length === 1 && only) return only.sentence;
  const count = (verdict: DiversePair["verdict"]) => pairs.filter((pair) => pair.verdict === verdict).length;
  return say`Of ${counted(pairs.length, "pair")} declared diverse, ${count("shared")} share a way, ${count("separate")} don't, and of ${count("unknown")} the record can't tell.`;
}
