/** What walks of a bulk question need of the glass they pass: from memory, or read in one set for what they reach. */
import type { PlantGlass } from "../glass/held-glass.ts";
import { CONDITIONS, dayNumber, STATES } from "../glass/plant-tables.ts";
import { ROOM, ROOM_JOINS } from "../glass/rooms.ts";
import type { Reader } from "../store/handle.ts";

export interface GlassFacts {
  /** 0 where nobody knows. */
  cableOf(section: number): number;
  stopOf(section: number, side: "A" | "B"): number;
  isBroken(section: number): boolean;
  /** Broken or degraded. */
  isUnfit(section: number): boolean;
  /** Given to a circuit that isn't retired, now or later. */
  isPromised(section: number): boolean;
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
const RETIRED = STATES.indexOf("retired") + 1;

export function factsInMemory(glass: PlantGlass, today: string): GlassFacts {
  const { section, strand, stop, position, port, assignment, circuit } = glass.tables;
  const day = dayNumber(today);
  const condition = (id: number): number => strand.condition.get(section.strand.get(id));
  return {
    cableOf: (id) => glass.cableOf(id),
    stopOf: (id, side) => glass.stopOf(id, side),
    isBroken: (id) => condition(id) === BROKEN,
    isUnfit: (id) => condition(id) >= DEGRADED,
    isPromised: (id) => {
      if (!glass.service.isGiven(id)) return false;
      for (const given of glass.service.ofSection(id)) {
        const until = assignment.until_on.get(given);
        if (until > 0 && until <= day) continue;
        if (circuit.state.get(assignment.circuit.get(given)) !== RETIRED) return true;
      }
      return false;
    },
    isKnownStop: (id) => stop.space.get(id) > 0,
    isDevice: (id) => glass.isDevice(id),
    isCordSeen: (id) => port.cord_seen.get(position.port.get(id)) === 1,
    roomOf: (id) => glass.roomOf(id),
  };
}

interface SectionRow {
  readonly id: number;
  readonly cable_id: number;
  readonly a_stop_id: number | null;
  readonly b_stop_id: number | null;
  readonly condition: string | null;
}
interface PositionRow {
  readonly id: number;
  readonly device_id: number | null;
  readonly space_id: number | null;
  readonly cord_seen: number;
}

/** Reads the facts of some sections and positions. */
export async function factsRead(
  reader: Reader,
  sections: Iterable<number>,
  positions: Iterable<number>,
  today: string,
): Promise<GlassFacts> {
  const ids = JSON.stringify([...sections]);
  const rows = await reader.rows<SectionRow>(
    `select s.id, t.cable_id, s.a_stop_id, s.b_stop_id, t.condition from section s join strand t on t.id = s.strand_id
     where s.id in (select value from json_each(?))`,
    [ids],
  );
  const given = await reader.rows<{ id: number }>(
    `select distinct a.section_id as id from json_each(?) e cross join assignment a on a.section_id = e.value
       cross join circuit c on c.id = a.circuit_id
     where (a.until_on is null or a.until_on > ?) and c.state <> 'retired'`,
    [ids, today],
  );
  const promised = new Set(given.map(({ id }) => id));
  const places = await reader.rows<PositionRow>(
    `select po.id, p.device_id, ${ROOM} as space_id, p.front is 'cord' as cord_seen
     from position po join port p on p.id = po.port_id ${ROOM_JOINS}
     where po.id in (select value from json_each(?))`,
    [JSON.stringify([...positions])],
  );
  const stops = await reader.rows<{ id: number }>(
    "select id from stop where id in (select value from json_each(?)) and space_id is not null",
    [JSON.stringify([...new Set(rows.flatMap(({ a_stop_id, b_stop_id }) => [a_stop_id ?? 0, b_stop_id ?? 0]))])],
  );
  const known = new Set(stops.map(({ id }) => id));
  const bySection = new Map(rows.map((row) => [row.id, row]));
  const byPosition = new Map(places.map((row) => [row.id, row]));
  return {
    cableOf: (id) => bySection.get(id)?.cable_id ?? 0,
    stopOf: (id, side) => bySection.get(id)?.[side === "A" ? "a_stop_id" : "b_stop_id"] ?? 0,
    isBroken: (id) => bySection.get(id)?.condition === "broken",
    isUnfit: (id) => ["broken", "degraded"].includes(bySection.get(id)?.condition ?? ""),
    isPromised: (id) => promised.has(id),
    isKnownStop: (id) => known.has(id),
    isCordSeen: (position) => byPosition.get(position)?.cord_seen === 1,
    isDevice: (position) => (byPosition.get(position)?.device_id ?? null) !== null,
    roomOf: (position) => byPosition.get(position)?.space_id ?? 0,
  };
}
