/**
 * In which buildings circuits end: where their A and Z ports are; where a port is not on record, wherever glass they are
 * given lands on a port. Read in sets, from circuits or from buildings.
 */
import { CARRIES } from "../glass/glass.ts";
import { HOLDS } from "../glass/line-glass.ts";
import { ROOM, ROOM_JOINS } from "../glass/rooms.ts";
import { FROM, RUNS, runsOf, TO } from "../glass/runs.ts";
import type { Reader } from "../store/handle.ts";

export interface Serves {
  readonly circuit: number;
  readonly building: number;
}

type Pair = [number, number];
const pairs = (rows: unknown): Serves[] => (rows as Pair[]).map(([circuit, building]) => ({ circuit, building }));

const byPort = (end: "a" | "z"): string => `
  select c.id, s.building_id from circuit c join port p on p.id = c.${end}_port_id ${ROOM_JOINS}
    join space s on s.id = ${ROOM}
  where c.id in (select value from json_each(?)) and s.building_id is not null`;

const OF_CIRCUITS = `${byPort("a")} union ${byPort("z")} union
  select c.id, s.building_id from circuit c cross join assignment a on a.circuit_id = c.id
    cross join termination t on t.section_id = a.section_id and t.life in ${CARRIES}
    cross join position po on po.id = t.position_id cross join port p on p.id = po.port_id ${ROOM_JOINS}
    join space s on s.id = ${ROOM}
  where c.id in (select value from json_each(?)) and (c.a_port_id is null or c.z_port_id is null)
    and ${HOLDS} and s.building_id is not null`;

/** The buildings that circuits end in. */
export async function buildingsOf(reader: Reader, circuits: Iterable<number>, today: string): Promise<Serves[]> {
  const ids = JSON.stringify([...circuits]);
  return pairs(await reader.lists(OF_CIRCUITS, [ids, ids, ids, today, today]));
}

/**
 * Ports in the rooms of buildings. What is asked of them is asked in steps, each of ids: in one statement the engine would
 * expect so many rows that it first reads whole tables to sieve them.
 */
const OWN_PORTS = `
  with room (id, building) as materialized (
    select id, building_id from space where building_id in (select value from json_each(?))
  )
  select p.id, r.building from room r cross join panel q on q.space_id = r.id cross join port p on p.panel_id = q.id
  union select p.id, r.building from room r cross join panel q on q.space_id = r.id
    cross join module m on m.panel_id = q.id cross join port p on p.module_id = m.id
  union select p.id, r.building from room r cross join module m on m.space_id = r.id
    cross join port p on p.module_id = m.id
  union select p.id, r.building from room r cross join device d on d.space_id = r.id
    cross join port p on p.device_id = d.id`;

const atPorts = (end: "a" | "z"): string => `select c.id, c.${end}_port_id from ${RUNS}
  cross join circuit c on c.${end}_port_id between ${FROM} and ${TO} where c.state = 'in_service'`;

const LANDED = `select t.section_id, po.port_id from ${RUNS} cross join position po on po.port_id between ${FROM} and ${TO}
  cross join termination t on t.position_id between po.id and po.id and t.life in ${CARRIES}`;
const GIVEN = `select a.section_id, a.circuit_id from ${RUNS}
    cross join assignment a on a.section_id between ${FROM} and ${TO}
  where (a.from_on is null or a.from_on <= ?) and (a.until_on is null or a.until_on > ?)`;
/** Of some circuits, those in service that have no port at one end. */
const OPEN_ENDED = `select c.id from json_each(?) i cross join circuit c on c.id = i.value
  where c.state = 'in_service' and (c.a_port_id is null or c.z_port_id is null)`;

/** The circuits in service that end in some buildings. */
export async function servedIn(reader: Reader, buildings: Iterable<number>, today: string): Promise<Serves[]> {
  const buildingOf = new Map((await reader.lists(OWN_PORTS, [JSON.stringify([...buildings])])) as Pair[]);
  const runs = runsOf(buildingOf.keys());
  const served = new Map<string, Serves>();
  const add = (circuit: number, port: number): void => {
    const building = buildingOf.get(port);
    if (building !== undefined) served.set(`${circuit} ${building}`, { circuit, building });
  };
  for (const end of ["a", "z"] as const) {
    for (const [circuit, port] of (await reader.lists(atPorts(end), [runs])) as Pair[]) add(circuit, port);
  }
  const landed = Map.groupBy((await reader.lists(LANDED, [runs])) as Pair[], ([section]) => section);
  const given = (await reader.lists(GIVEN, [runsOf(landed.keys()), today, today])) as Pair[];
  const asked = JSON.stringify([...new Set(given.map(([, circuit]) => circuit))]);
  const open = new Set((await reader.lists(OPEN_ENDED, [asked])).map(([id]) => id as number));
  for (const [section, circuit] of given) {
    if (open.has(circuit)) for (const [, port] of landed.get(section) ?? []) add(circuit, port);
  }
  return [...served.values()];
}

/** The circuits that have a port in some rooms at one of their ends, whatever their state but retired. */
export async function circuitsAtRooms(reader: Reader, rooms: Iterable<number>): Promise<number[]> {
  const ids = JSON.stringify([...rooms]);
  if (ids === "[]") return [];
  const rows = await reader.lists(
    `select p.id from panel q cross join port p on p.panel_id = q.id where q.space_id in (select value from json_each(?))
     union select p.id from panel q cross join module m on m.panel_id = q.id cross join port p on p.module_id = m.id
       where q.space_id in (select value from json_each(?))
     union select p.id from module m cross join port p on p.module_id = m.id
       where m.space_id in (select value from json_each(?))
     union select p.id from device d cross join port p on p.device_id = d.id
       where d.space_id in (select value from json_each(?))`,
    [ids, ids, ids, ids],
  );
  const runs = runsOf(rows.map(([id]) => id as number));
  const at = (end: "a" | "z"): string => `select c.id from ${RUNS}
    cross join circuit c on c.${end}_port_id between ${FROM} and ${TO} where c.state <> 'retired'`;
  return (await reader.lists(`${at("a")} union ${at("z")}`, [runs, runs])).map(([id]) => id as number);
}

/** Strands that come into buildings from outside: the sections that end there, with the building. */
export async function strandsInto(
  reader: Reader,
  buildings: Iterable<number>,
): Promise<{ section: number; building: number }[]> {
  const end = (own: "a" | "b", other: "a" | "b"): string => `
    select e.id, r.building_id from here r cross join stop st on st.space_id = r.id
      cross join section e on e.${own}_stop_id = st.id
      left join stop f on f.id = e.${other}_stop_id left join space x on x.id = f.space_id
    where x.building_id is not r.building_id`;
  const rows = (await reader.lists(
    `with here (id, building_id) as materialized (
       select id, building_id from space where building_id in (select value from json_each(?)))
     ${end("a", "b")} union ${end("b", "a")}`,
    [JSON.stringify([...buildings])],
  )) as [number, number][];
  return rows.map(([section, building]) => ({ section, building }));
}
