/**
 * Separate ways in a graph: pure arithmetic over numbered nodes. A node may lie on one way only, save those that are
 * free; so the greatest number of ways is a greatest flow (Ford and Fulkerson, with shortest augmenting ways), and by
 * Menger's theorem the least number of nodes whose loss cuts all ways.
 */

export interface Net {
  readonly nodes: number;
  neighbours(node: number): Iterable<number>;
}

export interface Ends {
  readonly sources: readonly number[];
  isGoal(node: number): boolean;
  /** May lie on any number of ways. */
  isFree(node: number): boolean;
}

/** Node `v` is left by state `2v + 1` and come to by `2v`. */
const arrive = (node: number): number => node * 2;
const leave = (node: number): number => node * 2 + 1;

class Flow {
  readonly #net: Net;
  readonly #ends: Ends;
  readonly #through = new Map<number, number>();
  /** How much flows from a node to another. */
  readonly #out = new Map<number, Map<number, number>>();
  readonly #in = new Map<number, Map<number, number>>();
  /** Where flow begins and ends. */
  readonly begins: number[] = [];
  #cameBy = new Map<number, number>();

  constructor(net: Net, ends: Ends) {
    this.#net = net;
    this.#ends = ends;
  }

  /** Finds one more way, over residual arcs; false when there is none. */
  more(): boolean {
    this.#cameBy = new Map();
    const open: number[] = [];
    for (const source of this.#ends.sources) this.#see(open, arrive(source), -1);
    for (let at = 0; at < open.length; at += 1) {
      const state = open[at] as number;
      const node = state >> 1;
      if (state & 1) {
        if (this.#ends.isGoal(node)) {
          this.#push(state);
          return true;
        }
        for (const next of this.#net.neighbours(node)) this.#see(open, arrive(next), state);
        if ((this.#through.get(node) ?? 0) > 0) this.#see(open, arrive(node), state);
      } else {
        if (this.#ends.isFree(node) || !this.#through.get(node)) this.#see(open, leave(node), state);
        for (const [before, flow] of this.#in.get(node) ?? []) if (flow > 0) this.#see(open, leave(before), state);
      }
    }
    return false;
  }

  /**
   * Finds the cheapest way to one more, over residual arcs that may give costs back (Bellman and Ford's method, with a
   * queue). Each time the cheapest is added, the whole flow is a cheapest one of its amount.
   */
  cheapest(cost: (node: number) => number): boolean {
    this.#cameBy = new Map();
    const spent = new Map<number, number>();
    const waiting = new Set<number>();
    let goal = -1;
    const see = (state: number, from: number, at: number): void => {
      const known = spent.get(state);
      if (known !== undefined && known <= at) return;
      spent.set(state, at);
      this.#cameBy.set(state, from);
      waiting.add(state);
      if (state & 1 && this.#ends.isGoal(state >> 1) && (goal < 0 || at <= (spent.get(goal) as number))) goal = state;
    };
    for (const source of this.#ends.sources) see(arrive(source), -1, 0);
    for (const state of waiting) {
      // What is found cheaper later is added anew, at the end.
      waiting.delete(state);
      const node = state >> 1;
      const at = spent.get(state) as number;
      if (state & 1) {
        if (this.#ends.isGoal(node)) continue;
        for (const next of this.#net.neighbours(node)) see(arrive(next), state, at);
        if ((this.#through.get(node) ?? 0) > 0) see(arrive(node), state, at - cost(node));
      } else {
        if (this.#ends.isFree(node) || !this.#through.get(node)) see(leave(node), state, at + cost(node));
        for (const [before, flow] of this.#in.get(node) ?? []) if (flow > 0) see(leave(before), state, at);
      }
    }
    if (goal < 0) return false;
    this.#push(goal);
    return true;
  }

  #see(open: number[], state: number, from: number): void {
    if (this.#cameBy.has(state)) return;
    this.#cameBy.set(state, from);
    open.push(state);
  }

  #push(goal: number): void {
    for (let state = goal; ; ) {
      const from = this.#cameBy.get(state) as number;
      if (from < 0) {
        this.begins.push(state >> 1);
        return;
      }
      const [a, b] = [from >> 1, state >> 1];
      if (a === b) this.#through.set(a, (this.#through.get(a) ?? 0) + (state & 1 ? 1 : -1));
      else if (from & 1) this.#add(a, b, 1);
      else this.#add(b, a, -1);
      state = from;
    }
  }

  #add(from: number, to: number, by: number): void {
    for (const [map, one, other] of [
      [this.#out, from, to],
      [this.#in, to, from],
    ] as const) {
      const own = map.get(one) ?? new Map<number, number>();
      own.set(other, (own.get(other) ?? 0) + by);
      map.set(one, own);
    }
  }

  /** Takes the flow apart into ways, from their sources on. */
  ways(): number[][] {
    return this.begins.map((begin) => {
      const way = [begin];
      const at = new Map([[begin, 0]]);
      for (let node = begin; ; ) {
        const next = [...(this.#out.get(node) ?? [])].find(([, flow]) => flow > 0)?.[0];
        if (next === undefined) return way;
        this.#add(node, next, -1);
        const before = at.get(next);
        // Round and back to a free node is no part of the way.
        if (before === undefined) at.set(next, way.push(next) - 1);
        else for (const gone of way.splice(before + 1)) at.delete(gone);
        node = next;
      }
    });
  }
}

/** The greatest number of separate ways from the sources to the goals, at most `most`, each as its nodes in order. */
export function separateWays(net: Net, ends: Ends, most = 99): number[][] {
  const flow = new Flow(net, ends);
  while (flow.begins.length < most && flow.more()) {}
  return flow.ways();
}

/**
 * So many separate ways that cost least together, each as its nodes in order; null where there aren't as many. It need not
 * hold the cheapest way of all. (Suurballe 1974, Bhandari 1999: shortest augmenting ways with costs given back.)
 * @param cost of each node, not below 0
 */
export function cheapestWays(
  net: Net,
  ends: Ends,
  cost: (node: number) => number,
  count: number,
): { ways: number[][]; cost: number } | null {
  const flow = new Flow(net, ends);
  while (flow.begins.length < count) if (!flow.cheapest(cost)) return null;
  const ways = flow.ways();
  return { ways, cost: ways.flat().reduce((sum, node) => sum + cost(node), 0) };
}

/** The nodes of a way, free ones left out, that every way from the sources to a goal passes; each piece is seen once. */
export function unavoidable(net: Net, ends: Ends, way: readonly number[]): number[] {
  const place = new Map(way.map((node, index) => [node, index]));
  const other = way.length;
  const seen = new Set<number>();
  let far = -1;
  const look = (from: number): void => {
    // Outward step by step: the next goal is mostly near, however far the plant goes on.
    const open = [from];
    for (let at = 0; at < open.length && far < other; at += 1) {
      for (const next of net.neighbours(open[at] as number)) {
        const index = place.get(next);
        if (index !== undefined) far = Math.max(far, index);
        else if (!seen.has(next)) {
          seen.add(next);
          if (ends.isGoal(next)) far = other;
          else open.push(next);
        }
      }
    }
  };
  for (const source of ends.sources) {
    const index = place.get(source);
    if (index !== undefined) far = Math.max(far, index);
    else if (!seen.has(source)) {
      seen.add(source);
      look(source);
    }
  }
  const found: number[] = [];
  for (const [index, node] of way.entries()) {
    if (far >= other) break;
    if (far === index && !ends.isFree(node)) found.push(node);
    look(node);
  }
  return found;
}

/** Whether any goal is reached over steps that `passes` allows. */
export function reaches(net: Net, ends: Ends, passes: (from: number, to: number) => boolean): boolean {
  const seen = new Set(ends.sources);
  const open = [...ends.sources];
  for (let at = 0; at < open.length; at += 1) {
    const node = open[at] as number;
    if (ends.isGoal(node)) return true;
    for (const next of net.neighbours(node)) {
      if (seen.has(next) || !passes(node, next)) continue;
      seen.add(next);
      open.push(next);
    }
  }
  return false;
}
