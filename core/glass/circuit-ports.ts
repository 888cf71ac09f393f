/** The ports at the ends of circuits, as rows of their positions. */

import type { CircuitPort } from "./assumed.ts";

/** Asked with two equal lists of circuit ids as JSON. */
const portsAt = (end: "A" | "Z", which: string): string => `
  select c.id as circuit_id, '${end}' as end, po.port_id, po.id, po.ordinal, i.transmit_position, i.receive_position
  from circuit c cross join position po on po.port_id = c.${end.toLowerCase()}_port_id
    left join interface i on i.port_id = po.port_id
  where ${which}`;
const both = (which: string): string => `${portsAt("A", which)} union all ${portsAt("Z", which)} order by 1, 2, 5`;

export const PORTS_OF_CIRCUITS = both("c.id in (select value from json_each(?))");
export const PORTS_OF_ALL_CIRCUITS = both("c.state <> 'retired'");

export interface CircuitPortRow {
  readonly circuit_id: number;
  readonly end: "A" | "Z";
  readonly port_id: number;
  readonly id: number;
  readonly ordinal: number;
  readonly transmit_position: number | null;
  readonly receive_position: number | null;
}

/** The rows as ports by circuit; A before Z. */
export function circuitPorts(rows: readonly CircuitPortRow[]): Map<number, CircuitPort[]> {
  const ports = new Map<number, CircuitPort[]>();
  for (const own of Map.groupBy(rows, (row) => `${row.circuit_id} ${row.end}`).values()) {
    const row = own[0] as CircuitPortRow;
    const port = {
      port_id: row.port_id,
      end: row.end,
      positions: own.map(({ id, ordinal }) => ({ id, ordinal })),
      transmit: row.transmit_position,
      receive: row.receive_position,
    };
    ports.set(row.circuit_id, [...(ports.get(row.circuit_id) ?? []), port]);
  }
  return ports;
}
