/** Rows that were picked one by one. They stay picked while the table is sorted or filtered otherwise. */
import type { KindName } from "../../core/model/dictionary.ts";

export class Picked {
  #ids = new Set<number>();
  #last: number | null = null;
  #listeners = new Set<() => void>();
  #stamp = 0;

  get stamp(): number {
    return this.#stamp;
  }

  subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  get size(): number {
    return this.#ids.size;
  }

  get ids(): readonly number[] {
    return [...this.#ids];
  }

  /** The row picked last, from which a range goes on. */
  get last(): number | null {
    return this.#last;
  }

  has(id: number): boolean {
    return this.#ids.has(id);
  }

  /** Picks all of them, or lets all of them go when all are picked already. */
  turn(ids: readonly number[]): void {
    const all = ids.every((id) => this.#ids.has(id));
    for (const id of ids) {
      if (all) this.#ids.delete(id);
      else this.#ids.add(id);
    }
    this.#last = ids.at(-1) ?? null;
    this.#tell();
  }

  add(ids: readonly number[]): void {
    for (const id of ids) this.#ids.add(id);
    this.#tell();
  }

  clear(): void {
    this.#ids.clear();
    this.#last = null;
    this.#tell();
  }

  #tell(): void {
    this.#stamp++;
    for (const listener of this.#listeners) listener();
  }
}

const BY_KIND = new Map<KindName, Picked>();

/** What was picked of a kind since the window was opened. */
export function pickedOf(kind: KindName): Picked {
  const known = BY_KIND.get(kind);
  if (known) return known;
  const picked = new Picked();
  BY_KIND.set(kind, picked);
  return picked;
}
