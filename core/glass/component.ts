/**
 * The database reader of the graph: one recursive query by index answers every joint that light from some ends can reach.
 * It costs about what its rows cost, however large the plant is.
 */
import type { Reader } from "../store/handle.ts";
import { Adjacency } from "./adjacency.ts";
import { mappedSql } from "./cord-map.ts";
import { across } from "./end.ts";
import { readOutward } from "./frontier.ts";
import { CARRIES } from "./glass.ts";

interface Row {
  /** The end it leaves by; 0 for the starts. */
  readonly src: number;
  readonly kind: number;
  readonly id: number;
  /** The end it goes on from: across from the one it arrives at. */
  readonly out: number;
}

/** Id of the section (position, position by its front) that row `e` goes on from; null when it is something else. */
const SECTION = "case when e.out & 2 = 0 then e.out >> 2 end";
const POSITION = "case when e.out & 2 then e.out >> 2 end";
const FRONT = "case when e.out & 3 = 3 then e.out >> 2 end";
const FACE = "case when e.out & 1 then 'front' else 'back' end";

/** Going on from an end X leads to X ^ 1: a section is left by its other end, a position by its other side. */
const beyondSection = (id: string, side: string): string => `${id} * 4 + (${side} = 'A')`;
const beyondPosition = (id: string, side: string): string => `${id} * 4 + 2 + (${side} = 'back')`;

const spliceFrom = (own: "a" | "b", other: "a" | "b"): string => `
  select e.out, 0, j.id, ${beyondSection(`j.${other}_section_id`, `j.${other}_side`)}
  from edge e cross join splice j on j.${own}_section_id = ${SECTION}
    and j.${own}_side = case when e.out & 1 then 'B' else 'A' end and j.life in ${CARRIES}`;

const joinFrom = (own: "a" | "b", other: "a" | "b"): string => `
  select e.out, 3, j.id, ${beyondPosition(`j.${other}_position_id`, `j.${other}_side`)}
  from edge e cross join module_join j on j.${own}_position_id = ${POSITION} and j.${own}_side = ${FACE}`;

/** A fibre without a position at the other plug leads nowhere: its row goes on from 1, across from NOWHERE. */
const cordFrom = (own: "a" | "b", other: "a" | "b"): string => `
  select e.out, 2, c.id, coalesce(q.id * 4 + 2, 1)
  from edge e cross join position p on p.id = ${FRONT}
    cross join cord c on c.${own}_port_id = p.port_id and c.life in ${CARRIES}
      and p.ordinal between c.${own}_first and c.${own}_first + c.fibres - 1
    left join position q on q.port_id = c.${other}_port_id
      and q.ordinal = c.${other}_first - 1 + ${mappedSql("c", `p.ordinal - c.${own}_first + 1`)}`;

const LANDINGS = `
  select e.out, 1, j.id, j.position_id * 4 + 3
  from edge e cross join termination j on j.section_id = ${SECTION}
    and j.side = case when e.out & 1 then 'B' else 'A' end and j.life in ${CARRIES}`;

/**
 * One term a table and direction, plain UNION (a row that is there already ends that way, so rings and forks end), no
 * depth (it would make forks grow without end), no view (it would be built whole).
 */
export const COMPONENT_SQL = `
with recursive edge (src, kind, id, out) as (
  select 0, 0, 0, value from json_each(?)
  union ${spliceFrom("a", "b")}
  union ${spliceFrom("b", "a")}
  union ${LANDINGS}
  union
  select e.out, 1, j.id, ${beyondSection("j.section_id", "j.side")}
  from edge e cross join termination j on j.position_id = case when e.out & 3 = 2 then e.out >> 2 end
    and j.life in ${CARRIES}
  union ${joinFrom("a", "b")}
  union ${joinFrom("b", "a")}
  union ${cordFrom("a", "b")}
  union ${cordFrom("b", "a")}
)
select src, kind, id, out from edge where src <> 0`;

/** From so many ends on, they are all followed at once, step by step. */
const MANY_ENDS = 300;

/** Reads all that can be reached from some ends into `glass`; what was read before is not read again. */
export async function readComponent(
  reader: Reader,
  glass: Adjacency,
  ends: Iterable<number>,
  many = MANY_ENDS,
): Promise<void> {
  const starts = new Set<number>();
  for (const end of ends) if (!glass.isKnown(end)) starts.add(end);
  if (starts.size > many) return readOutward(reader, glass, starts);
  if (starts.size === 0) return;
  const reached = new Set<number>();
  for (const { src, kind, id, out } of await reader.rows<Row>(COMPONENT_SQL, [JSON.stringify([...starts])])) {
    if (!glass.isKnown(src)) glass.add(src, across(out), kind, id);
    reached.add(out);
  }
  for (const end of starts) glass.markKnown(end);
  for (const end of reached) glass.markKnown(end);
}

/** A small graph of what some ends are joined to. */
export async function componentOf(reader: Reader, ends: Iterable<number>): Promise<Adjacency> {
  const glass = new Adjacency();
  await readComponent(reader, glass, ends);
  return glass;
}
