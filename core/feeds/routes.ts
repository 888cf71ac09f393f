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
  /** The places of both its ends there are known. */
  readonly isKnown: boolean;
  #length: number | null | undefined;
  /** The branch taken last: neighbours go the same way. */
  #last: Route | null = null;

  constructor(before: Route | null, cable: number, a: number, b: number, isKnown: boolean) {
    this.#before = before;
    this.isKnown = isKnown;
    this.cable = cable;
    this.a = a;
    this.b = b;
  }

  /** The route on along glass that ends at two stops; `begin` makes it, the first time it is taken. */
  along(a: number, b: number, begin: (before: Route) => Route): Route {
    const last = this.#last;
    if (last !== null && last.a === a && last.b === b) return last;
    return this.#branch(a * PAIR + b, begin);
  }

  /** The route on through a port in a room. */
  through(room: number): Route {
    return this.#branch(-1 - room, (before) => new Route(before, 0, 0, 0, true));
  }

  #branch(key: number, begin: (before: Route) => Route): Route {
    let next = this.#branches.get(key);
    if (!next) {
      next = begin(this);
      this.#branches.set(key, next);
    }
    this.#last = next;
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
  readonly root = new Route(null, 0, 0, 0, true);
  /** Ways further in, which nobody asks about. */
  readonly inward = new Route(null, 0, 0, 0, true);
  /** Every cable that some route runs in. */
  readonly cables = new Set<number>();
}
