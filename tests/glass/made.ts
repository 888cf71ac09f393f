/** Small plants made record by record, clean or dirty as a test wants them. */
import { rmSync } from "node:fs";
import type { AnyValues, KindName, Value } from "../../core/model/dictionary.ts";
import { Gateway } from "../../core/store/gateway.ts";
import type { Reader } from "../../core/store/handle.ts";
import type { Change } from "../../core/store/plan.ts";
import { machineClock } from "../../host/clock.ts";
import { newPlant, TESTER, type TestPlant } from "../support/plant.ts";

/** What ends a plant that several tests share: closes it and deletes its folder. */
export const endOf =
  (plant: TestPlant, ...folders: readonly string[]) =>
  async (): Promise<void> => {
    await plant.close();
    for (const folder of [plant.folder, ...folders]) rmSync(folder, { recursive: true, force: true });
  };

type Given = Readonly<Record<string, Value | undefined>>;

export interface MadeCable {
  readonly id: number;
  readonly tag: string;
  readonly stops: readonly number[];
  readonly strands: readonly number[];
  /** The first section of each strand. */
  readonly sections: readonly number[];
}

export interface MadePanel {
  readonly id: number;
  readonly ports: readonly number[];
  /** Positions of all ports in order. */
  readonly positions: readonly number[];
}

/** Collects records and gives them ids from 1; `write` puts them all into a plant as one change set. */
export class Made {
  readonly rows: { kind: KindName; id: number; values: AnyValues }[] = [];
  readonly #last = new Map<KindName, number>();

  add(kind: KindName, values: Given): number {
    const id = (this.#last.get(kind) ?? 0) + 1;
    this.#last.set(kind, id);
    const known = Object.entries(values).filter((entry): entry is [string, Value] => entry[1] !== undefined);
    this.rows.push({ kind, id, values: Object.fromEntries(known) });
    return id;
  }

  building(tag: string, values: Given = {}): number {
    return this.add("building", { tag, ...values });
  }
  room(tag: string, building_id: number | null, values: Given = {}): number {
    return this.add("space", {
      tag,
      building_id,
      kind: building_id === null ? "hand_hole" : "telecom_room",
      ...values,
    });
  }
  pathway(tag: string, from: number, to: number, length_m: number | null = null): number {
    return this.add("pathway", { tag, from_space_id: from, to_space_id: to, length_m });
  }

  /** A cable through some spaces, uncut. `stop` says more of each stop, `ways` of each leg. */
  cable(
    tag: string,
    spaces: readonly (number | null)[],
    strands: number,
    more: { values?: Given; stop?: readonly Given[]; ways?: readonly (number | null)[] } = {},
  ): MadeCable {
    const id = this.add("cable", { tag, ...more.values });
    const last = spaces.length - 1;
    const stops = spaces.map((space_id, index) =>
      this.add("stop", {
        cable_id: id,
        ordinal: index + 1,
        space_id,
        kind: index === 0 || index === last ? "end" : "passing",
        ...more.stop?.[index],
      }),
    );
    for (let index = 0; index < last; index += 1) {
      const pathway_id = more.ways?.[index] ?? null;
      this.add("leg", { from_stop_id: stops[index], to_stop_id: stops[index + 1], pathway_id });
    }
    const made = { id, tag, stops, strands: [] as number[], sections: [] as number[] };
    for (let number = 1; number <= strands; number += 1) {
      const strand = this.add("strand", { cable_id: id, number, place: number });
      made.strands.push(strand);
      made.sections.push(this.section(strand, stops[0] ?? null, stops[last] ?? null));
    }
    return made;
  }

  section(
    strand_id: number,
    a_stop_id: number | null,
    b_stop_id: number | null,
    ordinal = 1,
    more: Given = {},
  ): number {
    return this.add("section", { strand_id, ordinal, a_stop_id, b_stop_id, ...more });
  }

  panel(tag: string, space_id: number | null, ports: number, positions = 1, port: Given = {}): MadePanel {
    const id = this.add("panel", { tag, space_id });
    return { id, ...this.ports({ panel_id: id }, ports, positions, port) };
  }
  device(tag: string, space_id: number, ports: number, positions = 2): MadePanel {
    const id = this.add("device", { tag, space_id });
    return { id, ...this.ports({ device_id: id }, ports, positions) };
  }
  module(tag: string, space_id: number, kind: string, ports: number, positions = 1): MadePanel {
    const id = this.add("module", { tag, space_id, kind });
    return { id, ...this.ports({ module_id: id }, ports, positions) };
  }
  ports(owner: Given, count: number, positions: number, more: Given = {}): { ports: number[]; positions: number[] } {
    const made = { ports: [] as number[], positions: [] as number[] };
    for (let n = 1; n <= count; n += 1) {
      const port_id = this.add("port", { tag: String(n).padStart(2, "0"), ...owner, ...more });
      made.ports.push(port_id);
      for (let ordinal = 1; ordinal <= positions; ordinal += 1) {
        made.positions.push(this.add("position", { port_id, ordinal }));
      }
    }
    return made;
  }

  land(section_id: number | undefined, side: "A" | "B", position_id: number | undefined, more: Given = {}): number {
    return this.add("termination", { section_id, side, position_id, ...more });
  }
  splice(a: number | undefined, a_side: "A" | "B", b: number | undefined, b_side: "A" | "B", more: Given = {}): number {
    return this.add("splice", { a_section_id: a, a_side, b_section_id: b, b_side, ...more });
  }
  cord(a_port_id: number | null | undefined, b_port_id: number | null | undefined, more: Given = {}): number {
    return this.add("cord", { a_port_id, b_port_id, a_first: 1, b_first: 1, fibres: 1, map: "straight", ...more });
  }
  join(module_id: number, a: number | undefined, b: number | undefined, more: Given = {}): number {
    return this.add("module_join", {
      module_id,
      a_position_id: a,
      a_side: "back",
      b_position_id: b,
      b_side: "back",
      ...more,
    });
  }
  circuit(tag: string, sections: readonly number[], more: Given = {}, assigned: Given = {}): number {
    const id = this.add("circuit", { tag, state: "in_service", ...more });
    for (const [index, section_id] of sections.entries()) {
      this.add("assignment", { circuit_id: id, section_id, ordinal: index + 1, role: "both", ...assigned });
    }
    return id;
  }

  changes(): Change[] {
    return this.rows.map(({ kind, id, values }) => ({ op: "insert", kind, id, values }));
  }

  /** A plant on a real file that holds these records. */
  async plant(): Promise<MadePlant> {
    const plant = await newPlant();
    const gateway = new Gateway(plant.store, machineClock);
    const write = async (changes: readonly Change[]): Promise<void> => {
      await gateway.carryOut("fixture", TESTER, async () => ({ summary: "Fixture", changes, answer: null }));
    };
    await write(this.changes());
    return { ...plant, write, read: (work) => plant.store.read(work) };
  }
}

export interface MadePlant extends TestPlant {
  /** Carries changes out as one change set. */
  write(changes: readonly Change[]): Promise<void>;
  read<T>(work: (reader: Reader) => Promise<T>): Promise<T>;
}
