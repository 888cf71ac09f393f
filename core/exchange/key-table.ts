/** Room for so many records at first, a power of two: most of the many kinds of a plant have few records or none. */
const FIRST_ROOM = 64;

/**
 * Records of one kind by what tells them apart, each part a whole number (an id, an ordinal, or the number of a text).
 * Compact arrays and chains by hash, since a plant may have millions; a hit is always compared part by part.
 */
export class KeyTable {
  readonly parts: number;
  /** Parts of each record, by id, side by side. */
  #values: Int32Array;
  /** By id: 0 when the id isn't in the table, else 1 more than the next record of the same bucket (1 ends the chain). */
  #next: Int32Array;
  /** By bucket: the first record of its chain, or 0. Their number is a power of two. */
  #heads = new Int32Array(FIRST_ROOM);
  #size = FIRST_ROOM;
  #count = 0;

  constructor(parts: number) {
    this.parts = parts;
    this.#values = new Int32Array(this.#size * parts);
    this.#next = new Int32Array(this.#size);
  }

  add(id: number, key: readonly number[]): void {
    if (id >= this.#size) this.#grow(id);
    if (this.#count >= this.#heads.length) this.#spread();
    const from = id * this.parts;
    for (let i = 0; i < this.parts; i += 1) this.#values[from + i] = key[i] as number;
    this.#chain(id);
    this.#count += 1;
  }

  has(id: number): boolean {
    return id < this.#size && this.#next[id] !== 0;
  }

  /** All ids in the table, ascending. */
  *ids(): Iterable<number> {
    for (let id = 1; id < this.#size; id += 1) if (this.#next[id] !== 0) yield id;
  }

  part(id: number, i: number): number {
    return this.#values[id * this.parts + i] as number;
  }

  /** The record with this key; of several the one with the lowest id; 0 when there is none. */
  find(key: readonly number[]): number {
    let found = 0;
    for (let id = this.#first(key); id !== 0; id = (this.#next[id] as number) - 1) {
      if (this.#equal(id, key) && (found === 0 || id < found)) found = id;
    }
    return found;
  }

  /** All records with this key, ids ascending. */
  all(key: readonly number[]): number[] {
    const found: number[] = [];
    for (let id = this.#first(key); id !== 0; id = (this.#next[id] as number) - 1) {
      if (this.#equal(id, key)) found.push(id);
    }
    return found.sort((a, b) => a - b);
  }

  /** How many records have this key. */
  count(key: readonly number[]): number {
    let count = 0;
    for (let id = this.#first(key); id !== 0; id = (this.#next[id] as number) - 1) if (this.#equal(id, key)) count += 1;
    return count;
  }

  #first(key: readonly number[]): number {
    return this.#heads[hashOf(key, 0, this.parts) & (this.#heads.length - 1)] as number;
  }

  #chain(id: number): void {
    const bucket = hashOf(this.#values, id * this.parts, this.parts) & (this.#heads.length - 1);
    this.#next[id] = (this.#heads[bucket] as number) + 1;
    this.#heads[bucket] = id;
  }

  #equal(id: number, key: readonly number[]): boolean {
    const from = id * this.parts;
    for (let i = 0; i < this.parts; i += 1) if (this.#values[from + i] !== key[i]) return false;
    return true;
  }

  #spread(): void {
    this.#heads = new Int32Array(this.#heads.length * 2);
    for (let id = 1; id < this.#size; id += 1) if (this.#next[id] !== 0) this.#chain(id);
  }

  #grow(id: number): void {
    this.#size = roomFor(id, this.#size);
    this.#values = enlarged(this.#values, this.#size * this.parts);
    this.#next = enlarged(this.#next, this.#size);
  }
}

/** Half as much again at each growth: twice would leave up to half of the room unused. */
const roomFor = (id: number, size: number): number => Math.max(id + 1, Math.ceil(size * 1.5));

function enlarged(values: Int32Array, length: number): Int32Array<ArrayBuffer> {
  const larger = new Int32Array(length);
  larger.set(values);
  return larger;
}

function hashOf(values: ArrayLike<number>, from: number, parts: number): number {
  let hash = 0;
  for (let i = from; i < from + parts; i += 1) {
    hash = Math.imul(hash ^ (values[i] as number), 0x9e3779b1);
    hash ^= hash >>> 15;
  }
  return hash;
}

/** A number for each id of a kind, or each row of a file; 0 where none was set. Grows as it is filled. */
export class Numbers {
  #values = new Int32Array(FIRST_ROOM);
  at(index: number): number {
    return this.#values[index] ?? 0;
  }
  set(index: number, value: number): void {
    if (index >= this.#values.length) this.#values = enlarged(this.#values, roomFor(index, this.#values.length));
    this.#values[index] = value;
  }
}

/** Numbers for texts: the same text has the same number. 0 is no text. */
export class Texts {
  readonly #numbers = new Map<string, number>();
  readonly #texts: string[] = [""];
  numberOf(text: string): number {
    let number = this.#numbers.get(text);
    if (number === undefined) {
      const own = apart(text);
      number = this.#texts.length;
      this.#texts.push(own);
      this.#numbers.set(own, number);
    }
    return number;
  }
  /** 0 when the text was never met. */
  known(text: string): number {
    return this.#numbers.get(text) ?? 0;
  }
  textOf(number: number): string {
    return this.#texts[number] ?? "";
  }
}

/** A text that doesn't hold on to the file it was cut from: engines keep the whole of it for a piece of some length. */
export const apart = (text: string): string => (text.length < 13 ? text : text.split("").join(""));
