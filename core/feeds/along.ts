/** Where sheaths lie, for single points: from the cables that were read, further ones as they are reached. */
import { type Side, sectionEnd } from "../glass/end.ts";
import type { Glass } from "../glass/glass.ts";
import { glassAround } from "../glass/line-glass.ts";
import type { Reader } from "../store/handle.ts";
import { Cables } from "../trace/cables.ts";
import { factsRead, type GlassFacts } from "./glass-facts.ts";
import type { Subject } from "./subject.ts";
import { reachedFrom } from "./walks.ts";
import type { Begin, Element, Places } from "./ways.ts";

export class Sheaths implements Places {
  readonly #subject: Subject;
  readonly #read: Cables[];
  readonly #along = new Map<string, readonly Element[]>();

  constructor(subject: Subject, cables: Cables) {
    this.#subject = subject;
    this.#read = [cables];
  }

  add(cables: Cables): void {
    this.#read.push(cables);
  }

  spaceOf(stop: number): number {
    for (const { stops } of this.#read) {
      const found = stops.get(stop);
      if (found) return found.space_id ?? 0;
    }
    return 0;
  }

  /** Name and building of a space. */
  space(id: number) {
    for (const { spaces } of this.#read) {
      const found = spaces.get(id);
      if (found) return found;
    }
    return undefined;
  }

  isHere(space: number): boolean {
    const { ref, spaces, building_id } = this.#subject;
    return spaces.has(space) || (ref.kind === "building" && this.space(space)?.building_id === building_id);
  }

  isElsewhere(space: number): boolean {
    const building = this.space(space)?.building_id ?? null;
    return building !== null && building !== this.#subject.building_id;
  }

  alongSection(cable: number, a: number, b: number): readonly Element[] {
    const key = `${a} ${b}`;
    let along = this.#along.get(key);
    if (!along) {
      along = this.#elements(cable, a, b);
      this.#along.set(key, along);
    }
    return along;
  }

  #elements(cable: number, a: number, b: number): Element[] {
    const sheath = this.#read.find(({ byId }) => byId.has(cable))?.byId.get(cable)?.sheath;
    const stops = sheath?.stopsBetween(a, b) ?? [];
    return stops.flatMap((stop, index): Element[] => {
      const space = this.spaceOf(stop.id);
      const next = stops[index + 1];
      const ways = next ? (sheath?.legsBetween(stop.id, next.id) ?? []) : [];
      return [
        ...(space > 0 ? [{ kind: "space", id: space } as const] : []),
        ...ways.flatMap(({ pathway_id }) =>
          pathway_id === null ? [] : [{ kind: "pathway", id: pathway_id } as const],
        ),
      ];
    });
  }
}

/** Sections that land on ports of a room, with the end that does. */
export async function landedIn(reader: Reader, room: number): Promise<Begin[]> {
  const rows = await reader.rows<{ section: number; side: Side }>(
    `select distinct t.section_id as section, t.side
     from (select p.id from panel q join port p on p.panel_id = q.id where q.space_id in (select value from json_each(?))
       union select p.id from panel q join module m on m.panel_id = q.id join port p on p.module_id = m.id
         where q.space_id in (select value from json_each(?))
       union select p.id from module m join port p on p.module_id = m.id
         where m.space_id in (select value from json_each(?))) o
     join position po on po.port_id = o.id
     join termination t on t.position_id = po.id and t.life in ('in_place', 'out_of_use')`,
    Array.from({ length: 3 }, () => JSON.stringify([room])),
  );
  return rows.map(({ section, side }) => ({ section, side }));
}

/** The graph around some sections and what is reached over it, read for them alone. */
export async function readAround(
  reader: Reader,
  begins: readonly Begin[],
  today: string,
  sheaths: Sheaths,
): Promise<{ glass: Glass; facts: GlassFacts }> {
  const glass = await glassAround(
    reader,
    begins.flatMap(({ section }) => [sectionEnd(section, "A"), sectionEnd(section, "B")]),
    today,
  );
  const reached = reachedFrom(glass, begins);
  const facts = await factsRead(reader, reached.sections, reached.positions, today);
  const cables = await Cables.read(
    reader,
    new Set([...reached.sections].map((id) => facts.cableOf(id))),
    [],
    new Set([...reached.positions].map((id) => facts.roomOf(id))),
  );
  sheaths.add(cables);
  return { glass, facts };
}
