/**
 * What single questions walk on: the part of the graph that light from some ends can reach, assumed cords included, read
 * by index. An assumed cord leads to further glass, which may end at further bare ports; so it goes on until none is new.
 */
import type { Reader } from "../store/handle.ts";
import { Adjacency } from "./adjacency.ts";
import {
  type AssumedCord,
  type CircuitUse,
  distinctPairs,
  endsOfUse,
  frontsOfUse,
  isBareFront,
  isJoined,
  pairsOfUse,
  type Role,
} from "./assumed.ts";
import { type CircuitPortRow, circuitPorts, PORTS_OF_CIRCUITS } from "./circuit-ports.ts";
import { readComponent } from "./component.ts";
import { across, idOf, positionEnd } from "./end.ts";
import { CARRIES, type Glass } from "./glass.ts";
import { ROOM, ROOM_JOINS } from "./rooms.ts";
import { WithAssumed } from "./with-assumed.ts";

/** An assignment `a` of a circuit `c` that holds on a day (from included, until excluded). */
export const HOLDS = `c.state <> 'retired' and (a.from_on is null or a.from_on <= ?) and (a.until_on is null or a.until_on > ?)`;

/** Ports `p` in which a cord may be although none is on record. */
export const MAY_HOLD_CORD = `(p.front is null or p.front <> 'empty') and p.life in ${CARRIES}`;

const MAY_HOLD = `select po.id, ${MAY_HOLD_CORD} as may_hold_cord from position po join port p on p.id = po.port_id
  where po.id in (select value from json_each(?))`;

/** Reads whether a cord may be in the ports of some positions; whoever needs more of them may bring their own reading. */
export type ReadFronts = (
  reader: Reader,
  positions: readonly number[],
) => Promise<readonly { readonly may_hold_cord: number }[]>;

const readFronts: ReadFronts = (reader, positions) =>
  reader.rows<{ may_hold_cord: number }>(MAY_HOLD, [JSON.stringify(positions)]);

/**
 * Circuits whose glass lies behind some bare fronts, or whose A or Z port has them. Behind a front is what landed on its
 * back, through glass inside modules too.
 */
const CIRCUITS_SQL = `
with recursive front (position_id, port_id) as materialized (
  select po.id, po.port_id from json_each(?) f join position po on po.id = f.value join port p on p.id = po.port_id
  where ${MAY_HOLD_CORD}
), behind (out) as (
  select position_id * 4 + 2 from front
  union
  select j.b_position_id * 4 + 2 + (j.b_side = 'back') from behind e cross join module_join j
    on j.a_position_id = e.out >> 2 and j.a_side = case when e.out & 1 then 'front' else 'back' end
  union
  select j.a_position_id * 4 + 2 + (j.a_side = 'back') from behind e cross join module_join j
    on j.b_position_id = e.out >> 2 and j.b_side = case when e.out & 1 then 'front' else 'back' end
)
select a.circuit_id as id from behind e cross join termination t
    on t.position_id = case when e.out & 1 = 0 then e.out >> 2 end and t.life in ${CARRIES}
  cross join assignment a on a.section_id = t.section_id cross join circuit c on c.id = a.circuit_id
  where ${HOLDS}
union
select c.id from front f cross join circuit c on c.a_port_id = f.port_id where c.state <> 'retired'
union
select c.id from front f cross join circuit c on c.z_port_id = f.port_id where c.state <> 'retired'`;

const USES_SQL = `
select a.circuit_id, a.section_id, a.role from assignment a cross join circuit c on c.id = a.circuit_id
where a.circuit_id in (select value from json_each(?)) and ${HOLDS}`;

const FACTS_SQL = `
select po.id, p.id as port_id, ${ROOM} as space_id, ${MAY_HOLD_CORD} as may_hold_cord
from position po join port p on p.id = po.port_id ${ROOM_JOINS}
where po.id in (select value from json_each(?))`;

interface UseRow {
  readonly circuit_id: number;
  readonly section_id: number;
  readonly role: Role;
}
/** What circuits hold on a day, and the ports at their ends. */
export async function usesOf(reader: Reader, circuits: readonly number[], today: string): Promise<CircuitUse[]> {
  const ids = JSON.stringify(circuits);
  const sections = Map.groupBy(await reader.rows<UseRow>(USES_SQL, [ids, today, today]), (row) => row.circuit_id);
  const ports = circuitPorts(await reader.rows<CircuitPortRow>(PORTS_OF_CIRCUITS, [ids, ids]));
  return circuits.map((circuit_id) => ({
    circuit_id,
    sections: sections.get(circuit_id) ?? [],
    ports: ports.get(circuit_id) ?? [],
  }));
}

/** Fronts that light from some ends reaches and that no cord on record is in. */
function bareFronts(glass: Glass, ends: Iterable<number>): number[] {
  const seen = new Set<number>(ends);
  const open = [...seen];
  const bare: number[] = [];
  for (let out = open.pop(); out !== undefined; out = open.pop()) {
    if (isBareFront(glass, out)) bare.push(out);
    for (let handle = glass.first(out); handle >= 0; handle = glass.next(handle)) {
      const next = across(glass.to(handle));
      if (!seen.has(next)) {
        seen.add(next);
        open.push(next);
      }
    }
  }
  return bare;
}

interface FactsRow {
  readonly id: number;
  readonly port_id: number;
  readonly space_id: number | null;
  readonly may_hold_cord: number;
}

/**
 * The graph as far as light going out from some ends can reach it.
 * @param today the day on which assignments must hold to let a cord be assumed
 */
export async function glassAround(
  reader: Reader,
  ends: readonly number[],
  today: string,
  read: ReadFronts = readFronts,
): Promise<WithAssumed<Adjacency>> {
  const base = new Adjacency();
  await readComponent(reader, base, ends);
  let glass = new WithAssumed(base, []);
  const asked = new Set<number>();
  const circuits = new Set<number>();
  const pairs: AssumedCord[] = [];
  for (let first = true; ; first = false) {
    // At first, what was read is what is reached.
    const bare = first ? [...base.ends].filter((end) => isBareFront(base, end)) : bareFronts(glass, ends);
    const fronts = bare.filter((front) => !asked.has(front));
    if (fronts.length === 0) return glass;
    for (const front of fronts) asked.add(front);
    const positions = fronts.map(idOf);
    // Most lines end at ports that were seen empty: a short question first spares the long one.
    if (!(await read(reader, positions)).some(({ may_hold_cord }) => may_hold_cord === 1)) continue;
    const rows = await reader.rows<{ id: number }>(CIRCUITS_SQL, [JSON.stringify(positions), today, today]);
    const fresh = rows.map(({ id }) => id).filter((id) => !circuits.has(id));
    if (fresh.length === 0) return glass;
    for (const id of fresh) circuits.add(id);
    pairs.push(...(await newPairs(reader, base, await usesOf(reader, fresh, today))));
    glass = new WithAssumed(base, distinctPairs(pairs));
  }
}

/** The pairs of bare positions that some circuits let a cord be assumed between. */
async function newPairs(reader: Reader, base: Adjacency, uses: readonly CircuitUse[]): Promise<AssumedCord[]> {
  await readComponent(reader, base, uses.flatMap(endsOfUse));
  const fronts = new Set(uses.flatMap((use) => [...frontsOfUse(base, use).values()].flatMap((own) => [...own])));
  const rows = await reader.rows<FactsRow>(FACTS_SQL, [JSON.stringify([...fronts].map(idOf))]);
  const facts = new Map(rows.map((row) => [row.id, { ...row, may_hold_cord: row.may_hold_cord === 1 }]));
  const pairs = uses.flatMap((use) => pairsOfUse(base, use, (position) => facts.get(position)));
  await readComponent(
    reader,
    base,
    pairs.flatMap(({ a, b }) => [positionEnd(a, "back"), positionEnd(b, "back")]),
  );
  return pairs.filter(({ a, b }) => !isJoined(base, a, b));
}
