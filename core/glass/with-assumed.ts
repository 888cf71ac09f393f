/** A graph of what is on record with assumed cords laid over it. They join bare fronts only, so lists never mix. */
import { Adjacency } from "./adjacency.ts";
import type { AssumedCord } from "./assumed.ts";
import { positionEnd } from "./end.ts";
import { ASSUMED, type Glass } from "./glass.ts";

export class WithAssumed<Base extends Glass = Glass> implements Glass {
  readonly base: Base;
  readonly #cords = new Adjacency();

  constructor(base: Base, cords: readonly AssumedCord[]) {
    this.base = base;
    for (const { a, b, circuit_id } of cords) {
      this.#cords.add(positionEnd(a, "front"), positionEnd(b, "front"), ASSUMED, circuit_id);
      this.#cords.add(positionEnd(b, "front"), positionEnd(a, "front"), ASSUMED, circuit_id);
    }
  }

  // Even handles are the base's, odd ones those of assumed cords; -1 stays -1.
  first(end: number): number {
    const own = this.base.first(end);
    if (own >= 0) return own * 2;
    const cord = this.#cords.first(end);
    return cord < 0 ? -1 : cord * 2 + 1;
  }
  next(handle: number): number {
    const odd = handle & 1;
    const next = odd ? this.#cords.next(handle >> 1) : this.base.next(handle >> 1);
    return next < 0 ? -1 : next * 2 + odd;
  }
  to(handle: number): number {
    return handle & 1 ? this.#cords.to(handle >> 1) : this.base.to(handle >> 1);
  }
  kind(handle: number): number {
    return handle & 1 ? ASSUMED : this.base.kind(handle >> 1);
  }
  id(handle: number): number {
    return handle & 1 ? this.#cords.id(handle >> 1) : this.base.id(handle >> 1);
  }
}
