/**
 * In which buildings circuits end: where their A and Z ports are; where a port is not on record, wherever glass they are
 * given lands on a port. Read in sets, from circuits or from buildings.
 */
import { HOLDS } from "../glass/line-glass.ts";
import { ROOM, ROOM_JOINS } from "../glass/rooms.ts";
import type { Reader } from "../store/handle.ts";

export interface Serves {
  readonly circuit: number;
  readonly building: number;
}

type Pair = [circuit: number, building: number];
const pairs = (rows: unknown): Serves[] => (rows as Pair[]).map(([circuit, building]) => ({ circuit, building }));

const byPort = (end: "a" | "z"): string => `
  select c.id, s.building_id from circuit c join port p on p.id = c.${end}_port_id ${ROOM_JOINS}
    join space s on s.id = ${ROOM}
  where c.id in (select value from json_each(?)) and s.building_id is not null`;

const OF_CIRCUITS = `${byPort("a")} union ${byPort("z")} union
  select c.id, s.building_id from circuit c cross join assignment a on a.circuit_id = c.id
    cross join termination t on t.section_id = a.section_id and t.life in ('in_place', 'out_of_use')
    cross join position po on po.id = t.position_id cross join port p on p.id = po.port_id ${ROOM_JOINS}
    join space s on s.id = ${ROOM}
  where c.id in (select value from json_each(?)) and (c.a_port_id is null or c.z_port_id is null)
    and ${HOLDS} and s.building_id is not null`;

/** The buildings that circuits end in. */
export async function buildingsOf(reader: Reader, circuits: Iterable<number>, today: string): Promise<Serves[]> {
  const ids = JSON.stringify([...circuits]);
  return pairs(await reader.lists(OF_CIRCUITS, [ids, ids, ids, today, today]));
}

/** Ports in the rooms of buildings, with the building. Asked with a list of building ids. */
const OWN_PORTS = `
  with room (id, building) as materialized (
    select id, building_id from space where building_id in (select value from json_each(?))
  ), own (port, building) as materialized (
    select p.id, r.building from room r join panel q on q.space_id = r.id join port p on p.panel_id = q.id
    union select p.id, r.building from room r join panel q on q.space_id = r.id join module m on m.panel_id = q.id
      join port p on p.module_id = m.id
    union select p.id, r.building from room r join module m on m.space_id = r.id join port p on p.module_id = m.id
    union select p.id, r.building from room r join device d on d.space_id = r.id join port p on p.device_id = d.id
  )`;

const IN_SERVICE = `${OWN_PORTS}
  select c.id, o.building from own o cross join circuit c on c.a_port_id = o.port where c.state = 'in_service'
  union select c.id, o.building from own o cross join circuit c on c.z_port_id = o.port where c.state = 'in_service'
  union select c.id, o.building from own o cross join position po on po.port_id = o.port
    cross join termination t on t.position_id = po.id and t.life in ('in_place', 'out_of_use')
    cross join assignment a on a.section_id = t.section_id cross join circuit c on c.id = a.circuit_id
  where c.state = 'in_service' and (c.a_port_id is null or c.z_port_id is null) and ${HOLDS}`;

/** The circuits in service that end in some buildings. */
export async function servedIn(reader: Reader, buildings: Iterable<number>, today: string): Promise<Serves[]> {
  return pairs(await reader.lists(IN_SERVICE, [JSON.stringify([...buildings]), today, today]));
}

/** The circuits that have a port in some rooms at one of their ends, whatever their state but retired. */
export async function circuitsAtRooms(reader: Reader, rooms: Iterable<number>): Promise<number[]> {
  const ids = JSON.stringify([...rooms]);
  if (ids === "[]") return [];
  const own = `select p.id from panel q join port p on p.panel_id = q.id where q.space_id in (select value from json_each(?))
    union select p.id from panel q join module m on m.panel_id = q.id join port p on p.module_id = m.id
      where q.space_id in (select value from json_each(?))
    union select p.id from module m join port p on p.module_id = m.id where m.space_id in (select value from json_each(?))
    union select p.id from device d join port p on p.device_id = d.id where d.space_id in (select value from json_each(?))`;
  const rows = await reader.lists(
    `with own (port) as materialized (${own})
     select c.id from own o cross join circuit c on c.a_port_id = o.port where c.state <> 'retired'
     union select c.id from own o cross join circuit c on c.z_port_id = o.port where c.state <> 'retired'`,
    [ids, ids, ids, ids],
  );
  return rows.map(([id]) => id as number);
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
