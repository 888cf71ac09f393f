/** Which circuits a loss hits, and how: by glass they are given, by glass joined to it, by their ports, by what they ride on. */
import type { PlantGlass } from "../glass/held-glass.ts";
import { FROM, RUNS, runsOf, TO } from "../glass/runs.ts";
import type { Service } from "../glass/service.ts";
import type { Reader } from "../store/handle.ts";
import type { HitHow } from "./answer.ts";
import type { LostSection } from "./hits.ts";
import type { Line } from "./lines.ts";
import { othersPositions } from "./own-positions.ts";

export interface HitCircuit {
  readonly id: number;
  how: HitHow;
  /** Lost cables its lines run in. */
  readonly cables: Set<number>;
  /** Indices of the things asked about. */
  readonly by: Set<number>;
  /** Lost sections whose line it runs on, where it does. */
  readonly sections: Set<number>;
}

const WORST: readonly HitHow[] = ["given", "port", "joined", "rides_on"];

export class Hits {
  readonly byId = new Map<number, HitCircuit>();

  add(id: number, how: HitHow, cables: Iterable<number>, by: Iterable<number>, sections: Iterable<number> = []): void {
    let hit = this.byId.get(id);
    if (!hit) {
      hit = { id, how, cables: new Set(), by: new Set(), sections: new Set() };
      this.byId.set(id, hit);
    }
    if (WORST.indexOf(how) < WORST.indexOf(hit.how)) hit.how = how;
    for (const cable of cables) hit.cables.add(cable);
    for (const one of by) hit.by.add(one);
    for (const section of sections) hit.sections.add(section);
  }
}

/** Circuits with an A or Z port at some positions. */
async function atPositions(reader: Reader, positions: Iterable<number>): Promise<Map<number, number[]>> {
  const runs = runsOf(positions);
  const at = (end: "a" | "z"): string => `
    select po.id, c.id from ${RUNS} cross join position po on po.id between ${FROM} and ${TO}
      cross join circuit c indexed by circuit_by_${end}_port on c.${end}_port_id = po.port_id where c.state <> 'retired'`;
  const circuits = new Map<number, number[]>();
  for (const [position, circuit] of (await reader.lists(`${at("a")} union ${at("z")}`, [runs, runs])) as [
    number,
    number,
  ][]) {
    const own = circuits.get(position);
    if (own) own.push(circuit);
    else circuits.set(position, [circuit]);
  }
  return circuits;
}

/** By the lines that run through lost sections. */
export async function hitByLines(
  reader: Reader,
  hits: Hits,
  lost: readonly LostSection[],
  lines: readonly Line[],
  service: Service,
  options: { readonly today: string; readonly held: PlantGlass | null },
): Promise<void> {
  const ports = await atPositions(reader, new Set(lines.flatMap(({ positions }) => positions)));
  for (const [index, line] of lines.entries()) {
    const { cable_id, by, id } = lost[index] as LostSection;
    for (const circuit of service.circuitsOf(id)) hits.add(circuit.id, "given", [cable_id], by, [id]);
    for (const section of line.sections) {
      for (const circuit of service.circuitsOf(section)) hits.add(circuit.id, "joined", [cable_id], by, [id]);
    }
  }
  // By its port alone: unless its own glass comes to other positions of that port.
  const at = [...ports].flatMap(([position, circuits]) => circuits.map((circuit) => ({ circuit, position })));
  const isAnothers = await othersPositions(reader, at, options);
  for (const [index, line] of lines.entries()) {
    const { cable_id, by, id } = lost[index] as LostSection;
    for (const position of line.positions) {
      for (const circuit of ports.get(position) ?? []) {
        if (!isAnothers({ circuit, position })) hits.add(circuit, "joined", [cable_id], by, [id]);
      }
    }
  }
}

/** Circuits that ride on hit ones, at once or through further ones. */
export async function hitRiders(reader: Reader, hits: Hits): Promise<void> {
  for (let open = [...hits.byId.keys()]; open.length > 0; ) {
    const rows = await reader.rows<{ id: number; rides_on_id: number }>(
      `select id, rides_on_id from circuit where state <> 'retired' and rides_on_id in (select value from json_each(?))`,
      [JSON.stringify(open)],
    );
    open = [];
    for (const { id, rides_on_id } of rows) {
      const carrier = hits.byId.get(rides_on_id);
      if (!hits.byId.has(id)) open.push(id);
      if (carrier) hits.add(id, "rides_on", carrier.cables, carrier.by, carrier.sections);
    }
  }
}

export interface Declared {
  readonly id: number;
  readonly circuit_id: number;
  readonly other_id: number;
}

/** Declared diversities of some circuits that neither side of which is retired. */
export const declaredOf = (reader: Reader, circuits: Iterable<number>): Promise<Declared[]> => {
  const ids = JSON.stringify([...circuits]);
  return reader.rows<Declared>(
    `select d.id, d.circuit_id, d.other_id from diversity d join circuit c on c.id = d.circuit_id
       join circuit o on o.id = d.other_id
     where d.id in (select id from diversity where circuit_id in (select value from json_each(?))
         union select id from diversity where other_id in (select value from json_each(?)))
       and c.state <> 'retired' and o.state <> 'retired' order by d.id`,
    [ids, ids],
  );
};
