/** Columns of numbers by record id, and joints in lists: how a whole plant fits into some tens of megabytes. */
import { idOf, isPosition, NOWHERE } from "./end.ts";
import type { Glass } from "./glass.ts";

/** Room for one id more than `last`, with some to grow. */
const roomFor = (last: number): number => Math.ceil((last + 1) * 1.05) + 16;

/** Whole numbers by id; 0 where there is none. */
export class Column {
  data: Int32Array;

  constructor(last = 0) {
    this.data = new Int32Array(roomFor(last));
  }

  get(id: number): number {
    return this.data[id] ?? 0;
  }

  set(id: number, value: number): void {
    if (id >= this.data.length) this.data = enlarged(this.data, roomFor(id));
    this.data[id] = value;
  }
}

function enlarged(data: Int32Array, length: number): Int32Array {
  const larger = new Int32Array(length);
  larger.set(data);
  return larger;
}

/** Kind of a joint that is no longer there. */
const GONE = 255;

/** Joints between ends. Handle 2j is joint j seen from its first end, 2j + 1 from its second. */
export class Joints implements Glass {
  /** Handle + 1 of the first joint, by 2 x id + side; sections and positions count their ids apart. */
  readonly #ofSections: Column;
  readonly #ofPositions: Column;
  #next: Int32Array;
  #to: Int32Array;
  #id: Int32Array;
  #kind: Uint8Array;
  #count = 0;

  constructor(joints: number, lastSection: number, lastPosition: number) {
    const room = roomFor(joints);
    this.#ofSections = new Column(lastSection * 2 + 1);
    this.#ofPositions = new Column(lastPosition * 2 + 1);
    this.#next = new Int32Array(room * 2);
    this.#to = new Int32Array(room * 2);
    this.#id = new Int32Array(room);
    this.#kind = new Uint8Array(room);
  }

  first(end: number): number {
    return (isPosition(end) ? this.#ofPositions : this.#ofSections).get(idOf(end) * 2 + (end & 1)) - 1;
  }
  next(handle: number): number {
    return (this.#next[handle] as number) - 1;
  }
  to(handle: number): number {
    return this.#to[handle] as number;
  }
  kind(handle: number): number {
    return this.#kind[handle >> 1] as number;
  }
  id(handle: number): number {
    return this.#id[handle >> 1] as number;
  }

  /** How many joints were ever added; handles run below twice this. */
  get count(): number {
    return this.#count;
  }

  /** A joint between two ends, one of which may be NOWHERE; an end joined to itself has it once. */
  add(kind: number, id: number, a: number, b: number): void {
    if (a === NOWHERE) {
      if (b !== NOWHERE) this.add(kind, id, b, a);
      return;
    }
    const joint = this.#count++;
    if (joint >= this.#id.length) this.#grow();
    this.#kind[joint] = kind;
    this.#id[joint] = id;
    this.#to[joint * 2] = b;
    this.#to[joint * 2 + 1] = a;
    this.#link(a, joint * 2);
    if (b !== NOWHERE && b !== a) this.#link(b, joint * 2 + 1);
  }

  /** Takes away the joints of a kind whose records `gone` names. */
  remove(kind: number, gone: ReadonlySet<number>): void {
    for (let joint = 0; joint < this.#count; joint += 1) {
      if (this.#kind[joint] !== kind || !gone.has(this.#id[joint] as number)) continue;
      const a = this.#to[joint * 2 + 1] as number;
      const b = this.#to[joint * 2] as number;
      this.#unlink(a, joint * 2);
      if (b !== NOWHERE && b !== a) this.#unlink(b, joint * 2 + 1);
      this.#kind[joint] = GONE;
    }
  }

  #link(end: number, handle: number): void {
    const heads = isPosition(end) ? this.#ofPositions : this.#ofSections;
    const at = idOf(end) * 2 + (end & 1);
    this.#next[handle] = heads.get(at);
    heads.set(at, handle + 1);
  }

  #unlink(end: number, handle: number): void {
    const heads = isPosition(end) ? this.#ofPositions : this.#ofSections;
    const at = idOf(end) * 2 + (end & 1);
    const after = this.#next[handle] as number;
    if (heads.get(at) === handle + 1) heads.set(at, after);
    else {
      let before = heads.get(at) - 1;
      while (before >= 0 && this.next(before) !== handle) before = this.next(before);
      if (before >= 0) this.#next[before] = after;
    }
  }

  #grow(): void {
    const room = roomFor(this.#count * 1.25);
    this.#next = enlarged(this.#next, room * 2);
    this.#to = enlarged(this.#to, room * 2);
    this.#id = enlarged(this.#id, room);
    const kinds = new Uint8Array(room);
    kinds.set(this.#kind);
    this.#kind = kinds;
  }
}
