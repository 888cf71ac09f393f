/** What findings rest on: how their records are known, the last visit to where they are, and the building. */
import { ROOM, roomJoins } from "../glass/rooms.ts";
import { type KindName, kindOf } from "../model/dictionary.ts";
import { addressesOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import type { Case } from "./rule.ts";

export interface Provenance {
  readonly basis: readonly string[];
  readonly last_visit: string | null;
  readonly building: RecordRef | null;
  /** One of its records is in a hole or box in the ground. */
  readonly hole: boolean;
}

const PORT_ROOM = `select o.id, ${ROOM} as space_id from port o ${roomJoins("o")}`;

/** How a record of a kind leads to a space; a cable leads to the space of its first stop. */
const SPACE_OF: Readonly<Partial<Record<KindName, string>>> = {
  space: "select id, id as space_id from space",
  building: "select b.id, (select min(s.id) from space s where s.building_id = b.id) as space_id from building b",
  panel: "select id, space_id from panel",
  closure: "select id, space_id from closure",
  device: "select id, space_id from device",
  busbar: "select id, space_id from busbar",
  module:
    "select m.id, coalesce(m.space_id, p.space_id) as space_id from module m left join panel p on p.id = m.panel_id",
  tray: "select t.id, c.space_id from tray t join closure c on c.id = t.closure_id",
  port: PORT_ROOM,
  position: `select i.id, o.space_id from position i join (${PORT_ROOM}) o on o.id = i.port_id`,
  termination: `select t.id, o.space_id from termination t join position i on i.id = t.position_id
    join (${PORT_ROOM}) o on o.id = i.port_id`,
  cord: `select c.id, o.space_id from cord c join (${PORT_ROOM}) o on o.id = coalesce(c.a_port_id, c.b_port_id)`,
  stop: "select id, space_id from stop",
  cable:
    "select c.id, (select s.space_id from stop s where s.cable_id = c.id order by s.ordinal limit 1) as space_id from cable c",
  strand: `select t.id, (select s.space_id from stop s where s.cable_id = t.cable_id order by s.ordinal limit 1) as space_id
    from strand t`,
  section: `select x.id, s.space_id from section x left join stop s on s.id = x.a_stop_id`,
  splice: `select x.id, c.space_id from splice x left join tray t on t.id = x.tray_id left join closure c on c.id = t.closure_id`,
  label: "select id, space_id from label",
  pathway: "select id, from_space_id as space_id from pathway",
  conduit: "select c.id, p.from_space_id as space_id from conduit c join pathway p on p.id = c.pathway_id",
  leg: "select l.id, s.space_id from leg l join stop s on s.id = l.from_stop_id",
  circuit: `select k.id, o.space_id from circuit k join (${PORT_ROOM}) o on o.id = coalesce(k.a_port_id, k.z_port_id)`,
};

/** Kinds that run from place to place: they say where a finding is only when nothing else does. */
const LONG: ReadonlySet<KindName> = new Set(["cable", "strand", "section", "circuit", "pathway", "conduit", "leg"]);

const IDS = "(select value from json_each(?))";

interface Facts {
  readonly basis: ReadonlyMap<number, string | null>;
  readonly space: ReadonlyMap<number, number>;
}

export async function provenanceOf(reader: Reader, cases: readonly Case[]): Promise<Provenance[]> {
  const ids = new Map<KindName, Set<number>>();
  for (const { records } of cases) {
    for (const [kind, id] of records) ids.set(kind, (ids.get(kind) ?? new Set()).add(id));
  }
  const facts = new Map<KindName, Facts>();
  for (const [kind, some] of ids) facts.set(kind, await factsOf(reader, kind, JSON.stringify([...some])));
  const { buildingOf, visited, holes } = await places(reader);
  const buildings = await addressesOf(reader, "building", [
    ...new Set([...buildingOf.values(), ...cases.flatMap(({ building_id }) => building_id ?? [])]),
  ]);

  return cases.map(({ records, building_id }) => {
    const basis = new Set<string>();
    const days: string[] = [];
    const exact = new Set<number>();
    const along = new Set<number>();
    for (const [kind, id] of records) {
      const known = facts.get(kind);
      const how = known?.basis.get(id);
      if (how) basis.add(how);
      const space = known?.space.get(id);
      if (space === undefined) continue;
      (LONG.has(kind) ? along : exact).add(space);
      const day = visited.get(space);
      if (day) days.push(day);
    }
    const where = [...(exact.size > 0 ? exact : along)];
    const building = building_id ?? where.map((space) => buildingOf.get(space)).find((id) => id !== undefined) ?? null;
    const hole = [...exact].some((space) => holes.has(space));
    const tag = building === null ? undefined : buildings.get(building);
    return {
      basis: [...basis].sort(),
      last_visit: days.sort().at(-1) ?? null,
      building: building === null || tag === undefined ? null : { kind: "building", id: building, tag },
      hole,
    };
  });
}

async function factsOf(reader: Reader, kind: KindName, ids: string): Promise<Facts> {
  const basis = new Map<number, string | null>();
  if (Object.hasOwn(kindOf(kind).fields, "basis")) {
    const rows = await reader.rows<{ id: number; basis: string | null }>(
      `select id, basis from "${kind}" where id in ${IDS}`,
      [ids],
    );
    for (const row of rows) basis.set(row.id, row.basis);
  }
  const space = new Map<number, number>();
  const sql = SPACE_OF[kind];
  if (sql) {
    const rows = await reader.rows<{ id: number; space_id: number | null }>(
      `select id, space_id from (${sql}) where id in ${IDS}`,
      [ids],
    );
    for (const row of rows) if (row.space_id !== null) space.set(row.id, row.space_id);
  }
  return { basis, space };
}

async function places(
  reader: Reader,
): Promise<{ buildingOf: Map<number, number>; visited: Map<number, string>; holes: Set<number> }> {
  const spaces = await reader.rows<{ id: number; building_id: number | null; hole: number }>(
    `select id, building_id, coalesce(kind in ('maintenance_hole', 'hand_hole', 'pull_box'), 0) as hole from space
     where building_id is not null or kind in ('maintenance_hole', 'hand_hole', 'pull_box')`,
  );
  const visits = await reader.rows<{ space_id: number; day: string }>(
    "select space_id, max(made_on) as day from visit where space_id is not null group by space_id",
  );
  return {
    buildingOf: new Map(spaces.flatMap(({ id, building_id }) => (building_id === null ? [] : [[id, building_id]]))),
    holes: new Set(spaces.flatMap(({ id, hole }) => (hole ? [id] : []))),
    visited: new Map(visits.map(({ space_id, day }) => [space_id, day])),
  };
}
