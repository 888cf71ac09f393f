/** What the memory reader of the graph holds, and answers. */
import type { Reader } from "../store/handle.ts";
import type { Joints } from "./columns.ts";
import type { Side } from "./end.ts";
import type { Glass } from "./glass.ts";
import { plantCords } from "./plant-cords.ts";
import { dayNumber, STATES, type Tables } from "./plant-tables.ts";
import { ServiceIndex } from "./service-index.ts";
import { WithAssumed } from "./with-assumed.ts";

const RETIRED = STATES.indexOf("retired") + 1;

export class PlantGlass implements Glass {
  /** The change set it stands at. */
  revision: number;
  readonly tables: Tables;
  readonly joints: Joints;
  #cords: { day: string; glass: Promise<Glass> } | null = null;
  #service: ServiceIndex | null = null;
  #promised: { day: number; sections: Uint8Array } | null = null;

  constructor(revision: number, tables: Tables, joints: Joints) {
    this.revision = revision;
    this.tables = tables;
    this.joints = joints;
  }

  // What is on record, without assumed cords.
  first(end: number): number {
    return this.joints.first(end);
  }
  next(handle: number): number {
    return this.joints.next(handle);
  }
  to(handle: number): number {
    return this.joints.to(handle);
  }
  kind(handle: number): number {
    return this.joints.kind(handle);
  }
  id(handle: number): number {
    return this.joints.id(handle);
  }

  /** The stop where an end of a section is; 0 where nobody knows. */
  stopOf(section: number, side: Side): number {
    return this.tables.section[side === "A" ? "a_stop" : "b_stop"].get(section);
  }
  cableOf(section: number): number {
    return this.tables.strand.cable.get(this.tables.section.strand.get(section));
  }
  /** The room a position is in; 0 where nobody knows. */
  roomOf(position: number): number {
    return this.tables.port.room.get(this.tables.position.port.get(position));
  }
  /** Whether a position is of equipment. */
  isDevice(position: number): boolean {
    return this.tables.port.device.get(this.tables.position.port.get(position)) > 0;
  }

  /** Assignments by section and by circuit. */
  get service(): ServiceIndex {
    this.#service ??= new ServiceIndex(this.tables);
    return this.#service;
  }

  /** For each section 1 where it is given to a circuit that isn't retired, on a day or later. */
  promisedOn(day: number): Uint8Array {
    if (this.#promised?.day !== day) {
      const { assignment, circuit, section } = this.tables;
      const sections = new Uint8Array(section.last + 1);
      for (let id = 1; id <= assignment.last; id += 1) {
        const until = assignment.until_on.get(id);
        if ((until > 0 && until <= day) || circuit.state.get(assignment.circuit.get(id)) === RETIRED) continue;
        sections[assignment.section.get(id)] = 1;
      }
      this.#promised = { day, sections };
    }
    return this.#promised.sections;
  }

  /** The graph with the cords that may be assumed on a day, `YYYY-MM-DD`. */
  on(reader: Reader, today: string): Promise<Glass> {
    if (this.#cords?.day !== today) {
      const glass = plantCords(reader, this, this.tables, this.service, dayNumber(today)).then(
        (cords): Glass => (cords.length === 0 ? this : new WithAssumed(this, cords)),
      );
      this.#cords = { day: today, glass };
      glass.catch(() => {
        this.#cords = null;
      });
    }
    return this.#cords.glass;
  }

  /** To be called after what is held was changed. */
  forgetDerived(): void {
    this.#cords = null;
    this.#service = null;
    this.#promised = null;
  }
}
