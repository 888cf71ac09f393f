/** Joints as they are read into memory: for each kind the statements that answer them for a range of ids. */
import type { KindName } from "../model/dictionary.ts";
import type { Reader } from "../store/handle.ts";
import type { Joints } from "./columns.ts";
import { mappedSql } from "./cord-map.ts";
import { CARRIES, CORD, JOIN, SPLICE, TERMINATION } from "./glass.ts";

interface Row {
  readonly id: number;
  readonly a: number;
  readonly b: number;
}

const sectionEnd = (own: "a" | "b"): string => `${own}_section_id * 4 + (${own}_side = 'B') as ${own}`;
const joinEnd = (own: "a" | "b"): string => `${own}_position_id * 4 + 2 + (${own}_side = 'front') as ${own}`;

/** The fibres of cords seen from one plug. `only` keeps those that have no position at the other plug. */
const cordsFrom = (own: "a" | "b", other: "a" | "b", only: string): string => `
  select c.id, p.id * 4 + 3 as a, coalesce(q.id * 4 + 3, 0) as b
  from cord c cross join position p on p.port_id = c.${own}_port_id
      and p.ordinal between c.${own}_first and c.${own}_first + c.fibres - 1
    left join position q on q.port_id = c.${other}_port_id
      and q.ordinal = c.${other}_first - 1 + ${mappedSql("c", `p.ordinal - c.${own}_first + 1`)}
  where c.id between ? and ? and c.life in ${CARRIES} ${only}`;

export const JOINT_SOURCES = [
  {
    kind: SPLICE,
    table: "splice",
    sql: [
      `select id, ${sectionEnd("a")}, ${sectionEnd("b")} from splice where id between ? and ? and life in ${CARRIES}`,
    ],
  },
  {
    kind: TERMINATION,
    table: "termination",
    sql: [
      `select id, section_id * 4 + (side = 'B') as a, position_id * 4 + 2 as b
       from termination where id between ? and ? and life in ${CARRIES}`,
    ],
  },
  { kind: CORD, table: "cord", sql: [cordsFrom("a", "b", ""), cordsFrom("b", "a", "and q.id is null")] },
  {
    kind: JOIN,
    table: "module_join",
    sql: [`select id, ${joinEnd("a")}, ${joinEnd("b")} from module_join where id between ? and ?`],
  },
] as const satisfies readonly { kind: number; table: KindName; sql: readonly string[] }[];

export type JointSource = (typeof JOINT_SOURCES)[number];

/** Adds the joints of a range of ids; `wanted` narrows it to some records. */
export async function readJoints(
  reader: Reader,
  joints: Joints,
  { kind, sql }: JointSource,
  from: number,
  to: number,
  wanted?: ReadonlySet<number>,
): Promise<void> {
  // A cord between two positions of one port tells the same from both its plugs: it is one joint.
  const told = new Set<string>();
  for (const text of sql) {
    for (const { id, a, b } of await reader.rows<Row>(text, [from, to])) {
      if (wanted && !wanted.has(id)) continue;
      if (kind === CORD) {
        const key = a < b ? `${id} ${a} ${b}` : `${id} ${b} ${a}`;
        if (told.size === told.add(key).size) continue;
      }
      joints.add(kind, id, a, b);
    }
  }
}
