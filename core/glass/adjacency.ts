/** A part of the graph, as rows were read: joints by the end they leave by. */
import type { Glass } from "./glass.ts";

export class Adjacency implements Glass {
  readonly #heads = new Map<number, number>();
  readonly #known = new Set<number>();
  readonly #next: number[] = [];
  readonly #to: number[] = [];
  readonly #kind: number[] = [];
  readonly #id: number[] = [];

  /** One direction of a joint. */
  add(from: number, to: number, kind: number, id: number): void {
    this.#next.push(this.#heads.get(from) ?? -1);
    this.#heads.set(from, this.#to.length);
    this.#to.push(to);
    this.#kind.push(kind);
    this.#id.push(id);
  }

  /** Whether all joints at this end are here. */
  isKnown(end: number): boolean {
    return this.#known.has(end);
  }

  markKnown(end: number): void {
    this.#known.add(end);
  }

  /** Ends of which all joints are here. */
  get ends(): Iterable<number> {
    return this.#known;
  }

  first(end: number): number {
    return this.#heads.get(end) ?? -1;
  }
  next(handle: number): number {
    return this.#next[handle] as number;
  }
  to(handle: number): number {
    return this.#to[handle] as number;
  }
  kind(handle: number): number {
    return this.#kind[handle] as number;
  }
  id(handle: number): number {
    return this.#id[handle] as number;
  }
}
