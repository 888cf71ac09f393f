/**
 * What is held in memory of each record kind, beside the joints: whole numbers by record id. Texts stay in the database;
 * they are asked for in sets when an answer needs them.
 */
import type { Reader } from "../store/handle.ts";
import { Column } from "./columns.ts";
import { CARRIES } from "./glass.ts";
import { ROOM, roomJoins } from "./rooms.ts";

/** Lists of choices; a column holds the place in the list, from 1, and 0 for what is not known. */
export const CONDITIONS = ["good", "unproven", "degraded", "broken"] as const;
export const ROLES = ["transmit", "receive", "both"] as const;
export const STATES = ["planned", "reserved", "in_service", "retired"] as const;

/** In SQL, the place of a choice in its list, from 1; 0 for what is not known. */
export const placeIn = (values: readonly string[], field: string): string =>
  `case ${field} ${values.map((value, index) => `when '${value}' then ${index + 1}`).join(" ")} else 0 end`;
/** A day as a number that sorts like it, such as 20260405. */
const day = (field: string): string => `cast(replace(${field}, '-', '') as integer)`;
export const dayNumber = (day: string): number => Number(day.replaceAll("-", ""));

/** For each kind where it is read from, and its columns. `t` is the record. */
const TABLES = {
  section: { from: "section t", columns: { strand: "t.strand_id", a_stop: "t.a_stop_id", b_stop: "t.b_stop_id" } },
  strand: {
    from: "strand t",
    columns: { cable: "t.cable_id", number: "t.number", condition: placeIn(CONDITIONS, "t.condition") },
  },
  stop: { from: "stop t", columns: { cable: "t.cable_id", space: "t.space_id" } },
  space: { from: "space t", columns: { building: "t.building_id" } },
  position: { from: "position t", columns: { port: "t.port_id", ordinal: "t.ordinal" } },
  port: {
    from: `port t ${roomJoins("t")}`,
    columns: {
      room: ROOM,
      device: "t.device_id",
      cord_seen: "t.front is 'cord'",
      /** 1 where a cord may be in it although none is on record. */
      may_hold_cord: `(t.front is null or t.front <> 'empty') and t.life in ${CARRIES}`,
    },
  },
  assignment: {
    from: "assignment t",
    columns: {
      section: "t.section_id",
      circuit: "t.circuit_id",
      role: placeIn(ROLES, "t.role"),
      from_on: day("t.from_on"),
      until_on: day("t.until_on"),
    },
  },
  circuit: {
    from: "circuit t",
    columns: { state: placeIn(STATES, "t.state"), a_port: "t.a_port_id", z_port: "t.z_port_id" },
  },
} as const;

export type TableName = keyof typeof TABLES;
export const TABLE_NAMES = Object.keys(TABLES) as TableName[];
type ColumnName<T extends TableName> = keyof (typeof TABLES)[T]["columns"] & string;
export type Table<T extends TableName> = { readonly [C in ColumnName<T>]: Column } & { last: number };
export type Tables = { readonly [T in TableName]: Table<T> };

/** So many ids are read at once. */
export const PAGE = 20_000;

export const lastId = async (reader: Reader, kind: string): Promise<number> =>
  (await reader.rows<{ id: number | null }>(`select max(id) as id from "${kind}"`))[0]?.id ?? 0;

const sqlOf = (name: TableName): string =>
  `select t.id, ${Object.entries<string>(TABLES[name].columns)
    .map(([column, expression]) => `${expression} as ${column}`)
    .join(", ")} from ${TABLES[name].from} where t.id between ? and ?`;
const SQL = Object.fromEntries(TABLE_NAMES.map((name) => [name, sqlOf(name)])) as Record<TableName, string>;

/** An empty table with room for the ids a kind has now. */
export async function emptyTable<T extends TableName>(reader: Reader, name: T): Promise<Table<T>> {
  const last = await lastId(reader, name);
  const columns = Object.keys(TABLES[name].columns).map((column) => [column, new Column(last)]);
  return { ...Object.fromEntries(columns), last };
}

/** Reads the records of a range of ids anew; what is no longer on record becomes 0. */
export async function readRange(
  reader: Reader,
  name: TableName,
  table: Table<TableName>,
  from: number,
  to: number,
): Promise<void> {
  const names = Object.keys(TABLES[name].columns);
  const columns = names.map((column) => (table as unknown as Record<string, Column>)[column] as Column);
  for (const column of columns) column.data.fill(0, from, to + 1);
  for (const row of await reader.rows<Record<string, number | null>>(SQL[name], [from, to])) {
    const id = row.id as number;
    for (let i = 0; i < names.length; i += 1) (columns[i] as Column).set(id, row[names[i] as string] ?? 0);
    if (id > table.last) table.last = id;
  }
}
