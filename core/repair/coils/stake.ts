/** What is at stake along cables: circuits in service on their strands, and those that ride on them. */
import type { Reader } from "../../store/handle.ts";
import type { RecordRef } from "../../trace/answer.ts";
import type { MendCircuit } from "../answer.ts";

/** Glass that circuits run on, between two stops of its cable; a stop that nobody knows is null. */
interface Given {
  readonly cable_id: number;
  readonly strand_id: number;
  readonly a_stop: number | null;
  readonly b_stop: number | null;
  readonly circuit_id: number;
}

interface CircuitRow {
  readonly id: number;
  readonly tag: string;
  readonly priority: number | null;
  readonly rides_on_id: number | null;
}

export interface Stake {
  readonly circuits: readonly MendCircuit[];
  readonly strands_in_service: number;
}

export class Stakes {
  readonly #circuits: ReadonlyMap<number, CircuitRow>;
  readonly #riders: ReadonlyMap<number | null, readonly CircuitRow[]>;
  readonly #today: string;
  #given: ReadonlyMap<number, readonly Given[]> = new Map();
  #strands: ReadonlyMap<number, number> = new Map();

  private constructor(rows: readonly CircuitRow[], today: string) {
    this.#circuits = new Map(rows.map((row) => [row.id, row]));
    this.#riders = Map.groupBy(rows, ({ rides_on_id }) => rides_on_id);
    this.#today = today;
  }

  static async read(reader: Reader, today: string): Promise<Stakes> {
    const rows = await reader.rows<CircuitRow>(
      "select id, tag, priority, rides_on_id from circuit where state = 'in_service'",
    );
    return new Stakes(rows, today);
  }

  /** Reads what some cables carry, in place of those before. */
  async readCables(reader: Reader, cables: readonly number[]): Promise<void> {
    const ids = JSON.stringify(cables);
    const given = await reader.rows<Given>(
      `select t.cable_id, s.strand_id, s.a_stop_id as a_stop, s.b_stop_id as b_stop, a.circuit_id
       from strand t cross join section s on s.strand_id = t.id cross join assignment a on a.section_id = s.id
         cross join circuit c on c.id = a.circuit_id and c.state = 'in_service'
       where t.cable_id in (select value from json_each(?)) and (a.from_on is null or a.from_on <= ?)
         and (a.until_on is null or a.until_on > ?) order by t.cable_id, t.number, s.ordinal, a.id`,
      [ids, this.#today, this.#today],
    );
    this.#given = Map.groupBy(given, ({ cable_id }) => cable_id);
    const counts = await reader.rows<{ cable_id: number; strands: number }>(
      "select cable_id, count(*) as strands from strand where cable_id in (select value from json_each(?)) group by cable_id",
      [ids],
    );
    this.#strands = new Map(counts.map(({ cable_id, strands }) => [cable_id, strands]));
  }

  strandsOf(cable: number): number {
    return this.#strands.get(cable) ?? 0;
  }

  /** On some legs of a cable, by the stops at their beginnings. Glass whose ends nobody knows counts everywhere. */
  on(cable: number, stops: readonly number[], legs: ReadonlySet<number>): Stake {
    const place = new Map(stops.map((stop, at) => [stop, at]));
    const strands = new Set<number>();
    const found = new Map<number, CircuitRow>();
    for (const { strand_id, a_stop, b_stop, circuit_id } of this.#given.get(cable) ?? []) {
      const [a, b] = [place.get(a_stop ?? 0) ?? 0, place.get(b_stop ?? 0) ?? stops.length - 1];
      if (![...legs].some((leg) => leg >= Math.min(a, b) && leg < Math.max(a, b))) continue;
      strands.add(strand_id);
      this.#add(circuit_id, found);
    }
    const circuits = [...found.values()].sort(
      (a, b) => (a.priority ?? 10) - (b.priority ?? 10) || (a.tag < b.tag ? -1 : 1),
    );
    return {
      circuits: circuits.map(({ id, tag, priority }) => ({ circuit: ref(id, tag), priority })),
      strands_in_service: strands.size,
    };
  }

  #add(id: number, found: Map<number, CircuitRow>): void {
    const own = this.#circuits.get(id);
    if (!own || found.has(id)) return;
    found.set(id, own);
    for (const rider of this.#riders.get(id) ?? []) this.#add(rider.id, found);
  }
}

const ref = (id: number, tag: string): RecordRef => ({ kind: "circuit", id, tag });
