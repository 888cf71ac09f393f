/**
 * Separate routes as ways: the free strands that make a route, what is to be joined between them, and what light would
 * lose. A route is taken where so many strands are free; whether they also begin and end where its cables do is found
 * here. Where they don't, they would be cut out of a cable on its way, and nothing is said of their loss.
 */
import type { PlantGlass } from "../glass/held-glass.ts";
import { type Course, elementsBetween, readCourses } from "../impact/courses.ts";
import { Named } from "../impact/named.ts";
import type { Reader } from "../store/handle.ts";
import type { Cables } from "../trace/cables.ts";
import { say } from "../words/say.ts";
import type { FreeWay, SeparatePair, SeparateRoute, WayLoss } from "./answer.ts";
import { doubtsOf } from "./doubts.ts";
import type { Endpoint } from "./endpoints.ts";
import type { Group, Run } from "./runs.ts";
import { lengthIn, search, wantNames, wayOf } from "./ways.ts";

interface Asked {
  readonly from: Endpoint;
  readonly to: Endpoint;
  readonly strands: number;
  /** Free runs that may be used. */
  readonly groups: readonly Group[];
  /** Facts of their cables. */
  readonly cables: Cables;
  readonly plant: PlantGlass;
  readonly isKept: (run: Run) => boolean;
  lossOf(way: FreeWay): Promise<WayLoss | null>;
}

/** Each route with the way that makes it; cables and joints are those of the way, where there is one. */
export async function waysOfRoutes(reader: Reader, pair: SeparatePair, asked: Asked): Promise<SeparatePair> {
  const routes: SeparateRoute[] = [];
  const grounds = await groundsOfGroups(reader, asked.groups);
  for (const route of pair.routes) {
    const found = await wayAlong(reader, route, grounds, asked);
    if (!found) {
      routes.push(route);
      continue;
    }
    const [doubts, loss] = [(await doubtsOf(reader, [found]))(found), await asked.lossOf(found)];
    const way = { ...found, doubts, loss };
    const joints = way.splices + way.cords;
    const lacks = loss
      ? route.lacks
      : [...route.lacks, say`its kinds of glass have no wavelength in common: its loss can't be reckoned`];
    routes.push({ ...route, way, cables: cablesOf(way), joints, lacks });
  }
  return { ...pair, routes };
}

const cablesOf = ({ stretches }: FreeWay) =>
  stretches.flatMap(({ cables }) => cables).filter(({ id }, n, all) => id !== all[n - 1]?.id);

/** The best way whose glass lies in the route and nowhere else: in the cables named if it can, without strands kept for repair if it can. */
async function wayAlong(
  reader: Reader,
  route: SeparateRoute,
  grounds: ReadonlyMap<Group, ReadonlySet<string> | null>,
  { from, to, strands, groups, cables, plant, isKept }: Asked,
): Promise<FreeWay | null> {
  const ground = new Set(route.through.map(({ kind, id }) => `${kind} ${id}`));
  const own = new Set(route.cables.map(({ id }) => id));
  const within = groups.filter((group) => [...(grounds.get(group) ?? ["unknown"])].every((one) => ground.has(one)));
  const inOwn = within.filter(({ legs }) => legs.every(({ cable }) => own.has(cable)));
  const free = (some: readonly Group[]) =>
    some.map((group) => ({ ...group, runs: group.runs.filter((run) => !isKept(run)) }));
  for (const some of [free(inOwn), free(within), inOwn, within]) {
    const [best] = search(some, from, to, strands, 1, (group) => lengthIn(cables, group).length_m, plant);
    if (!best) continue;
    const named = new Named();
    wantNames(named, [best], some);
    await named.read(reader);
    return wayOf(best, some, { strands, cables, named, isKept });
  }
  return null;
}

/** The places and pathways each group lies in; null where some of its way is not on record. */
async function groundsOfGroups(
  reader: Reader,
  groups: readonly Group[],
): Promise<Map<Group, ReadonlySet<string> | null>> {
  const courses = await readCourses(reader, new Set(groups.flatMap(({ legs }) => legs.map(({ cable }) => cable))));
  const place = new Map<number, number>();
  for (const { stops } of courses.values()) for (const [n, { id }] of stops.entries()) place.set(id, n);
  return new Map(groups.map((group) => [group, groundOf(group, courses, place)]));
}

function groundOf(
  { legs }: Group,
  courses: ReadonlyMap<number, Course>,
  place: ReadonlyMap<number, number>,
): ReadonlySet<string> | null {
  const ground = new Set<string>();
  for (const { cable, a, b } of legs) {
    const course = courses.get(cable);
    const [one, other] = [place.get(a), place.get(b)];
    if (!course || one === undefined || other === undefined) return null;
    const [first, last] = [Math.min(one, other), Math.max(one, other)];
    for (const hop of course.hops.slice(first, last)) {
      if (hop.length === 0 || hop.some(({ pathway }) => pathway === 0)) return null;
    }
    for (const { kind, id } of elementsBetween(course, first, last)) {
      if (kind !== "conduit") ground.add(`${kind} ${id}`);
    }
  }
  return ground;
}
