/**
 * Separate ways and unavoidable nodes against general graph libraries, on random graphs with fixed seeds: Menger's theorem
 * says that the least number of nodes whose loss cuts all ways is the greatest number of separate ones. What is left after
 * a loss is told by graphology (<https://graphology.github.io>), cut vertices by cytoscape
 * (<https://js.cytoscape.org/#eles.hopcroftTarjanBiconnected>).
 */
import cytoscape from "cytoscape";
import fc from "fast-check";
import { UndirectedGraph } from "graphology";
import { connectedComponents } from "graphology-components";
import { describe, expect, it } from "vitest";
import { cheapestWays, type Ends, type Net, reaches, separateWays, unavoidable } from "../../core/impact/flow.ts";

interface Drawn {
  readonly nodes: number;
  readonly edges: readonly (readonly [number, number])[];
  readonly free: ReadonlySet<number>;
  readonly sources: readonly number[];
  readonly goals: ReadonlySet<number>;
}

const drawn: fc.Arbitrary<Drawn> = fc
  .record({
    nodes: fc.integer({ min: 8, max: 13 }),
    edges: fc.array(fc.tuple(fc.nat(100), fc.nat(100)), { minLength: 3, maxLength: 30 }),
    free: fc.integer({ min: 1, max: 3 }),
    goals: fc.integer({ min: 1, max: 4 }),
    sources: fc.integer({ min: 1, max: 2 }),
  })
  .map(({ nodes, edges, free, goals, sources }) => ({
    nodes,
    edges: edges.map(([a, b]) => [a % nodes, b % nodes] as const).filter(([a, b]) => a !== b),
    free: new Set(Array.from({ length: free }, (_, n) => n)),
    sources: Array.from({ length: Math.min(sources, free) }, (_, n) => n),
    goals: new Set(Array.from({ length: goals }, (_, n) => nodes - 1 - n).filter((node) => node >= free)),
  }));

function netOf({ nodes, edges }: Drawn): Net {
  const next = Array.from({ length: nodes }, () => new Set<number>());
  for (const [a, b] of edges) {
    next[a]?.add(b);
    next[b]?.add(a);
  }
  return { nodes, neighbours: (node) => next[node] ?? [] };
}
const endsOf = ({ sources, goals, free }: Drawn): Ends => ({
  sources,
  isGoal: (node) => goals.has(node),
  isFree: (node) => free.has(node),
});

/** Whether some goal is still reached without some nodes, by graphology. */
function joined({ nodes, edges, sources, goals }: Drawn, without: ReadonlySet<number>): boolean {
  const graph = new UndirectedGraph();
  graph.addNode("from");
  graph.addNode("to");
  for (let node = 0; node < nodes; node += 1) if (!without.has(node)) graph.addNode(node);
  for (const [a, b] of edges) if (graph.hasNode(a) && graph.hasNode(b)) graph.mergeEdge(a, b);
  for (const node of sources) if (graph.hasNode(node)) graph.mergeEdge("from", node);
  for (const node of goals) if (graph.hasNode(node)) graph.mergeEdge("to", node);
  return connectedComponents(graph).some((part) => part.includes("from") && part.includes("to"));
}

/** The least number of nodes that are not free whose loss leaves no way, by trying all sets. */
function leastCut(graph: Drawn): number {
  const losable = Array.from({ length: graph.nodes }, (_, n) => n).filter((node) => !graph.free.has(node));
  const tries = (size: number, from: number, lost: ReadonlySet<number>): boolean => {
    if (size === 0) return !joined(graph, lost);
    for (let at = from; at < losable.length; at += 1) {
      if (tries(size - 1, at + 1, new Set(lost).add(losable[at] as number))) return true;
    }
    return false;
  };
  for (let size = 0; ; size += 1) if (tries(size, 0, new Set())) return size;
}

describe("separate ways", () => {
  it("are as many as the fewest losses that cut them all, each a way, and share no node", () => {
    const counts = new Map<number, number>();
    fc.assert(
      fc.property(drawn, (graph) => {
        const net = netOf(graph);
        const ways = separateWays(net, endsOf(graph));
        expect(ways).toHaveLength(leastCut(graph));
        const used = ways.flat().filter((node) => !graph.free.has(node));
        expect(new Set(used).size).toBe(used.length);
        for (const way of ways) {
          expect(graph.sources).toContain(way[0]);
          expect(graph.goals.has(way.at(-1) as number)).toBe(true);
          for (const [n, node] of way.slice(1).entries()) expect([...net.neighbours(way[n] as number)]).toContain(node);
          expect(new Set(way).size).toBe(way.length);
        }
        counts.set(ways.length, (counts.get(ways.length) ?? 0) + 1);
      }),
      { numRuns: 300, seed: 31 },
    );
    for (const number of [0, 1, 2, 3]) expect(counts.get(number) ?? 0).toBeGreaterThan(4);
  });

  it("are found where the first way taken blocks two others", () => {
    // The shortest way 0 1 2 5 uses a node of each of the two longer ones.
    const graph: Drawn = {
      nodes: 8,
      edges: [
        [0, 1],
        [1, 2],
        [2, 7],
        [0, 3],
        [3, 4],
        [4, 2],
        [1, 5],
        [5, 6],
        [6, 7],
      ],
      free: new Set([0]),
      sources: [0],
      goals: new Set([7]),
    };
    // The goal is one node: so one way only; with two goals beside each other there are two.
    expect(separateWays(netOf(graph), endsOf(graph))).toHaveLength(1);
    const two = { ...graph, nodes: 9, edges: [...graph.edges, [2, 8] as const], goals: new Set([7, 8]) };
    expect(separateWays(netOf(two), endsOf(two)).map((way) => way.join(" "))).toEqual(["0 1 5 6 7", "0 3 4 2 8"]);
  });
});

/** Every way without a node twice, by graphology's neighbours. */
function allWays({ nodes, edges, sources, goals }: Drawn): number[][] {
  const graph = new UndirectedGraph();
  for (let node = 0; node < nodes; node += 1) graph.addNode(node);
  for (const [a, b] of edges) graph.mergeEdge(a, b);
  const found: number[][] = [];
  const go = (way: readonly number[]): void => {
    const last = way.at(-1) as number;
    if (goals.has(last)) found.push([...way]);
    else for (const next of graph.neighbors(last).map(Number)) if (!way.includes(next)) go([...way, next]);
  };
  for (const source of sources) go([source]);
  return found;
}

describe("the cheapest two separate ways", () => {
  it("cost least together among all pairs, by trying every pair", () => {
    let [pairs, none, notTheBest] = [0, 0, 0];
    const costs = fc.array(fc.integer({ min: 0, max: 30 }), { minLength: 9, maxLength: 9 });
    const links = fc.array(fc.tuple(fc.nat(8), fc.nat(8)), { minLength: 14, maxLength: 24 });
    fc.assert(
      fc.property(links, costs, (given, cost) => {
        const graph: Drawn = {
          nodes: 9,
          // A direct edge would do for any number of ways: it lies in no place and no pathway.
          edges: given.filter(([a, b]) => a !== b && a + b !== 8),
          free: new Set([0, 8]),
          sources: [0],
          goals: new Set([8]),
        };
        const costOf = (node: number) => cost[node] as number;
        const sum = (way: readonly number[]) => way.reduce((total, node) => total + costOf(node), 0);
        const ways = allWays(graph);
        let least = Number.POSITIVE_INFINITY;
        for (const [n, one] of ways.entries()) {
          for (const other of ways.slice(n + 1)) {
            if (other.some((node) => node !== 0 && node !== 8 && one.includes(node))) continue;
            least = Math.min(least, sum(one) + sum(other));
          }
        }
        const found = cheapestWays(netOf(graph), endsOf(graph), costOf, 2);
        expect(found?.cost ?? Number.POSITIVE_INFINITY).toBe(least);
        if (!found) {
          none += 1;
          return;
        }
        const used = found.ways.flat().filter((node) => node !== 0 && node !== 8);
        expect(new Set(used).size).toBe(used.length);
        expect(found.ways.map(sum).reduce((a, b) => a + b)).toBe(least);
        pairs += 1;
        const best = Math.min(...ways.map(sum));
        if (found.ways.every((way) => sum(way) > best)) notTheBest += 1;
      }),
      { numRuns: 600, seed: 34 },
    );
    expect([pairs > 100, none > 30, notTheBest > 3]).toEqual([true, true, true]);
  });
});

describe("unavoidable nodes", () => {
  it("are those without which nothing is reached, by taking each away in turn", () => {
    let found = 0;
    fc.assert(
      fc.property(drawn, (graph) => {
        const [net, ends] = [netOf(graph), endsOf(graph)];
        const [way] = separateWays(net, ends, 1);
        if (!way) return;
        const wanted = Array.from({ length: graph.nodes }, (_, n) => n).filter(
          (node) => !graph.free.has(node) && !joined(graph, new Set([node])),
        );
        expect(unavoidable(net, ends, way).sort((a, b) => a - b)).toEqual(wanted);
        found += wanted.length;
      }),
      { numRuns: 400, seed: 32 },
    );
    expect(found).toBeGreaterThan(100);
  });

  it("are cut vertices between source and goal, by Hopcroft and Tarjan's algorithm", () => {
    let found = 0;
    fc.assert(
      fc.property(drawn, (graph) => {
        const single = { ...graph, free: new Set([0]), sources: [0], goals: new Set([graph.nodes - 1]) };
        const [net, ends] = [netOf(single), endsOf(single)];
        const [way] = separateWays(net, ends, 1);
        if (!way) return;
        const cy = cytoscape({ headless: true });
        for (let node = 0; node < single.nodes; node += 1) cy.add({ data: { id: `n${node}` } });
        for (const [a, b] of single.edges) cy.add({ data: { source: `n${a}`, target: `n${b}` } });
        const cut = cy
          .elements()
          .hopcroftTarjanBiconnected()
          .cut.map((vertex) => Number(vertex.id().slice(1)));
        const goal = single.nodes - 1;
        const points = unavoidable(net, ends, way);
        expect(points.at(-1)).toBe(goal);
        for (const node of points) if (node !== goal) expect(cut).toContain(node);
        const missed = cut.filter((node) => node !== 0 && node !== goal && !points.includes(node));
        for (const node of missed) expect(joined(single, new Set([node]))).toBe(true);
        found += points.length - 1;
      }),
      { numRuns: 200, seed: 33 },
    );
    expect(found).toBeGreaterThan(30);
  });
});

describe("reaching over some steps only", () => {
  it("goes no other way", () => {
    const graph: Drawn = {
      nodes: 4,
      edges: [
        [0, 1],
        [1, 3],
        [0, 2],
        [2, 3],
      ],
      free: new Set([0]),
      sources: [0],
      goals: new Set([3]),
    };
    const blocked = (...nodes: number[]) => reaches(netOf(graph), endsOf(graph), (_, to) => !nodes.includes(to));
    expect([blocked(1), blocked(2), blocked(1, 2)]).toEqual([true, true, false]);
  });
});
