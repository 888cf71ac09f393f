/**
 * Which positions of its ports a circuit uses. A port may have more positions than a circuit has strands: what is cut behind
 * another position of it then isn't the circuit's.
 */
import { idOf, isPosition, NOWHERE, sectionEnd } from "../glass/end.ts";
import type { Glass } from "../glass/glass.ts";
import type { PlantGlass } from "../glass/held-glass.ts";
import { HOLDS } from "../glass/line-glass.ts";
import { walk } from "../glass/walk.ts";
import type { Reader } from "../store/handle.ts";
import { glassOfSections } from "./section-glass.ts";

export interface AtPort {
  readonly circuit: number;
  readonly position: number;
}

/**
 * Those of the positions that are none of the circuit's: as many others of the same port as it has strands are reached by
 * glass that it is given. Where the record doesn't say so much, each position may be its own.
 */
export async function othersPositions(
  reader: Reader,
  at: readonly AtPort[],
  { today, held }: { readonly today: string; readonly held: PlantGlass | null },
): Promise<(one: AtPort) => boolean> {
  if (at.length === 0) return () => false;
  const strandsOf = new Map(
    (
      await reader.lists(
        "select id, strands from circuit where id in (select value from json_each(?)) and strands > 0",
        [JSON.stringify([...new Set(at.map(({ circuit }) => circuit))])],
      )
    ).map(([id, strands]) => [id as number, strands as number]),
  );
  const port = await portsOf(reader, new Set(at.map(({ position }) => position)));
  // Where a port has as many positions as the circuit has strands, each is its own.
  const roomy = new Set(
    at.flatMap(({ circuit, position }) =>
      (port.get(position)?.positions ?? 0) > (strandsOf.get(circuit) ?? Number.POSITIVE_INFINITY) ? [circuit] : [],
    ),
  );
  if (roomy.size === 0) return () => false;
  const given = await reader.rows<{ circuit: number; section: number }>(
    `select distinct a.circuit_id as circuit, a.section_id as section
     from circuit c cross join assignment a on a.circuit_id = c.id
     where c.id in (select value from json_each(?)) and ${HOLDS}`,
    [JSON.stringify([...roomy]), today, today],
  );
  const sections = [...new Set(given.map(({ section }) => section))];
  const glass = await glassOfSections(reader, sections, { today, held });
  const passed = new Map(sections.map((id) => [id, positionsFrom(glass, id)]));
  const there = await portsOf(reader, new Set([...passed.values()].flat()));
  const own = Map.groupBy(given, ({ circuit }) => circuit);
  return ({ circuit, position }) => {
    if (!roomy.has(circuit)) return false;
    const id = port.get(position)?.port;
    const reached = new Set(
      (own.get(circuit) ?? []).flatMap(({ section }) =>
        (passed.get(section) ?? []).filter((one) => there.get(one)?.port === id),
      ),
    );
    return reached.size >= (strandsOf.get(circuit) ?? Number.POSITIVE_INFINITY) && !reached.has(position);
  };
}

interface PortOf {
  readonly port: number;
  /** How many positions it has. */
  readonly positions: number;
}

async function portsOf(reader: Reader, positions: ReadonlySet<number>): Promise<Map<number, PortOf>> {
  const rows = await reader.lists(
    `select o.id, o.port_id, (select count(*) from position n where n.port_id = o.port_id)
     from json_each(?) i cross join position o on o.id = i.value`,
    [JSON.stringify([...positions])],
  );
  return new Map(rows.map(([id, port, count]) => [id as number, { port: port as number, positions: count as number }]));
}

/** Positions that light from a section passes, both ways. */
function positionsFrom(glass: Glass, section: number): number[] {
  const found = new Set<number>();
  for (const side of ["A", "B"] as const) {
    for (const to of walk(glass, sectionEnd(section, side)).to) {
      if (to !== NOWHERE && isPosition(to)) found.add(idOf(to));
    }
  }
  return [...found];
}
