/** Ways over groups of free runs: the best, then the best without its stretches, and what each is made of. */
import type { PlantGlass } from "../glass/held-glass.ts";
import type { Named } from "../impact/named.ts";
import type { Cables } from "../trace/cables.ts";
import { toMillimetre } from "../trace/totals.ts";
import type { FreeJoint, FreeStretch, FreeWay } from "./answer.ts";
import type { Endpoint } from "./endpoints.ts";
import { bestRoute, type Edge } from "./routes.ts";
import { type Group, type Run, type RunEnd, turned } from "./runs.ts";

export function lengthIn(cables: Cables, { legs }: Group): { length_m: number | null; lacks: string[] } {
  let length: number | null = 0;
  const lacks: string[] = [];
  for (const { cable, a, b } of legs) {
    const own = cables.lengthOf(cable, a, b);
    lacks.push(...own.lacks);
    length = length === null || own.length_m === null || own.lacks.length > 0 ? null : length + own.length_m;
  }
  return { length_m: length === null ? null : toMillimetre(length), lacks: [...new Set(lacks)] };
}

const A = "A";
const B = "B";
const nodeOf = ({ kind, space }: Pick<RunEnd, "kind" | "space">): string => `${kind} ${space}`;

/** One stretch of a route: which group, in which direction, and whether it must begin at A or end at B. */
interface Used {
  readonly group: number;
  readonly forward: boolean;
  /** A, where it must begin there; B, where it must end there. */
  readonly atA: Endpoint | null;
  readonly atB: Endpoint | null;
}
export type Route = readonly {
  readonly edge: Edge;
  readonly used: Used;
  readonly runs: readonly Run[];
  /** How often a strand is no neighbour of the one before. */
  readonly breaks: number;
}[];

/** The best route, then the best without its stretches, and so on. */
export function search(
  groups: readonly Group[],
  from: Endpoint,
  to: Endpoint,
  strands: number,
  most: number,
  lengthOf: (group: Group) => number | null,
  plant: PlantGlass,
): Route[] {
  const edges: { edge: Edge; used: Used }[] = [];
  // Who is at a port of A or B is there: to come by once more would use glass twice.
  const isEnd = ({ kind, space }: Pick<RunEnd, "kind" | "space">): boolean =>
    kind === "port" && (from.rooms.has(space) || to.rooms.has(space));
  for (const [group, one] of groups.entries()) {
    if (one.runs.length < strands) continue;
    const length_m = lengthOf(one);
    for (const forward of [true, false]) {
      const [start, end] = forward ? [one.from, one.to] : [one.to, one.from];
      for (const atA of [null, from]) {
        for (const atB of [null, to]) {
          if ((atA && !atA.rooms.has(start.space)) || (atB && !atB.rooms.has(end.space))) continue;
          if ((!atA && isEnd(start)) || (!atB && isEnd(end))) continue;
          const used = { group, forward, atA, atB };
          if ((atA || atB) && usable(one, used).length < strands) continue;
          const edge = { stretch: group, from: atA ? A : nodeOf(start), to: atB ? B : nodeOf(end), length_m };
          edges.push({ edge, used });
        }
      }
    }
  }
  const found: Route[] = [];
  const gone = new Set<number>();
  const usedBy = new Map(edges.map(({ edge, used }) => [edge, used]));
  while (found.length < most * 2) {
    const open = edges.flatMap(({ edge }) => (gone.has(edge.stretch) ? [] : [edge]));
    const route = bestRoute(open, A, B, (node) => (node.startsWith("bare") ? "splice" : "cord"));
    if (!route) break;
    for (const { stretch } of route) gone.add(stretch);
    found.push(
      route.map((edge) => {
        const used = usedBy.get(edge) as Used;
        return { edge, used, ...chosen(usable(groups[used.group] as Group, used), strands, plant) };
      }),
    );
  }
  return found;
}

/** The runs of a group that begin at A or end at B where they must, in the direction in which they are used. */
function usable({ runs }: Group, { forward, atA, atB }: Used): Run[] {
  const own = forward ? runs : runs.map(turned);
  return own.filter((run) => (!atA || atA.has(run.from)) && (!atB || atB.has(run.to)));
}

/** As many as are wanted, neighbours by the number of their strand in the first cable where there are some. */
function chosen(runs: readonly Run[], strands: number, plant: PlantGlass): { runs: readonly Run[]; breaks: number } {
  const { section, strand } = plant.tables;
  const numbered = runs
    .map((run) => ({ run, number: strand.number.get(section.strand.get(run.sections[0] as number)) }))
    .sort((a, b) => a.number - b.number);
  const numberAt = (at: number): number => numbered[at]?.number ?? 0;
  const isBreak = (at: number): number => (numberAt(at) === numberAt(at - 1) + 1 ? 0 : 1);
  let breaks = 0;
  for (let at = 1; at < strands; at += 1) breaks += isBreak(at);
  let best = { at: 0, breaks, odd: numberAt(0) % 2 };
  for (let at = 1; at + strands <= numbered.length; at += 1) {
    if (strands > 1) breaks += isBreak(at + strands - 1) - isBreak(at);
    // Two strands of one duplex port begin with an odd number.
    const odd = numberAt(at) % 2;
    if (breaks < best.breaks || (breaks === best.breaks && odd > best.odd)) best = { at, breaks, odd };
  }
  return { runs: numbered.slice(best.at, best.at + strands).map(({ run }) => run), breaks: best.breaks };
}

export function wantNames(named: Named, found: readonly Route[], groups: readonly Group[]): void {
  for (const route of found) {
    for (const { used, runs } of route) {
      const group = groups[used.group] as Group;
      named.want("space", [group.from.space, group.to.space]);
      named.want(
        "cable",
        group.legs.map(({ cable }) => cable),
      );
      for (const run of runs) {
        named.want("section", run.sections);
        for (const end of [run.from, run.to]) if (end.kind === "port") named.want("position", [end.id]);
      }
    }
  }
}

/** What a way is told with. */
export interface Known {
  readonly strands: number;
  readonly cables: Cables;
  readonly named: Named;
  readonly isKept: (run: Run) => boolean;
}

export function wayOf(route: Route, groups: readonly Group[], { strands, cables, named, isKept }: Known): FreeWay {
  const endRef = (end: RunEnd) => named.of(end.kind === "port" ? "position" : "section", end.id);
  let breaks = 0;
  const stretches = route.map(({ used, runs, breaks: own }): FreeStretch => {
    const group = groups[used.group] as Group;
    breaks += own;
    const legs = used.forward ? group.legs : group.legs.toReversed();
    const [start, end] = used.forward ? [group.from, group.to] : [group.to, group.from];
    return {
      cables: legs.map(({ cable }) => named.of("cable", cable)),
      from: named.of("space", start.space),
      to: named.of("space", end.space),
      strands: runs.map((run) => ({
        from: endRef(run.from),
        to: endRef(run.to),
        from_side: run.from.kind === "bare" ? run.from.side : null,
        to_side: run.to.kind === "bare" ? run.to.side : null,
        sections: run.sections.map((id) => named.of("section", id)),
      })),
      ...lengthIn(cables, group),
    };
  });
  const joints = route.slice(0, -1).map(({ edge }, n): FreeJoint => {
    const kind = edge.to.startsWith("bare") ? "splice" : "cord";
    return { space: (stretches[n] as FreeStretch).to, kind, count: strands };
  });
  const count = (kind: FreeJoint["kind"]): number =>
    joints.reduce((sum, joint) => sum + (joint.kind === kind ? joint.count : 0), 0);
  const lengths = stretches.map(({ length_m }) => length_m);
  const kept = route.map(({ runs }) => runs.filter(isKept).length);
  return {
    kept_for_repair: Math.max(0, ...kept),
    doubts: [],
    loss: null,
    splices: count("splice"),
    cords: count("cord"),
    adjacent: breaks === 0,
    length_m: lengths.includes(null) ? null : toMillimetre(lengths.reduce<number>((sum, one) => sum + (one ?? 0), 0)),
    lacks: [...new Set(stretches.flatMap(({ lacks }) => lacks))],
    stretches,
    joints,
  };
}
