/**
 * Routes that strands take, as a tree: most strands of a cable go from stop to stop like their neighbours, so that what
 * holds for the way (its length, the places on it) is worked out once for all of them.
 */
import type { Cables } from "../trace/cables.ts";

/** Stop ids stay below this, so that a pair of them is one exact number. */
const PAIR = 2 ** 26;

export class Route {
  readonly #before: Route | null;
  readonly #branches = new Map<number, Route>();
  /** The cable it runs in last, and the stops its glass there ends at; 0 where it passes a port or nobody knows. */
  readonly cable: number;
  readonly a: number;
  readonly b: number;
  #length: number | null | undefined;

  constructor(before: Route | null, cable: number, a: number, b: number) {
    this.#before = before;
    this.cable = cable;
    this.a = a;
    this.b = b;
  }

  /** The route on along a section. */
  alongSection(a: number, b: number, cableOf: () => number): Route {
    const key = a * PAIR + b;
    let next = this.#branches.get(key);
    if (!next) {
      next = new Route(this, cableOf(), a, b);
      this.#branches.set(key, next);
    }
    return next;
  }

  /** The route on through a port in a room. */
  throughRoom(room: number): Route {
    let next = this.#branches.get(-1 - room);
    if (!next) {
      next = new Route(this, 0, 0, 0);
      this.#branches.set(-1 - room, next);
    }
    return next;
  }

  /** Sheath of the whole route; null when some of it is not known. */
  lengthIn(cables: Cables): number | null {
    if (this.#length === undefined) this.#length = this.#lengthIn(cables);
    return this.#length;
  }

  #lengthIn(cables: Cables): number | null {
    const before = this.#before?.lengthIn(cables) ?? (this.#before ? null : 0);
    if (before === null || this.cable === 0) return before;
    const { length_m, lacks } = cables.lengthOf(this.cable, this.a, this.b);
    return length_m === null || lacks.length > 0 ? null : before + length_m;
  }
}

/** All routes from one place. */
export class Routes {
  readonly root = new Route(null, 0, 0, 0);
  /** Every cable that some route runs in. */
  readonly cables = new Set<number>();
}
