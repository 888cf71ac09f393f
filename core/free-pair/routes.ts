/**
 * The best way from A to B over stretches of free glass: stretches that end on ports of one room may be joined by cords,
 * stretches that end bare in one place by splices (Dijkstra's algorithm, on splices, then cords, then length). Pure.
 */

/** A stretch of a route, as it is used in one direction. */
export interface Edge {
  /** Index of the stretch; it may be used once in a route. */
  readonly stretch: number;
  readonly from: string;
  readonly to: string;
  /** Metres; null where not known: such a stretch comes after all whose length is. */
  readonly length_m: number | null;
}

export interface Cost {
  readonly splices: number;
  readonly cords: number;
  readonly unknown: number;
  readonly length_m: number;
}

const NOTHING: Cost = { splices: 0, cords: 0, unknown: 0, length_m: 0 };
export const dearer = (a: Cost, b: Cost): number =>
  a.splices - b.splices || a.cords - b.cords || a.unknown - b.unknown || a.length_m - b.length_m;

/** What it takes to go on from a node: one for each strand; nothing at A and B. */
export type JointAt = (node: string) => "splice" | "cord" | null;

interface Reached {
  readonly cost: Cost;
  readonly by: Edge | null;
}

/**
 * The cheapest route from one node to another, as its edges; null where there is none.
 * @param from and `to` are nodes of their own, joined to what begins and ends there
 */
export function bestRoute(edges: Iterable<Edge>, from: string, to: string, jointAt: JointAt): Edge[] | null {
  const leaving = new Map<string, Edge[]>();
  for (const edge of edges) {
    const own = leaving.get(edge.from);
    if (own) own.push(edge);
    else leaving.set(edge.from, [edge]);
  }
  const reached = new Map<string, Reached>([[from, { cost: NOTHING, by: null }]]);
  const done = new Set<string>();
  const open = new Heap();
  open.push(from, NOTHING);
  for (let node = open.pop(); node !== undefined; node = open.pop()) {
    if (done.has(node)) continue;
    done.add(node);
    if (node === to) break;
    const { cost } = reached.get(node) as Reached;
    for (const edge of leaving.get(node) ?? []) {
      const joint = edge.to === to ? null : jointAt(edge.to);
      const next: Cost = {
        splices: cost.splices + (joint === "splice" ? 1 : 0),
        cords: cost.cords + (joint === "cord" ? 1 : 0),
        unknown: cost.unknown + (edge.length_m === null ? 1 : 0),
        length_m: cost.length_m + (edge.length_m ?? 0),
      };
      const known = reached.get(edge.to);
      if (known && dearer(known.cost, next) <= 0) continue;
      reached.set(edge.to, { cost: next, by: edge });
      open.push(edge.to, next);
    }
  }
  if (!reached.has(to)) return null;
  const route: Edge[] = [];
  for (let at = to; at !== from; ) {
    const { by } = reached.get(at) as Reached;
    if (by === null) break;
    route.unshift(by);
    at = by.from;
  }
  return route;
}

/** A binary heap of nodes by cost; a node may stand in it several times. */
class Heap {
  readonly #items: { readonly node: string; readonly cost: Cost }[] = [];

  push(node: string, cost: Cost): void {
    const items = this.#items;
    let at = items.push({ node, cost }) - 1;
    while (at > 0) {
      const up = (at - 1) >> 1;
      if (dearer((items[up] as { cost: Cost }).cost, (items[at] as { cost: Cost }).cost) <= 0) break;
      this.#swap(at, up);
      at = up;
    }
  }

  pop(): string | undefined {
    const items = this.#items;
    const top = items[0];
    const last = items.pop();
    if (top === undefined || last === undefined) return undefined;
    if (items.length > 0) {
      items[0] = last;
      for (let at = 0; ; ) {
        const [left, right] = [at * 2 + 1, at * 2 + 2];
        let least = at;
        for (const child of [left, right]) {
          const [one, other] = [items[child], items[least]];
          if (one && other && dearer(one.cost, other.cost) < 0) least = child;
        }
        if (least === at) break;
        this.#swap(at, least);
        at = least;
      }
    }
    return top.node;
  }

  #swap(a: number, b: number): void {
    const items = this.#items;
    const kept = items[a] as (typeof items)[number];
    items[a] = items[b] as (typeof items)[number];
    items[b] = kept;
  }
}
