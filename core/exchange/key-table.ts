/**
 * Records of one kind by what tells them apart, each part a whole number (an id, an ordinal, or the number of a text).
 * Compact arrays and chains by hash, since a plant may have millions; a hit is always compared part by part.
 */
export class KeyTable {
  readonly parts: number;
  /** Parts of each record, by id, side by side. */
  #values: Int32Array;
  /** By id: the next record with the same hash, or 0. */
  #next: Int32Array;
  /** Whether an id is in the table. */
  #there: Uint8Array;
  readonly #heads = new Map<number, number>();
  #size = 1024;

  constructor(parts: number) {
    this.parts = parts;
    this.#values = new Int32Array(this.#size * parts);
    this.#next = new Int32Array(this.#size);
    this.#there = new Uint8Array(this.#size);
  }

  add(id: number, key: readonly number[]): void {
    if (id >= this.#size) this.#grow(id);
    for (let i = 0; i < this.parts; i += 1) this.#values[id * this.parts + i] = key[i] as number;
    const hash = hashOf(key);
    this.#next[id] = this.#heads.get(hash) ?? 0;
    this.#there[id] = 1;
    this.#heads.set(hash, id);
  }

  has(id: number): boolean {
    return id < this.#size && this.#there[id] === 1;
  }

  /** All ids in the table, ascending. */
  ids(): number[] {
    const ids: number[] = [];
    for (let id = 1; id < this.#size; id += 1) if (this.#there[id] === 1) ids.push(id);
    return ids;
  }

  part(id: number, i: number): number {
    return this.#values[id * this.parts + i] as number;
  }

  /** The record with this key; of several the one with the lowest id; 0 when there is none. */
  find(key: readonly number[]): number {
    let found = 0;
    for (let id = this.#heads.get(hashOf(key)) ?? 0; id !== 0; id = this.#next[id] as number) {
      if (this.#equal(id, key) && (found === 0 || id < found)) found = id;
    }
    return found;
  }

  /** All records with this key, ids ascending. */
  all(key: readonly number[]): number[] {
    const found: number[] = [];
    for (let id = this.#heads.get(hashOf(key)) ?? 0; id !== 0; id = this.#next[id] as number) {
      if (this.#equal(id, key)) found.push(id);
    }
    return found.sort((a, b) => a - b);
  }

  #equal(id: number, key: readonly number[]): boolean {
    const from = id * this.parts;
    for (let i = 0; i < this.parts; i += 1) if (this.#values[from + i] !== key[i]) return false;
    return true;
  }

  #grow(id: number): void {
    while (this.#size <= id) this.#size *= 2;
    const values = new Int32Array(this.#size * this.parts);
    values.set(this.#values);
    this.#values = values;
    const next = new Int32Array(this.#size);
    next.set(this.#next);
    this.#next = next;
    const there = new Uint8Array(this.#size);
    there.set(this.#there);
    this.#there = there;
  }
}

/** 30 bits, so that the engine keeps it as a small integer. */
function hashOf(key: readonly number[]): number {
  let hash = 0;
  for (const part of key) {
    hash = Math.imul(hash ^ part, 0x9e3779b1);
    hash ^= hash >>> 15;
  }
  return hash >>> 2;
}

/** A number for each id of a kind, 0 where none was set; grows with the ids. */
export class ById {
  #values = new Int32Array(1024);
  get(id: number): number {
    return this.#values[id] ?? 0;
  }
  set(id: number, value: number): void {
    if (id >= this.#values.length) {
      const larger = new Int32Array(Math.max(id + 1, this.#values.length * 2));
      larger.set(this.#values);
      this.#values = larger;
    }
    this.#values[id] = value;
  }
}

/** Numbers for texts: the same text has the same number. 0 is no text. */
export class Texts {
  readonly #numbers = new Map<string, number>();
  readonly #texts: string[] = [""];
  numberOf(text: string): number {
    let number = this.#numbers.get(text);
    if (number === undefined) {
      number = this.#texts.length;
      this.#texts.push(text);
      this.#numbers.set(text, number);
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
