/**
 * Single points against independent graph libraries, on random campuses: reachability by graphology
 * (<https://graphology.github.io>), cut vertices by cytoscape's implementation of Hopcroft and Tarjan's algorithm
 * (<https://js.cytoscape.org/#eles.hopcroftTarjanBiconnected>).
 */
import cytoscape from "cytoscape";
import fc from "fast-check";
import { UndirectedGraph } from "graphology";
import { connectedComponents } from "graphology-components";
import { beforeAll, describe, expect, it } from "vitest";
import type { FeedsAnswer } from "../../core/feeds/answer.ts";
import { feeds } from "../../core/feeds/feeds.ts";
import { loadPlantGlass } from "../../core/glass/plant-glass.ts";
import { Gateway } from "../../core/store/gateway.ts";
import type { Reader } from "../../core/store/handle.ts";
import { machineClock } from "../../host/clock.ts";
import { endOf, Made } from "../glass/made.ts";
import { newPlant, TESTER, type TestPlant } from "../support/plant.ts";

const TODAY = "2031-06-01";

let plant: TestPlant;
let gateway: Gateway;
beforeAll(async () => {
  plant = await newPlant();
  gateway = new Gateway(plant.store, machineClock);
  return endOf(plant);
});

class TakeBack extends Error {}

async function on(made: Made, look: (reader: Reader) => Promise<void>): Promise<void> {
  const work = gateway.stream("fixture", "Fixture", TESTER, async (bulk) => {
    for (const [kind, rows] of Map.groupBy(made.rows, ({ kind }) => kind)) await bulk.insertMany(kind, rows);
    await look(bulk.reader);
    throw new TakeBack();
  });
  await work.catch((error) => {
    if (!(error instanceof TakeBack)) throw error;
  });
}

/** The answer for building 1, which both readers agree on. */
async function feedsOfFirst(reader: Reader): Promise<FeedsAnswer> {
  const of = { kind: "building", id: 1 } as const;
  const cold = await feeds(reader, of, { today: TODAY, held: null });
  const held = await loadPlantGlass(reader, async () => {});
  expect(await feeds(reader, of, { today: TODAY, held })).toEqual(cold);
  return cold;
}
const told = (answer: FeedsAnswer): string[] => answer.single_points.map(({ kind, id }) => `${kind} ${id}`).sort();

const pick = fc.nat(1_000_000);
const recipe = fc.record({
  buildings: fc.integer({ min: 2, max: 4 }),
  holes: fc.integer({ min: 1, max: 4 }),
  cabinets: fc.integer({ min: 0, max: 2 }),
  /** Cables as walks over the places, each of one or two strands. */
  cables: fc.array(
    fc.record({ places: fc.array(pick, { minLength: 2, maxLength: 4 }), strands: fc.integer({ min: 1, max: 2 }) }),
    {
      minLength: 2,
      maxLength: 9,
    },
  ),
  /** The order in which ends that meet in a hole are spliced in pairs. */
  shuffle: fc.array(pick, { minLength: 1, maxLength: 20 }),
  broken: fc.array(pick, { maxLength: 2 }),
});
type Recipe = typeof recipe extends fc.Arbitrary<infer R> ? R : never;

interface Glass {
  readonly id: number;
  /** Spaces from end to end, and the pathways between them. */
  readonly spaces: readonly number[];
  readonly ways: readonly number[];
  readonly broken: boolean;
}
interface Campus {
  readonly made: Made;
  readonly glass: readonly Glass[];
  readonly splices: readonly { readonly a: number; readonly b: number; readonly space: number }[];
  /** Sections landed in each cabinet. */
  readonly cabinets: ReadonlyMap<number, readonly number[]>;
  readonly buildingOf: ReadonlyMap<number, number>;
}

function campusOf(given: Recipe): Campus {
  const made = new Made();
  const buildingOf = new Map<number, number>();
  const places: number[] = [];
  for (let n = 0; n < given.buildings; n += 1) {
    const building = made.building(`B${n}`);
    const room = made.room("ER", building);
    places.push(room);
    buildingOf.set(room, building);
  }
  for (let n = 0; n < given.holes; n += 1) places.push(made.room(`H${n}`, null));
  const cabinets = new Map<number, number[]>();
  for (let n = 0; n < given.cabinets; n += 1) {
    const room = made.room(`C${n}`, null, { kind: "cabinet" });
    places.push(room);
    cabinets.set(room, []);
  }
  const panels = new Map([...cabinets.keys()].map((room) => [room, made.panel("P", room, 20)]));
  const pathways = new Map<string, number>();
  const glass: Glass[] = [];
  const ends = new Map<number, { section: number; side: "A" | "B" }[]>();
  for (const [n, cable] of given.cables.entries()) {
    const course = cable.places
      .map((place) => places[place % places.length] as number)
      .filter((place, i, all) => place !== all[i - 1]);
    if (course.length < 2) continue;
    const ways = course.slice(1).map((to, i) => {
      const from = course[i] as number;
      const key = [from, to].sort((a, b) => a - b).join();
      const known = pathways.get(key) ?? made.pathway(`W${pathways.size}`, from, to, 10);
      pathways.set(key, known);
      return known;
    });
    const { sections, strands } = made.cable(`F-${n}`, course, cable.strands, { ways });
    for (const [k, id] of sections.entries()) {
      const broken = given.broken.some((pick) => pick % 9 === strands[k]);
      const row = made.rows.find((each) => each.kind === "strand" && each.id === strands[k]);
      if (broken) Object.assign(row?.values ?? {}, { condition: "broken" });
      glass.push({ id, spaces: course, ways, broken });
      for (const [space, side] of [
        [course[0], "A"],
        [course.at(-1), "B"],
      ] as [number, "A" | "B"][]) {
        const panel = panels.get(space);
        const landed = cabinets.get(space);
        if (panel && landed) {
          made.land(id, side, panel.positions[landed.length]);
          landed.push(id);
        } else ends.set(space, [...(ends.get(space) ?? []), { section: id, side }]);
      }
    }
  }
  const splices: { a: number; b: number; space: number }[] = [];
  for (const [space, own] of ends) {
    if (buildingOf.has(space)) continue;
    const order = own.toSorted((x, y) => {
      const at = (end: typeof x) =>
        given.shuffle[(end.section * 2 + Number(end.side === "B")) % given.shuffle.length] ?? 0;
      return at(x) - at(y);
    });
    for (let i = 0; i + 1 < order.length; i += 2) {
      const [a, b] = [order[i], order[i + 1]];
      if (!a || !b || a.section === b.section) continue;
      made.splice(a.section, a.side, b.section, b.side);
      splices.push({ a: a.section, b: b.section, space });
    }
  }
  return { made, glass, splices, cabinets, buildingOf };
}

/** Whether building 1 reaches another building when one place or pathway is lost, by graphology. */
function reaches({ glass, splices, cabinets, buildingOf }: Campus, lost: string | null): boolean {
  const graph = new UndirectedGraph();
  graph.addNode("home");
  graph.addNode("goal");
  const lives = glass.filter(
    ({ spaces, ways, broken }) =>
      !broken &&
      !ways.some((way) => lost === `pathway ${way}`) &&
      !spaces.some((space) => lost === `space ${space}` && buildingOf.get(space) !== 1),
  );
  for (const { id } of lives) graph.addNode(id);
  for (const { id, spaces } of lives) {
    for (const space of [spaces[0], spaces.at(-1)]) {
      const building = buildingOf.get(space as number);
      if (building !== undefined) graph.mergeEdge(id, building === 1 ? "home" : "goal");
    }
  }
  const join = (a: number, b: number) => {
    if (graph.hasNode(a) && graph.hasNode(b) && a !== b) graph.mergeEdge(a, b);
  };
  for (const { a, b } of splices) join(a, b);
  for (const landed of cabinets.values()) for (const a of landed) for (const b of landed) join(a, b);
  return connectedComponents(graph).some((component) => component.includes("home") && component.includes("goal"));
}

describe("single points of random campuses", () => {
  it("are what no way out can do without, by taking each place and pathway away in turn", async () => {
    let found = 0;
    await fc.assert(
      fc.asyncProperty(recipe, async (given) => {
        const campus = campusOf(given);
        await on(campus.made, async (reader) => {
          const answer = await feedsOfFirst(reader);
          const elements = campus.glass.flatMap(({ spaces, ways }) => [
            ...spaces.filter((space) => campus.buildingOf.get(space) !== 1).map((id) => `space ${id}`),
            ...ways.map((id) => `pathway ${id}`),
          ]);
          const wanted = reaches(campus, null)
            ? [...new Set(elements)].filter((element) => !reaches(campus, element)).sort()
            : [];
          expect(told(answer)).toEqual(wanted);
          found += wanted.length;
        });
      }),
      { numRuns: 120, seed: 12 },
    );
    expect(found).toBeGreaterThan(50);
  });

  it("are the cut vertices between a building and all others, where every cable goes from cabinet to cabinet", async () => {
    let found = 0;
    const web = fc.record({
      cabinets: fc.integer({ min: 1, max: 5 }),
      others: fc.integer({ min: 1, max: 3 }),
      cables: fc.array(fc.tuple(pick, pick), { minLength: 2, maxLength: 14 }),
    });
    await fc.assert(
      fc.asyncProperty(web, async ({ cabinets, others, cables }) => {
        const made = new Made();
        const home = made.room("ER", made.building("B0"));
        const rooms = [home];
        for (let n = 0; n < others; n += 1) rooms.push(made.room("ER", made.building(`B${n + 1}`)));
        const elsewhere = new Set(rooms.slice(1));
        for (let n = 0; n < cabinets; n += 1) rooms.push(made.room(`C${n}`, null, { kind: "cabinet" }));
        const panels = new Map(rooms.map((room) => [room, made.panel("P", room, 40)]));
        const used = new Map<number, number>();
        const cy = cytoscape({ headless: true });
        for (const room of rooms) cy.add({ data: { id: room === home ? "home" : `space ${room}` } });
        cy.add({ data: { id: "goal" } });
        const node = (room: number) => (room === home ? "home" : `space ${room}`);
        const edge = (source: string, target: string) => cy.add({ data: { source, target } });
        for (const room of elsewhere) edge(node(room), "goal");
        const pathways = new Map<string, number>();
        for (const [n, [x, y]] of cables.entries()) {
          const [a, b] = [rooms[x % rooms.length] as number, rooms[y % rooms.length] as number];
          // Glass from one other building to another says nothing of ways out of this one.
          if (a === b || (elsewhere.has(a) && elsewhere.has(b))) continue;
          const key = [a, b].sort((p, q) => p - q).join();
          if (!pathways.has(key)) {
            const way = made.pathway(`W${pathways.size}`, a, b);
            pathways.set(key, way);
            cy.add({ data: { id: `pathway ${way}` } });
            edge(node(a), `pathway ${way}`);
            edge(`pathway ${way}`, node(b));
          }
          const cable = made.cable(`F-${n}`, [a, b], 1, { ways: [pathways.get(key) as number] });
          for (const [room, side] of [
            [a, "A"],
            [b, "B"],
          ] as const) {
            const at = used.get(room) ?? 0;
            used.set(room, at + 1);
            made.land(cable.sections[0], side, panels.get(room)?.positions[at]);
          }
        }
        await on(made, async (reader) => {
          const { cut } = cy.elements().hopcroftTarjanBiconnected();
          const together = (without: string | null): boolean => {
            const gone = cy.getElementById(without ?? "none");
            const left = cy.elements().difference(gone.union(gone.connectedEdges()));
            return left
              .components()
              .some((part) => part.getElementById("home").nonempty() && part.getElementById("goal").nonempty());
          };
          const separating = cut
            .map((vertex) => vertex.id())
            .filter((id) => id !== "home" && id !== "goal" && together(null) && !together(id))
            .sort();
          expect(told(await feedsOfFirst(reader))).toEqual(separating);
          found += separating.length;
        });
      }),
      { numRuns: 120, seed: 5 },
    );
    expect(found).toBeGreaterThan(50);
  });
});
