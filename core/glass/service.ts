/** What strand sections are doing: assignments and circuits read in sets, and the one order of states. */
import type { Row } from "../model/dictionary.ts";
import type { Reader } from "../store/handle.ts";
import {
  belowDifferentOutputs,
  type CircuitFacts,
  type Clash,
  clashesOf,
  type Given,
  type Holding,
} from "./assigned-twice.ts";
import { sectionEnd } from "./end.ts";
import type { Glass } from "./glass.ts";
import { glassAround } from "./line-glass.ts";

export interface Assigned extends Given {
  readonly role: Row<"assignment">["role"];
  readonly ordinal: number | null;
}

export interface Circuit extends CircuitFacts {
  readonly tag: string;
  readonly name: string | null;
  readonly reserved_until: string | null;
  readonly priority: number | null;
  /** Whose it is, where it isn't the plant's own. */
  readonly tenant: string | null;
  readonly a_port_id: number | null;
  readonly z_port_id: number | null;
  readonly a_party: string | null;
  readonly z_party: string | null;
  readonly a_reference: string | null;
  readonly z_reference: string | null;
}

const CIRCUITS = `select c.id, c.tag, c.name, c.state, c.rides_on_id, c.reserved_until, c.priority,
    case when o.id is not null and coalesce(o.role, '') <> 'self' then o.tag end as tenant, c.a_port_id, c.z_port_id,
    a.tag as a_party, z.tag as z_party, c.a_reference, c.z_reference
  from circuit c left join party o on o.id = c.owner_id left join party a on a.id = c.a_party_id
    left join party z on z.id = c.z_party_id
  where c.id in (select value from json_each(?))`;

export class Service {
  readonly today: string;
  readonly circuits = new Map<number, Circuit>();
  readonly #given = new Map<number, Assigned[]>();
  readonly #clashes = new Map<number, readonly Clash[]>();
  #handedOver: { readonly of: number; readonly ports: ReadonlyMap<number, Circuit[]> } | null = null;

  private constructor(today: string) {
    this.today = today;
  }

  /** Reads what some sections are given to. `glass` is asked only where a splitter may explain a clash. */
  static async read(reader: Reader, sections: Iterable<number>, today: string, glass?: Glass): Promise<Service> {
    const service = new Service(today);
    const rows = await reader.rows<Assigned>(
      `select id, section_id, circuit_id, band, from_on, until_on, role, ordinal from assignment
       where section_id in (select value from json_each(?)) order by section_id, id`,
      [JSON.stringify([...sections])],
    );
    for (const row of rows) {
      const own = service.#given.get(row.section_id);
      if (own) own.push(row);
      else service.#given.set(row.section_id, [row]);
    }
    await service.readCircuits(reader, new Set(rows.map(({ circuit_id }) => circuit_id)));
    const clashes = [...service.#given.values()].flatMap((given) =>
      given.length < 2 ? [] : clashesOf(given, (id) => service.circuits.get(id), today),
    );
    const standing = clashes.length === 0 ? [] : await withoutSplitters(reader, clashes, today, glass);
    for (const [section, own] of Map.groupBy(standing, ({ section_id }) => section_id))
      service.#clashes.set(section, own);
    return service;
  }

  /** Circuits, and those they ride on. */
  async readCircuits(reader: Reader, wanted: ReadonlySet<number>): Promise<void> {
    let ids = [...wanted].filter((id) => !this.circuits.has(id));
    while (ids.length > 0) {
      const rows = await reader.rows<Circuit>(CIRCUITS, [JSON.stringify(ids)]);
      for (const row of rows) this.circuits.set(row.id, row);
      ids = rows.flatMap(({ rides_on_id }) =>
        rides_on_id !== null && !this.circuits.has(rides_on_id) ? [rides_on_id] : [],
      );
    }
  }

  /** Assignments that hold today, of circuits that aren't retired. */
  holding(section_id: number): Assigned[] {
    return this.#open(section_id).filter(({ from_on }) => from_on === null || from_on <= this.today);
  }

  /** Whether anything is still to end: what begins later counts. */
  isPromised(section_id: number): boolean {
    return this.#open(section_id).length > 0;
  }

  #open(section_id: number): Assigned[] {
    return (this.#given.get(section_id) ?? []).filter(
      ({ until_on, circuit_id }) =>
        (until_on === null || until_on > this.today) && this.circuits.get(circuit_id)?.state !== "retired",
    );
  }

  /** Circuits of which an end at this port belongs to another party. */
  handedOverAt(port_id: number): readonly Circuit[] {
    if (!this.#handedOver || this.#handedOver.of !== this.circuits.size) {
      const ports = new Map<number, Circuit[]>();
      for (const circuit of this.circuits.values()) {
        const { state, a_party, a_port_id, z_party, z_port_id } = circuit;
        if (state === "retired") continue;
        for (const [party, port] of [
          [a_party, a_port_id],
          [z_party, z_port_id],
        ] as const) {
          if (party !== null && port !== null) ports.set(port, [...(ports.get(port) ?? []), circuit]);
        }
      }
      this.#handedOver = { of: this.circuits.size, ports };
    }
    return this.#handedOver.ports.get(port_id) ?? [];
  }

  clashes(section_id: number): readonly Clash[] {
    return this.#clashes.get(section_id) ?? [];
  }

  /** Circuits that hold a section today, each once, in order of assignment. */
  circuitsOf(section_id: number): Circuit[] {
    if (!this.#given.has(section_id)) return [];
    const ids = new Set(this.holding(section_id).map(({ circuit_id }) => circuit_id));
    return [...ids].flatMap((id) => this.circuits.get(id) ?? []);
  }
}

/** Leaves out clashes that a splitter explains. There are few, so their glass is read as it is needed. */
async function withoutSplitters(
  reader: Reader,
  clashes: readonly Clash[],
  today: string,
  known: Glass | undefined,
): Promise<Clash[]> {
  const joins = await reader.rows<{ id: number; module_id: number }>(
    "select j.id, j.module_id from module m join module_join j on j.module_id = m.id where m.kind = 'splitter'",
  );
  if (joins.length === 0) return [...clashes];
  const splitters = new Map(joins.map(({ id, module_id }) => [id, module_id]));
  const sections = [...new Set(clashes.map(({ section_id }) => section_id))];
  const glass =
    known ??
    (await glassAround(
      reader,
      sections.flatMap((id) => [sectionEnd(id, "A"), sectionEnd(id, "B")]),
      today,
    ));
  const clashing = new Set(clashes.flatMap(({ a, b }) => [a.circuit_id, b.circuit_id]));
  const ids = JSON.stringify([...clashing]);
  const held = await reader.rows<{ circuit_id: number; section_id: number }>(
    "select circuit_id, section_id from assignment where circuit_id in (select value from json_each(?))",
    [ids],
  );
  const positions = await reader.rows<{ circuit_id: number; id: number }>(
    `select c.id as circuit_id, po.id from circuit c join position po on po.port_id in (c.a_port_id, c.z_port_id)
     where c.id in (select value from json_each(?))`,
    [ids],
  );
  const holdings = new Map<number, Holding>();
  for (const id of clashing) {
    holdings.set(id, {
      sections: new Set(held.filter(({ circuit_id }) => circuit_id === id).map(({ section_id }) => section_id)),
      positions: new Set(positions.filter(({ circuit_id }) => circuit_id === id).map((row) => row.id)),
    });
  }
  const explained = (around: Glass, section: number, { a, b }: Clash): boolean => {
    const [one, other] = [holdings.get(a.circuit_id), holdings.get(b.circuit_id)];
    if (!one || !other) return false;
    return belowDifferentOutputs(around, section, one, other, (id) => splitters.get(id) ?? null);
  };
  const left = clashes.filter((clash) => !explained(glass, clash.section_id, clash));
  return left.length === 0 ? left : withoutCutFeeders(reader, left, holdings, today, known, explained);
}

/**
 * A feeder that was cut is shared on both its halves, though only one still leads to the splitter: the other is a line
 * that is broken, and no second clash.
 */
async function withoutCutFeeders(
  reader: Reader,
  clashes: readonly Clash[],
  holdings: ReadonlyMap<number, Holding>,
  today: string,
  known: Glass | undefined,
  explained: (around: Glass, section: number, clash: Clash) => boolean,
): Promise<Clash[]> {
  const halves = await reader.rows<{ id: number; of: number }>(
    `select other.id, s.id as "of" from section s join section other on other.strand_id = s.strand_id and other.id <> s.id
     where s.id in (select value from json_each(?))`,
    [JSON.stringify([...new Set(clashes.map(({ section_id }) => section_id))])],
  );
  if (halves.length === 0) return [...clashes];
  const around =
    known ??
    (await glassAround(
      reader,
      halves.flatMap(({ id }) => [sectionEnd(id, "A"), sectionEnd(id, "B")]),
      today,
    ));
  const holds = (circuit: number, section: number): boolean => holdings.get(circuit)?.sections.has(section) ?? false;
  return clashes.filter(
    (clash) =>
      !halves.some(
        ({ id, of }) =>
          of === clash.section_id &&
          holds(clash.a.circuit_id, id) &&
          holds(clash.b.circuit_id, id) &&
          explained(around, id, clash),
      ),
  );
}
