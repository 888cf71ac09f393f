/** What walks of a bulk question need of the glass they pass: from memory, or read in one set for what they reach. */
import type { PlantGlass } from "../glass/held-glass.ts";
import { CONDITIONS, dayNumber, placeIn } from "../glass/plant-tables.ts";
import { ROOM, ROOM_JOINS } from "../glass/rooms.ts";
import { FROM, RUNS, runsOf, TO } from "../glass/runs.ts";
import type { Reader } from "../store/handle.ts";

export interface GlassFacts {
  /** 0 where nobody knows. */
  cableOf(section: number): number;
  stopOf(section: number, side: "A" | "B"): number;
  isBroken(section: number): boolean;
  /** Neither broken nor degraded, nor given to a circuit that isn't retired, now or later. */
  isFree(section: number): boolean;
  /** Whether the place of a stop is known. */
  isKnownStop(stop: number): boolean;
  isDevice(position: number): boolean;
  /** A plug was seen in front, whether or not a cord is on record. */
  isCordSeen(position: number): boolean;
  /** The room it is in; 0 where nobody knows. */
  roomOf(position: number): number;
}

// The list goes from good to broken.
const BROKEN = CONDITIONS.indexOf("broken") + 1;
const DEGRADED = CONDITIONS.indexOf("degraded") + 1;

export function factsInMemory(glass: PlantGlass, today: string): GlassFacts {
  const { section, strand, stop, position, port } = glass.tables;
  const promised = glass.promisedOn(dayNumber(today));
  const condition = (id: number): number => strand.condition.get(section.strand.get(id));
  return {
    cableOf: (id) => glass.cableOf(id),
    stopOf: (id, side) => glass.stopOf(id, side),
    isBroken: (id) => condition(id) === BROKEN,
    isFree: (id) => condition(id) < DEGRADED && promised[id] !== 1,
    isKnownStop: (id) => stop.space.get(id) > 0,
    isDevice: (id) => glass.isDevice(id),
    isCordSeen: (id) => port.cord_seen.get(position.port.get(id)) === 1,
    roomOf: (id) => glass.roomOf(id),
  };
}

/** Section, cable, stops (0 where nobody knows) and condition (its place in the list, from 1). */
type SectionList = [id: number, cable: number, a_stop: number, b_stop: number, condition: number];
const SECTIONS = `select s.id, t.cable_id, ifnull(s.a_stop_id, 0), ifnull(s.b_stop_id, 0), ${placeIn(CONDITIONS, "t.condition")}
  from ${RUNS} cross join section s on s.id between ${FROM} and ${TO} cross join strand t on t.id = s.strand_id`;
const GIVEN = `select distinct a.section_id from ${RUNS} cross join assignment a on a.section_id between ${FROM} and ${TO}
  cross join circuit c on c.id = a.circuit_id where (a.until_on is null or a.until_on > ?) and c.state <> 'retired'`;
type PositionList = [id: number, device: number, room: number, cord_seen: number];
const POSITIONS = `select po.id, ifnull(p.device_id, 0), ifnull(${ROOM}, 0), p.front is 'cord'
  from ${RUNS} cross join position po on po.id between ${FROM} and ${TO} cross join port p on p.id = po.port_id ${ROOM_JOINS}`;

/** Reads the facts of some sections and positions. */
export async function factsRead(
  reader: Reader,
  sections: Iterable<number>,
  positions: Iterable<number>,
  today: string,
): Promise<GlassFacts> {
  const runs = runsOf(sections);
  const bySection = new Map<number, SectionList>();
  const stops = new Set<number>();
  for (const row of (await reader.lists(SECTIONS, [runs])) as SectionList[]) {
    bySection.set(row[0], row);
    stops.add(row[2]).add(row[3]);
  }
  const promised = new Set((await reader.lists(GIVEN, [runs, today])).map(([id]) => id as number));
  const byPosition = new Map<number, PositionList>();
  for (const row of (await reader.lists(POSITIONS, [runsOf(positions)])) as PositionList[]) byPosition.set(row[0], row);
  const placed = await reader.lists(
    "select id from stop where id in (select value from json_each(?)) and space_id is not null",
    [JSON.stringify([...stops])],
  );
  const known = new Set(placed.map(([id]) => id as number));
  return {
    cableOf: (id) => bySection.get(id)?.[1] ?? 0,
    stopOf: (id, side) => bySection.get(id)?.[side === "A" ? 2 : 3] ?? 0,
    isBroken: (id) => bySection.get(id)?.[4] === BROKEN,
    isFree: (id) => (bySection.get(id)?.[4] ?? 0) < DEGRADED && !promised.has(id),
    isKnownStop: (id) => known.has(id),
    isDevice: (position) => (byPosition.get(position)?.[1] ?? 0) > 0,
    isCordSeen: (position) => byPosition.get(position)?.[3] === 1,
    roomOf: (position) => byPosition.get(position)?.[2] ?? 0,
  };
}
