/** The assumed cords of a whole plant, from what is held in memory. */
import type { Reader } from "../store/handle.ts";
import { type AssumedCord, type CircuitUse, distinctPairs, isJoined, type PortFacts, pairsOfUse } from "./assumed.ts";
import { type CircuitPortRow, circuitPorts, PORTS_OF_ALL_CIRCUITS } from "./circuit-ports.ts";
import type { Glass } from "./glass.ts";
import { ROLES, STATES, type Tables } from "./plant-tables.ts";
import type { ServiceIndex } from "./service-index.ts";

const RETIRED = STATES.indexOf("retired") + 1;

/** @param today as a number, such as 20260405 */
export async function plantCords(
  reader: Reader,
  glass: Glass,
  tables: Tables,
  service: ServiceIndex,
  today: number,
): Promise<AssumedCord[]> {
  const { assignment, circuit, position, port } = tables;
  const ports = circuitPorts(await reader.rows<CircuitPortRow>(PORTS_OF_ALL_CIRCUITS));
  const factsOf = (id: number): PortFacts => {
    const port_id = position.port.get(id);
    return { port_id, space_id: port.room.get(port_id) || null, may_hold_cord: port.may_hold_cord.get(port_id) === 1 };
  };
  const pairs: AssumedCord[] = [];
  for (let circuit_id = 1; circuit_id <= circuit.last; circuit_id += 1) {
    const state = circuit.state.get(circuit_id);
    if (state === 0 || state === RETIRED) continue;
    const sections: CircuitUse["sections"][number][] = [];
    for (const id of service.ofCircuit(circuit_id)) {
      const until = assignment.until_on.get(id);
      if (assignment.from_on.get(id) > today || (until > 0 && until <= today)) continue;
      const role = ROLES[assignment.role.get(id) - 1];
      if (role) sections.push({ section_id: assignment.section.get(id), role });
    }
    if (sections.length === 0) continue;
    pairs.push(...pairsOfUse(glass, { circuit_id, sections, ports: ports.get(circuit_id) ?? [] }, factsOf));
  }
  return distinctPairs(pairs.filter(({ a, b }) => !isJoined(glass, a, b)));
}
