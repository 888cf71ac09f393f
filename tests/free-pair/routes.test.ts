/** The best route over stretches against cytoscape's (<https://js.cytoscape.org/#eles.dijkstra>), on random graphs with fixed seeds. */
import cytoscape from "cytoscape";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bestRoute, type Edge } from "../../core/free-pair/routes.ts";

const jointAt = (node: string) => (node.startsWith("bare") ? ("splice" as const) : ("cord" as const));
/** One number in the same order: no route has so many cords, or is so long. */
const weightOf = ({ to, length_m }: Edge): number =>
  (to === "B" ? 0 : jointAt(to) === "splice" ? 1e10 : 1e7) + (length_m ?? 1e5);

const drawn = fc.array(
  fc.record({ from: fc.nat(9), to: fc.nat(9), length_m: fc.option(fc.integer({ min: 1, max: 900 }), { freq: 8 }) }),
  { minLength: 14, maxLength: 45 },
);
const names = ["A", "port 1", "port 2", "port 3", "port 4", "bare 5", "bare 6", "bare 7", "bare 8", "B"];

describe("the best route", () => {
  it("takes the fewest splices, then the fewest cords, then the shortest glass", () => {
    let [found, none, joints] = [0, 0, 0];
    fc.assert(
      fc.property(drawn, (given) => {
        const edges = given.flatMap(({ from, to, length_m }, stretch): Edge[] => {
          const [a, b] = [names[from] as string, names[to] as string];
          return a === b || b === "A" || a === "B" ? [] : [{ stretch, from: a, to: b, length_m }];
        });
        const cy = cytoscape({ headless: true });
        for (const id of names) cy.add({ data: { id } });
        for (const [n, edge] of edges.entries()) {
          cy.add({ data: { id: `e${n}`, source: edge.from, target: edge.to, weight: weightOf(edge) } });
        }
        const told = cy.elements().dijkstra({
          root: cy.getElementById("A"),
          weight: (edge) => edge.data("weight"),
          directed: true,
        });
        const route = bestRoute(edges, "A", "B", jointAt);
        const least = told.distanceTo(cy.getElementById("B"));
        if (route === null) {
          expect(least).toBe(Number.POSITIVE_INFINITY);
          none += 1;
          return;
        }
        expect(route[0]?.from).toBe("A");
        expect(route.at(-1)?.to).toBe("B");
        for (const [n, edge] of route.slice(1).entries()) expect(edge.from).toBe(route[n]?.to);
        expect(route.reduce((sum, edge) => sum + weightOf(edge), 0)).toBe(least);
        found += 1;
        joints += route.length - 1;
      }),
      { numRuns: 400, seed: 51 },
    );
    expect([found > 100, none > 15, joints > 100]).toEqual([true, true, true]);
  });
});
