/** Assignments in memory, by section and by circuit. */
import type { Tables } from "./plant-tables.ts";

/** Ids of one column grouped by the values of another, without an object a group. */
class Groups {
  readonly #starts: Int32Array;
  readonly #members: Int32Array;

  constructor(keyOf: (id: number) => number, lastId: number, lastKey: number) {
    const starts = new Int32Array(lastKey + 2);
    for (let id = 1; id <= lastId; id += 1) {
      const key = keyOf(id);
      if (key > 0) starts[key + 1] = (starts[key + 1] as number) + 1;
    }
    for (let key = 1; key < starts.length; key += 1) {
      starts[key] = (starts[key] as number) + (starts[key - 1] as number);
    }
    this.#members = new Int32Array(starts[lastKey + 1] as number);
    const at = starts.slice();
    for (let id = 1; id <= lastId; id += 1) {
      const key = keyOf(id);
      if (key === 0) continue;
      const place = at[key] as number;
      this.#members[place] = id;
      at[key] = place + 1;
    }
    this.#starts = starts;
  }

  has(key: number): boolean {
    return this.#starts[key] !== this.#starts[key + 1];
  }

  of(key: number): Int32Array {
    return this.#members.subarray(this.#starts[key] ?? 0, this.#starts[key + 1] ?? 0);
  }
}

export class ServiceIndex {
  readonly #bySection: Groups;
  readonly #byCircuit: Groups;

  constructor({ assignment, section, circuit }: Tables) {
    this.#bySection = new Groups((id) => assignment.section.get(id), assignment.last, section.last);
    this.#byCircuit = new Groups((id) => assignment.circuit.get(id), assignment.last, circuit.last);
  }

  /** Whether a section was ever given to anything: most weren't, and this costs nothing. */
  isGiven(section: number): boolean {
    return this.#bySection.has(section);
  }

  /** Ids of the assignments of a section, ascending, whatever their dates. */
  ofSection(section: number): Int32Array {
    return this.#bySection.of(section);
  }
  ofCircuit(circuit: number): Int32Array {
    return this.#byCircuit.of(circuit);
  }
}
