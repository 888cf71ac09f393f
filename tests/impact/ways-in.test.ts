/**
 * Separate ways into buildings on random campuses with fixed seeds, against graphology
 * (<https://graphology.github.io>): the fewest places and pathways whose loss leaves no way, by trying them all.
 */
import fc from "fast-check";
import { UndirectedGraph } from "graphology";
import { connectedComponents } from "graphology-components";
import { beforeAll, describe, expect, it } from "vitest";
import type { WaysInAnswer, WaysInBuilding } from "../../core/impact/answer.ts";
import type { Course } from "../../core/impact/courses.ts";
import { waysInto, waysOf } from "../../core/impact/ways-in.ts";
import { WaysNet } from "../../core/impact/ways-net.ts";
import { Refusal } from "../../core/result.ts";
import { Gateway } from "../../core/store/gateway.ts";
import type { Reader } from "../../core/store/handle.ts";
import { machineClock } from "../../host/clock.ts";
import { endOf, Made } from "../glass/made.ts";
import { newPlant, TESTER, type TestPlant } from "../support/plant.ts";

let plant: TestPlant;
let gateway: Gateway;
beforeAll(async () => {
  plant = await newPlant();
  gateway = new Gateway(plant.store, machineClock);
  return endOf(plant);
});

class TakeBack extends Error {}

/** Looks at a plant that is taken back afterwards. */
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

const ask = (reader: Reader, buildings: readonly (string | number)[] | null = null): Promise<WaysInAnswer> =>
  waysInto(reader, buildings, { today: "2031-06-01", held: null }, async () => {});
async function asked(made: Made): Promise<WaysInAnswer> {
  let answer: WaysInAnswer | null = null;
  await on(made, async (reader) => {
    answer = await ask(reader);
  });
  return answer as unknown as WaysInAnswer;
}
const of = ({ buildings }: WaysInAnswer, tag: string): WaysInBuilding =>
  buildings.find(({ building }) => building.tag === tag) as WaysInBuilding;
const points = (answer: WaysInAnswer, tag: string): string[] => of(answer, tag).single_points.map((one) => one.tag);

const pick = fc.nat(1_000_000);
const recipe = fc.record({
  buildings: fc.integer({ min: 2, max: 4 }),
  holes: fc.integer({ min: 1, max: 4 }),
  cables: fc.array(
    fc.record({
      places: fc.array(pick, { minLength: 2, maxLength: 4 }),
      /** Which of two pathways between the same places each leg takes; 2 is one that is not on record. */
      ways: fc.array(fc.nat(8), { minLength: 4, maxLength: 4 }),
    }),
    { minLength: 1, maxLength: 7 },
  ),
});

interface Hop {
  readonly cable: number;
  /** Names of what lies one after the other: place, way, place. */
  readonly names: readonly string[];
}
interface Campus {
  readonly made: Made;
  readonly hops: readonly Hop[];
  /** Rooms where glass ends, by building from 0. */
  readonly ends: ReadonlyMap<number, ReadonlySet<string>>;
  readonly buildings: number;
}

function campusOf({ buildings, holes, cables }: typeof recipe extends fc.Arbitrary<infer R> ? R : never): Campus {
  const made = new Made();
  const rooms: number[] = [];
  const buildingOf = new Map<number, number>();
  for (let n = 0; n < buildings; n += 1) {
    const id = made.building(`B${n}`);
    for (const tag of n === 0 ? ["ER", "TR"] : ["ER"]) {
      const room = made.room(tag, id);
      rooms.push(room);
      buildingOf.set(room, n);
    }
  }
  for (let n = 0; n < holes; n += 1) rooms.push(made.room(`H${n}`, null));
  const ways = new Map<string, number>();
  const hops: Hop[] = [];
  const ends = new Map<number, Set<string>>();
  for (const [cable, given] of cables.entries()) {
    const course = given.places
      .map((place) => rooms[place % rooms.length] as number)
      .filter((place, i, all) => place !== all[i - 1]);
    if (course.length < 2) continue;
    const legs = course.slice(1).map((to, i) => {
      const from = course[i] as number;
      const pair = [from, to].sort((a, b) => a - b).join();
      const choice = given.ways[i] ?? 0;
      const key = `${pair} ${choice % 2}`;
      if (choice < 8 && !ways.has(key)) ways.set(key, made.pathway(`W${ways.size}`, from, to));
      const way = choice < 8 ? (ways.get(key) ?? null) : null;
      hops.push({ cable, names: [`space ${from}`, way === null ? `way ${pair}` : `pathway ${way}`, `space ${to}`] });
      return way;
    });
    made.cable(`F-${cable}`, course, 1, { ways: legs });
    for (const room of [course[0] as number, course.at(-1) as number]) {
      const building = buildingOf.get(room);
      if (building !== undefined) ends.set(building, (ends.get(building) ?? new Set()).add(`space ${room}`));
    }
  }
  return { made, hops, ends, buildings };
}

/** Whether a building reaches another without some places, ways or a cable, by graphology. */
function joined({ hops, ends }: Campus, building: number, without: ReadonlySet<string>, cable = -1): boolean {
  const graph = new UndirectedGraph();
  graph.addNode("from");
  graph.addNode("to");
  for (const { cable: own, names } of hops) {
    if (own === cable) continue;
    for (const [i, name] of names.entries()) {
      const before = names[i - 1];
      if (before !== undefined && !without.has(name) && !without.has(before)) graph.mergeEdge(before, name);
    }
  }
  for (const [own, rooms] of ends) {
    for (const room of rooms) if (graph.hasNode(room)) graph.mergeEdge(own === building ? "from" : "to", room);
  }
  return connectedComponents(graph).some((part) => part.includes("from") && part.includes("to"));
}

describe("separate ways into the buildings of random campuses", () => {
  it("are as many as the fewest losses that cut it off; single points are those losses of one", async () => {
    const counts = new Map<number, number>();
    let singles = 0;
    let cables = 0;
    await fc.assert(
      fc.asyncProperty(recipe, async (given) => {
        const campus = campusOf(given);
        const answer = await asked(campus.made);
        for (let building = 0; building < campus.buildings; building += 1) {
          const own = new Set(building === 0 ? ["space 1", "space 2"] : [`space ${building + 2}`]);
          const names = [...new Set(campus.hops.flatMap((hop) => hop.names))].filter((name) => !own.has(name));
          const cut = (size: number, from: number, lost: ReadonlySet<string>): boolean => {
            if (size === 0) return !joined(campus, building, lost);
            for (let at = from; at < names.length; at += 1) {
              if (cut(size - 1, at + 1, new Set(lost).add(names[at] as string))) return true;
            }
            return false;
          };
          let least = 0;
          while (!cut(least, 0, new Set())) least += 1;
          const told = of(answer, `B${building}`);
          expect(told.ways).toBe(least);
          expect(told.separate).toHaveLength(least);
          const alone = least === 0 ? [] : names.filter((name) => !joined(campus, building, new Set([name])));
          const recorded = told.single_points.filter(({ kind }) => kind !== "cable");
          expect(recorded.map(({ kind, id }) => `${kind} ${id}`).sort()).toEqual(
            alone.filter((name) => !name.startsWith("way ")).sort(),
          );
          const single =
            least === 0
              ? []
              : given.cables.flatMap((_, n) => (joined(campus, building, new Set(), n) ? [] : [`F-${n}`]));
          expect(told.single_points.filter(({ kind }) => kind === "cable").map(({ tag }) => tag)).toEqual(single);
          counts.set(least, (counts.get(least) ?? 0) + 1);
          singles += alone.length;
          cables += single.length;
        }
      }),
      { numRuns: 150, seed: 41 },
    );
    for (const number of [0, 1, 2, 3]) expect(counts.get(number) ?? 0).toBeGreaterThan(4);
    expect(singles).toBeGreaterThan(100);
    expect(cables).toBeGreaterThan(30);
  });
});

describe("the work for all buildings", () => {
  /** A ring of holes with a building at each: how many places and ways were looked around from. */
  function looked(size: number): number {
    let count = 0;
    class Counted extends WaysNet {
      override neighbours(node: number): Iterable<number> {
        count += 1;
        return super.neighbours(node);
      }
    }
    const courses: Course[] = [];
    const buildingOf = new Map<number, number>();
    const ending = new Set<number>();
    const cable = (from: number, to: number): void => {
      const id = courses.length + 1;
      const stops = [from, to].map((space, n) => ({ id: id * 2 + n, ordinal: n + 1, space }));
      courses.push({ cable: id, stops, hops: [[{ id, pathway: id, conduit: 0, from, to }]] });
      for (const { id: stop, space } of stops) if (buildingOf.has(space)) ending.add(stop);
    };
    for (let n = 1; n <= size; n += 1) {
      buildingOf.set(size + n, n);
      cable(size + n, n);
      cable(n, (n % size) + 1);
    }
    const net = new Counted(courses, buildingOf, ending, new Set(courses.map((course) => course.cable)));
    for (let building = 1; building <= size; building += 1) {
      const { ways, points, cables } = waysOf(net, building);
      expect([ways.length, points.length, cables]).toEqual([1, 2, [building * 2 - 1]]);
    }
    return count;
  }

  it("grows as the plant does, not faster", () => {
    const [one, other] = [looked(50), looked(1000)];
    expect(other / one).toBeLessThan(21);
    expect(other / 1000).toBeLessThan(60);
  });
});

describe("ways into a building", () => {
  it("are one where two cables share a hole, a bank, or a way that nobody recorded", async () => {
    const made = new Made();
    const [lib, mil] = [made.building("LIB", { ways_wanted: 2 }), made.building("MIL")];
    const [a, b, hole, far, mill] = [
      made.room("ER", lib),
      made.room("TR", lib),
      made.room("MH-1", null),
      made.room("MH-2", null),
      made.room("ER", mil),
    ];
    const [w1, w2, w3] = [
      made.pathway("EN-1", a, hole),
      made.pathway("EN-2", b, hole),
      made.pathway("DB-1", hole, mill),
    ];
    made.cable("F-1", [a, hole, mill], 1, { ways: [w1, w3] });
    made.cable("F-2", [b, hole, mill], 1, { ways: [w2, null] });
    made.cable("F-3", [a, far, mill], 0, { ways: [null, null] });
    const answer = await asked(made);
    expect(of(answer, "LIB")).toMatchObject({ ways: 1, wanted: 2 });
    expect(points(answer, "LIB")).toEqual(["MH-1", "MIL/ER"]);
    expect(of(answer, "LIB").unknown).toEqual(["F-3 has no whole strand on record: it counts as no way."]);
    expect(answer.sentence).toMatch(/1 building has fewer than wanted/);
  });

  it("name a pipe and a cable that all glass lies in, though the bank has others", async () => {
    const made = new Made();
    const [lib, mil] = [made.room("ER", made.building("LIB")), made.room("ER", made.building("MIL"))];
    const bank = made.pathway("DB-1", lib, mil);
    const pipe = made.add("conduit", { tag: "1", pathway_id: bank });
    made.add("conduit", { tag: "2", pathway_id: bank });
    made.cable("F-1", [lib, mil], 1, { ways: [bank] });
    made.cable("F-2", [lib, mil], 1, { ways: [bank] });
    for (const { kind, values } of made.rows) if (kind === "leg") Object.assign(values, { conduit_id: pipe });
    expect(points(await asked(made), "LIB")).toEqual(["DB-1", "MIL/ER", "DB-1/1"]);
  });

  it("are none where the plant is in pieces, or all glass is broken", async () => {
    const made = new Made();
    const [lib, mil, gym] = ["LIB", "MIL", "GYM"].map((tag) => made.room("ER", made.building(tag)));
    const hole = made.room("MH-1", null);
    made.cable("F-1", [lib as number, hole], 2);
    const { strands } = made.cable("F-2", [mil as number, gym as number], 1);
    const row = made.rows.find(({ kind, id }) => kind === "strand" && id === strands[0]);
    Object.assign(row?.values ?? {}, { condition: "broken" });
    const answer = await asked(made);
    expect(answer.buildings.map(({ ways, single_points }) => [ways, single_points.length])).toEqual([
      [0, 0],
      [0, 0],
      [0, 0],
    ]);
    await on(made, async (reader) => {
      expect((await ask(reader, ["LIB"])).sentence).toBe("No way from LIB to another building is on record.");
      const error = await ask(reader, ["LIB", "NOWHERE"]).catch((thrown) => thrown);
      expect(error instanceof Refusal && error.failure.code).toBe("not_found");
    });
  });

  it("begin where whole glass ends, not where it is broken or only passes", async () => {
    const made = new Made();
    const [lib, mil, gym] = ["LIB", "MIL", "GYM"].map((tag) => made.room("ER", made.building(tag))) as number[];
    const ways = [
      made.pathway("DB-1", lib as number, mil as number),
      made.pathway("DB-2", mil as number, gym as number),
    ];
    const { strands, sections, stops } = made.cable("F-1", [lib as number, mil as number, gym as number], 2, { ways });
    const of1 = made.rows.find(({ kind, id }) => kind === "strand" && id === strands[0]);
    Object.assign(of1?.values ?? {}, { condition: "broken" });
    const of2 = made.rows.find(({ kind, id }) => kind === "section" && id === sections[1]);
    Object.assign(of2?.values ?? {}, { a_stop_id: stops[1] });
    expect((await asked(made)).buildings.map(({ building, ways }) => [building.tag, ways])).toEqual([
      ["GYM", 1],
      ["LIB", 0],
      ["MIL", 1],
    ]);
  });

  it("tell beside it what cuts it off as its glass is joined today", async () => {
    const made = new Made();
    const [lib, mil] = [made.room("ER", made.building("LIB")), made.room("ER", made.building("MIL"))];
    const [one, two] = [made.room("MH-1", null), made.room("MH-2", null)];
    const way = (tag: string, from: number, to: number) => made.pathway(tag, from, to);
    const first = made.cable("F-1", [lib, one], 1, { ways: [way("W-1", lib, one)] });
    const second = made.cable("F-2", [one, mil], 1, { ways: [way("W-2", one, mil)] });
    // Its strand ends open in the hole: a splice there would make a second way.
    made.cable("F-3", [lib, two], 1, { ways: [way("W-3", lib, two)] });
    made.cable("F-4", [two, mil], 1, { ways: [way("W-4", two, mil)] });
    made.splice(first.sections[0], "B", second.sections[0], "A");
    made.room("TR", 2);
    const tags = (refs: readonly { tag: string }[] | null) => refs?.map(({ tag }) => tag).sort();
    await on(made, async (reader) => {
      const answer = await ask(reader, ["LIB"]);
      const library = of(answer, "LIB");
      expect(library).toMatchObject({ ways: 1 });
      expect(tags(library.single_points)).toEqual(["MIL/ER"]);
      expect(tags(library.single_points_today)).toEqual(["MH-1", "MIL/ER", "W-1", "W-2"]);
      expect(answer.sentence).toMatch(
        /Losing MIL\/ER cuts it off. As its glass is joined today, losing .* cuts it off too\.$/,
      );
      expect(of(await ask(reader), "LIB").single_points_today).toBeNull();
    });
  });

  it("say of which cables the way is not on record", async () => {
    const made = new Made();
    const [lib, mil] = [made.room("ER", made.building("LIB")), made.room("ER", made.building("MIL"))];
    made.cable("F-1", [lib, mil], 1, { ways: [null] });
    made.cable("F-2", [lib, mil], 1, { ways: [null] });
    const answer = await asked(made);
    expect(of(answer, "LIB").ways).toBe(1);
    expect(of(answer, "LIB").unknown.map((words) => words.slice(0, 14))).toEqual(["The way of F-1", "The way of F-2"]);
  });
});
