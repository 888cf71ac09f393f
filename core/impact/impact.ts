/**
 * What is lost with some places, pathways, pipes, cables or a stretch of a cable. All is read by index from what lies in
 * them, so that the answer costs what is lost and the buildings it feeds, however large the plant is.
 */

import { sectionEnd } from "../glass/end.ts";
import { CARRIES } from "../glass/glass.ts";
import type { PlantGlass } from "../glass/held-glass.ts";
import { glassAround } from "../glass/line-glass.ts";
import { FROM, RUNS, runsOf, TO } from "../glass/runs.ts";
import { Service } from "../glass/service.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import type { ImpactAnswer, ImpactCable, ImpactCircuit, ImpactDiverse } from "./answer.ts";
import { buildingsHit } from "./buildings.ts";
import { type Declared, declaredOf, Hits, hitByLines, hitRiders } from "./circuits.ts";
import { type Course, readCourses } from "./courses.ts";
import { type Hit, hitsOf, type LostSection, lostSections, type SectionRow } from "./hits.ts";
import { type Line, linesThrough } from "./lines.ts";
import { type Asked, askedOf, cablesIn, inDoubt, type What } from "./lost.ts";
import { byTag, Named } from "./named.ts";
import { circuitsAtRooms } from "./serves.ts";
import { CAUTIONS, sentenceOf } from "./wording.ts";

export interface ImpactOptions {
  readonly today: string;
  /** The plant's glass, where it is in memory; else what is needed of it is read. */
  readonly held: PlantGlass | null;
}

/** What lies in the things asked about, before it is put in words. */
interface Lost {
  readonly asked: readonly Asked[];
  readonly hits: ReadonlyMap<number, readonly Hit[]>;
  readonly courses: ReadonlyMap<number, Course>;
  readonly sections: readonly LostSection[];
  /** Sections on record of each cable that is hit. */
  readonly all: readonly SectionRow[];
  readonly unknown: readonly string[];
}

export const impactOf = async (reader: Reader, what: readonly What[], options: ImpactOptions): Promise<ImpactAnswer> =>
  (await impactByGlass(reader, what, options)).answer;

export interface ImpactByGlass {
  readonly answer: ImpactAnswer;
  readonly sections: readonly LostSection[];
  /** The circuits whose line runs through a lost section, and those that ride on them, by section. */
  readonly circuitsOn: ReadonlyMap<number, readonly number[]>;
}

/** The same, and which circuit hangs on which lost section. */
export async function impactByGlass(
  reader: Reader,
  what: readonly What[],
  options: ImpactOptions,
): Promise<ImpactByGlass> {
  const { today } = options;
  const asked = await askedOf(reader, what);
  const lost = await lostOf(reader, asked);
  const { lines, service } = await linesOf(reader, lost.sections, options);
  const hits = new Hits();
  await hitByLines(reader, hits, lost.sections, lines, service, options);
  for (const [n, { spaces }] of asked.entries()) {
    for (const id of await circuitsAtRooms(reader, spaces)) hits.add(id, "port", [], [n]);
  }
  await hitRiders(reader, hits);
  await service.readCircuits(reader, new Set(hits.byId.keys()));
  const declared = await declaredOf(reader, hits.byId.keys());
  await service.readCircuits(reader, new Set(declared.flatMap(({ circuit_id, other_id }) => [circuit_id, other_id])));

  const buildings = await buildingsHit(reader, { asked, hits, service, lines, today });
  const named = new Named();
  named.want("circuit", [...service.circuits.keys()]);
  named.want(
    "cable",
    lost.sections.map(({ cable_id }) => cable_id),
  );
  wantRests(named, lost);
  await named.read(reader);
  const circuits = circuitsOf(hits, service, declared, named);
  const answer = {
    lost: asked.map(({ thing }) => thing),
    cables: cablesOf(lost, named),
    strands: new Set(lost.sections.map(({ strand_id }) => strand_id)).size,
    circuits,
    by_priority: byPriority(circuits),
    buildings,
    diverse: diverseOf(hits, declared, asked, named),
    unknown: lost.unknown,
  };
  return {
    answer: { ...answer, sentence: sentenceOf(answer), cautions: answer.circuits.length > 0 ? CAUTIONS : [] },
    sections: lost.sections,
    circuitsOn: circuitsOn(hits),
  };
}

function circuitsOn(hits: Hits): Map<number, number[]> {
  const on = new Map<number, number[]>();
  for (const { id, sections } of hits.byId.values()) {
    for (const section of sections) {
      const own = on.get(section);
      if (own) own.push(id);
      else on.set(section, [id]);
    }
  }
  return on;
}

const SECTIONS = `select s.id, s.strand_id, t.cable_id, ifnull(s.a_stop_id, 0) as a_stop, ifnull(s.b_stop_id, 0) as b_stop
  from strand t cross join section s on s.strand_id = t.id where t.cable_id in (select value from json_each(?))
  order by t.cable_id, t.number, s.ordinal`;

async function lostOf(reader: Reader, asked: readonly Asked[]): Promise<Lost> {
  const courses = await readCourses(reader, await cablesIn(reader, asked));
  const unknown = await cablesAlone(reader, asked, courses);
  const hits = new Map<number, Hit[]>();
  for (const course of courses.values()) {
    const own = hitsOf(course, asked);
    if (own.length > 0) hits.set(course.cable, own);
  }
  const cables = new Set([...hits.keys(), ...asked.map(({ cable }) => cable)]);
  const all = await reader.rows<SectionRow>(SECTIONS, [JSON.stringify([...cables])]);
  const doubtful = new Set<number>();
  const sections = lostSections(all, courses, hits, asked, (cable) => doubtful.add(cable));
  const known = new Set(sections.map(({ id }) => id));
  for (const section of await landedIn(reader, asked)) if (!known.has(section.id)) sections.push(section);
  const named = new Named();
  named.want("cable", doubtful);
  await named.read(reader);
  unknown.push(...(await inDoubt(reader, asked)));
  for (const { tag } of named.all("cable", doubtful)) {
    unknown.push(
      say`Where some glass of ${tag} ends is not known well enough: what may lie in the loss is counted as lost.`,
    );
  }
  return { asked, hits, courses, sections, all, unknown };
}

/** Cables asked about by themselves that have no course: those that are in place get an empty one, of others is told. */
async function cablesAlone(reader: Reader, asked: readonly Asked[], courses: Map<number, Course>): Promise<string[]> {
  const words: string[] = [];
  for (const { cable, thing } of asked) {
    if (cable === 0 || courses.has(cable)) continue;
    const [row] = await reader.rows<{ there: number }>(`select life in ${CARRIES} as there from cable where id = ?`, [
      cable,
    ]);
    if (row?.there === 1) courses.set(cable, { cable, stops: [], hops: [] });
    else words.push(say`${thing.record.tag} is not in place: nothing is lost with it.`);
  }
  return words;
}

/** Glass that lands on ports in lost rooms, whatever its cable's stops say. */
async function landedIn(reader: Reader, asked: readonly Asked[]): Promise<LostSection[]> {
  const rooms = JSON.stringify([...new Set(asked.flatMap(({ spaces }) => [...spaces]))]);
  if (rooms === "[]") return [];
  type Landed = SectionRow & { readonly room: number };
  const ports = `select p.id, q.space_id as room from panel q cross join port p on p.panel_id = q.id
      where q.space_id in (select value from json_each(?))
    union select p.id, q.space_id from panel q cross join module m on m.panel_id = q.id
      cross join port p on p.module_id = m.id where q.space_id in (select value from json_each(?))
    union select p.id, m.space_id from module m cross join port p on p.module_id = m.id
      where m.space_id in (select value from json_each(?))`;
  const rows = await reader.rows<Landed>(
    `select s.id, s.strand_id, t.cable_id, ifnull(s.a_stop_id, 0) as a_stop, ifnull(s.b_stop_id, 0) as b_stop, o.room
     from (${ports}) o cross join position po on po.port_id = o.id
       cross join termination e on e.position_id = po.id and e.life in ${CARRIES}
       cross join section s on s.id = e.section_id cross join strand t on t.id = s.strand_id
       cross join cable c on c.id = t.cable_id and c.life in ${CARRIES}`,
    [rooms, rooms, rooms],
  );
  return [...Map.groupBy(rows, ({ id }) => id).values()].map((own) => ({
    ...(own[0] as Landed),
    by: new Set(own.flatMap(({ room }) => asked.flatMap(({ spaces }, n) => (spaces.has(room) ? [n] : [])))),
  }));
}

/** The lines through lost sections, and what their glass is given to. */
async function linesOf(
  reader: Reader,
  lost: readonly LostSection[],
  { today, held }: ImpactOptions,
): Promise<{ lines: Line[]; service: Service }> {
  const ids = lost.map(({ id }) => id);
  const glass = held
    ? await held.on(reader, today)
    : await glassAround(
        reader,
        ids.flatMap((id) => [sectionEnd(id, "A"), sectionEnd(id, "B")]),
        today,
      );
  const lines = linesThrough(glass, ids);
  const passed = new Set(ids);
  for (const { sections } of lines) for (const id of sections) passed.add(id);
  const given = held ? [...passed].filter((id) => held.service.isGiven(id)) : await givenAmong(reader, passed);
  return { lines, service: await Service.read(reader, given, today, glass) };
}

/** Most glass is given to nothing: neighbours are looked up together. */
async function givenAmong(reader: Reader, sections: Iterable<number>): Promise<number[]> {
  const rows = await reader.lists(
    `select distinct a.section_id from ${RUNS} cross join assignment a on a.section_id between ${FROM} and ${TO}`,
    [runsOf(sections)],
  );
  return rows.map(([id]) => id as number);
}

function wantRests(named: Named, { hits, courses }: Lost): void {
  for (const [cable, own] of hits) {
    for (const { index, leg } of own) {
      if (leg > 0) named.want("leg", [leg]);
      else named.want("stop", [courses.get(cable)?.stops[index]?.id ?? 0]);
    }
  }
}

function cablesOf({ asked, hits, courses, sections, all }: Lost, named: Named): ImpactCable[] {
  const strandsOf = Map.groupBy(all, ({ cable_id }) => cable_id);
  return [...Map.groupBy(sections, ({ cable_id }) => cable_id)]
    .map(([cable, own]) => {
      const by = [...new Set(own.flatMap((section) => [...section.by]))].sort((a, b) => a - b);
      const course = courses.get(cable);
      const stops = (hits.get(cable) ?? []).map(({ index, leg }) =>
        leg > 0 ? named.of("leg", leg) : named.of("stop", course?.stops[index]?.id ?? 0),
      );
      return {
        cable: named.of("cable", cable),
        strands: new Set(own.map(({ strand_id }) => strand_id)).size,
        of: new Set((strandsOf.get(cable) ?? own).map(({ strand_id }) => strand_id)).size,
        by: by.flatMap((n) => asked[n]?.thing.record ?? []),
        rests_on: by.some((n) => asked[n]?.cable === cable) ? [named.of("cable", cable), ...stops] : stops,
      };
    })
    .sort((a, b) => byTag(a.cable, b.cable));
}

function circuitsOf(hits: Hits, service: Service, declared: readonly Declared[], named: Named): ImpactCircuit[] {
  const partners = new Map<number, Set<number>>();
  const join = (one: number, other: number) => partners.set(one, (partners.get(one) ?? new Set()).add(other));
  for (const { circuit_id, other_id } of declared) {
    join(circuit_id, other_id);
    join(other_id, circuit_id);
  }
  const found = [...hits.byId.values()].flatMap(({ id, how, cables }): ImpactCircuit[] => {
    const circuit = service.circuits.get(id);
    if (!circuit || circuit.state === "retired") return [];
    const diverse = [...(partners.get(id) ?? [])];
    return [
      {
        circuit: named.of("circuit", id),
        name: circuit.name,
        priority: circuit.priority,
        state: circuit.state,
        owner: circuit.tenant,
        how,
        cables: named.all("cable", cables),
        rides_on: circuit.rides_on_id === null ? null : named.of("circuit", circuit.rides_on_id),
        stays: named.all(
          "circuit",
          diverse.filter((other) => !hits.byId.has(other) && service.circuits.get(other)?.state === "in_service"),
        ),
        also_hit: named.all(
          "circuit",
          diverse.filter((other) => hits.byId.has(other)),
        ),
      },
    ];
  });
  const late = (priority: number | null): number => priority ?? 99;
  const order = ["in_service", "reserved", "planned"];
  return found.sort(
    (a, b) =>
      late(a.priority) - late(b.priority) ||
      order.indexOf(a.state) - order.indexOf(b.state) ||
      byTag(a.circuit, b.circuit),
  );
}

const byPriority = (circuits: readonly ImpactCircuit[]): ImpactAnswer["by_priority"] =>
  [...Map.groupBy(circuits, ({ priority }) => priority)].map(([priority, own]) => {
    const in_service = own.filter(({ state }) => state === "in_service").length;
    return { priority, in_service, other: own.length - in_service };
  });

function diverseOf(hits: Hits, declared: readonly Declared[], asked: readonly Asked[], named: Named): ImpactDiverse[] {
  const told = new Set<string>();
  return declared.flatMap(({ circuit_id, other_id }) => {
    const [one, other] = [hits.byId.get(circuit_id), hits.byId.get(other_id)];
    const key = [circuit_id, other_id].sort((a, b) => a - b).join(" ");
    if (!one || !other || told.size === told.add(key).size) return [];
    const both = [...one.by].filter((n) => other.by.has(n));
    return [
      {
        circuit: named.of("circuit", circuit_id),
        other: named.of("circuit", other_id),
        shared: both.sort((a, b) => a - b).flatMap((n) => asked[n]?.thing.record ?? []),
      },
    ];
  });
}
