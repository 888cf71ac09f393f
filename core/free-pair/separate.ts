/**
 * The cheapest two separate routes: over places and pathways in which cables with enough free strands lie, sharing none of
 * them but the rooms of A and B, and shortest together. A true optimum: it need not hold the shortest route of all. Glass
 * is taken as it lies; where a route changes from cable to cable, each strand is a splice or a cord to be made.
 */
import type { GlassFacts } from "../feeds/glass-facts.ts";
import type { PlantGlass } from "../glass/held-glass.ts";
import { type Course, readCourses } from "../impact/courses.ts";
import { cheapestWays, type Ends } from "../impact/flow.ts";
import { Named } from "../impact/named.ts";
import type { Ground } from "../impact/shared.ts";
import { WaysNet } from "../impact/ways-net.ts";
import type { Reader } from "../store/handle.ts";
import { toMillimetre } from "../trace/totals.ts";
import { say } from "../words/say.ts";
import type { SeparatePair, SeparateRoute } from "./answer.ts";
import type { Endpoint } from "./endpoints.ts";

interface Asked {
  readonly from: Endpoint;
  readonly to: Endpoint;
  readonly strands: number;
  readonly avoid: Ground | null;
  readonly plant: PlantGlass;
  readonly facts: GlassFacts;
  /** Whether a cable is in place and the plant's own. */
  isOurs(cable: number): boolean;
}

/** A pathway without a length costs more than any route with all its lengths: it is taken where nothing else is. */
const UNKNOWN_MM = 1e12;

export async function separatePair(reader: Reader, asked: Asked): Promise<SeparatePair | null> {
  const { from, to, strands, avoid } = asked;
  const { courses, ending } = await freeCourses(reader, asked);
  const cables = new Set(courses.map(({ cable }) => cable));
  const net = new WaysNet(courses, new Map(), new Set(), cables);
  const lengths = new Map(
    (await reader.lists("select id, length_m from pathway where length_m is not null")) as [number, number][],
  );
  const meets = await meeting(reader, net);
  const spaceAt = (node: number): number => (net.kinds[node] === "space" ? (net.records[node] as number) : 0);
  const isEnd = (node: number, { rooms }: Endpoint): boolean => rooms.has(spaceAt(node));
  const isKnown = (node: number): boolean => net.kinds[node] !== "unknown";
  const isAway = (node: number): boolean =>
    !avoid || net.kinds[node] === "space" || !avoid.elements.has(`${net.kinds[node]} ${net.records[node]}`);
  const all = Array.from({ length: net.nodes }, (_, node) => node);
  const ends: Ends = {
    sources: all.filter((node) => isEnd(node, from) && ending.has(spaceAt(node))),
    isGoal: (node) => isEnd(node, to) && ending.has(spaceAt(node)),
    isFree: (node) => isEnd(node, from) || isEnd(node, to),
  };
  const over = {
    nodes: net.nodes,
    // What is not known to be apart is no separate way.
    neighbours: (node: number) =>
      [...net.neighbours(node)].filter((next) => isKnown(next) && isAway(next) && meets(node, next)),
  };
  const found = cheapestWays(
    over,
    ends,
    (node) =>
      net.kinds[node] === "pathway"
        ? Math.round((lengths.get(net.records[node] as number) ?? UNKNOWN_MM / 1000) * 1000)
        : 0,
    2,
  );
  if (!found) return null;
  const named = new Named();
  for (const way of found.ways) {
    for (const node of way) {
      const kind = net.kinds[node];
      if (kind === "space" || kind === "pathway") named.want(kind, [net.records[node] as number]);
    }
    named.want("cable", cablesAlong(net, way));
  }
  await named.read(reader);
  const routes = found.ways.map((way): SeparateRoute => {
    const pathways = way.filter((node) => net.kinds[node] === "pathway").map((node) => net.records[node] as number);
    const known = pathways.map((id) => lengths.get(id) ?? null);
    const along = cablesAlong(net, way);
    return {
      through: way.map((node) => named.of(net.kinds[node] as "space" | "pathway", net.records[node] as number)),
      cables: along.map((cable) => named.of("cable", cable)),
      way: null,
      joints: (along.length - 1) * strands,
      length_m: known.includes(null) ? null : toMillimetre(known.reduce<number>((sum, one) => sum + (one ?? 0), 0)),
      lacks: pathways
        .filter((id) => !lengths.has(id))
        .map((id) => say`the length of ${named.of("pathway", id).tag} is not on record`),
    };
  });
  routes.sort((a, b) => (a.length_m ?? Number.POSITIVE_INFINITY) - (b.length_m ?? Number.POSITIVE_INFINITY));
  const sum = routes.map(({ length_m }) => length_m);
  return {
    routes,
    length_m: sum.includes(null) ? null : toMillimetre(sum.reduce<number>((total, one) => total + (one ?? 0), 0)),
  };
}

/**
 * Whether a place and a pathway are known to meet: a cable that is said to lie where the way doesn't come is no route. Rooms
 * of one building stand for each other; a pathway whose ends nobody recorded goes where its cables do.
 */
async function meeting(reader: Reader, net: WaysNet): Promise<(one: number, other: number) => boolean> {
  const ends = new Map(
    (
      (await reader.lists("select id, from_space_id, to_space_id from pathway")) as [
        number,
        number | null,
        number | null,
      ][]
    ).map(([id, from, to]) => [id, [from, to]] as const),
  );
  const buildings = new Map(
    (await reader.lists("select id, building_id from space where building_id is not null")) as [number, number][],
  );
  return (one, other) => {
    const kinds = [net.kinds[one], net.kinds[other]];
    // Two ways without a place between them don't meet anywhere that is known.
    if (kinds[0] === "pathway" && kinds[1] === "pathway") return false;
    if (!kinds.includes("pathway") || !kinds.includes("space")) return true;
    const [way, space] = kinds[0] === "pathway" ? [one, other] : [other, one];
    const own = ends.get(net.records[way] as number) ?? [null, null];
    const place = net.records[space] as number;
    const building = buildings.get(place);
    return own.some(
      (end) => end === null || end === place || (building !== undefined && buildings.get(end) === building),
    );
  };
}

/** The cables a route runs in, each kept as far as it goes: so there are as few changes as may be. */
function cablesAlong(net: WaysNet, way: readonly number[]): number[] {
  const cables: number[] = [];
  let left = new Set<number>();
  for (const [n, node] of way.entries()) {
    if (n === 0) continue;
    const here = new Set(net.by(way[n - 1] as number, node).map(({ cable }) => cable));
    const both = new Set([...left].filter((cable) => here.has(cable)));
    if (both.size === 0 && left.size > 0) cables.push(Math.min(...left));
    left = both.size === 0 ? here : both;
  }
  if (left.size > 0) cables.push(Math.min(...left));
  return cables;
}

/** The pieces of courses in which enough strands are free, and the spaces where enough free glass ends. */
async function freeCourses(
  reader: Reader,
  { strands, plant, facts, avoid, isOurs }: Asked,
): Promise<{ courses: Course[]; ending: Set<number> }> {
  const courses = await readCourses(reader, null);
  const place = new Map<number, number>();
  const spaceOf = new Map<number, number>();
  for (const { stops } of courses.values()) {
    for (const [n, { id, space }] of stops.entries()) {
      place.set(id, n);
      spaceOf.set(id, space);
    }
  }
  const changes = new Map<number, Int32Array>();
  const ends = new Map<number, number>();
  for (let id = 1; id <= plant.tables.section.last; id += 1) {
    const cable = facts.cableOf(id);
    if (cable === 0 || !facts.isFree(id)) continue;
    const stops = [facts.stopOf(id, "A"), facts.stopOf(id, "B")];
    const [a, b] = stops.map((stop) => place.get(stop));
    if (a === undefined || b === undefined) continue;
    let own = changes.get(cable);
    if (!own) {
      own = new Int32Array((courses.get(cable)?.stops.length ?? 0) + 1);
      changes.set(cable, own);
    }
    const [from, to] = [Math.min(a, b), Math.max(a, b)];
    own[from] = (own[from] as number) + 1;
    own[to] = (own[to] as number) - 1;
    for (const stop of stops) ends.set(stop, (ends.get(stop) ?? 0) + 1);
  }
  const pieces: Course[] = [];
  for (const [cable, own] of changes) {
    if (!isOurs(cable) || avoid?.cables.has(cable)) continue;
    const { stops, hops } = courses.get(cable) as Course;
    let free = 0;
    for (const [n, hop] of hops.entries()) {
      free += own[n] as number;
      if (free >= strands) pieces.push({ cable, stops: stops.slice(n, n + 2), hops: [hop] });
    }
  }
  const ending = new Set([...ends].filter(([, count]) => count >= strands).map(([stop]) => spaceOf.get(stop) ?? 0));
  return { courses: pieces, ending };
}
