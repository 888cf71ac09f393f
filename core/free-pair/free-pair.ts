/**
 * Free strands from A to B: over glass that is joined already, and over what cords in a room or splices in a place would
 * join. All lines of the plant are followed once, in memory; the best way over the stretches found is a true optimum.
 */
import { factsInMemory } from "../feeds/glass-facts.ts";
import type { PlantGlass } from "../glass/held-glass.ts";
import { type Course, elementsBetween, readCourses } from "../impact/courses.ts";
import { Named } from "../impact/named.ts";
import { type Ground, groundsOf } from "../impact/shared.ts";
import { applicationNamed } from "../light/applications.ts";
import { refuse } from "../result.ts";
import { type Limits, limitsInUse } from "../standards/limits/in-use.ts";
import { pick } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { Cables } from "../trace/cables.ts";
import { toMillimetre } from "../trace/totals.ts";
import type { FreeJoint, FreePairAnswer, FreeStretch, FreeWay } from "./answer.ts";
import { doubtsOf } from "./doubts.ts";
import { type Endpoint, endpointsOf, type Where } from "./endpoints.ts";
import { keptForRepair } from "./kept.ts";
import { bestRoute, type Edge } from "./routes.ts";
import { FreeRuns, type Group, type Run, type RunEnd, turned } from "./runs.ts";
import { separatePair } from "./separate.ts";
import { lossOfWay } from "./way-loss.ts";
import { sentenceOf, separateWords } from "./wording.ts";

export interface FreePairInput {
  readonly from: Where;
  readonly to: Where;
  readonly strands: number;
  /** A circuit whose pathways, pipes and cables are to be kept away from. */
  readonly avoid: string | number | null;
  /** The cheapest two separate routes are wanted too. */
  readonly separate: boolean;
  /** So many ways at most. */
  readonly most: number;
  /** What is to run on it; its limits are held against each way. */
  readonly application?: string | undefined;
}

export interface FreePairOptions {
  readonly today: string;
  readonly plant: PlantGlass;
  pause(what: string, done: number, of: number | null): Promise<void>;
}

/** Sections looked at between two breaths. */
const BREATH = 200_000;
const CAUTIONS = ["Free is what the record says: look at both ends, and measure the strands, before you promise them."];

export async function freePair(
  reader: Reader,
  input: FreePairInput,
  options: FreePairOptions,
): Promise<FreePairAnswer> {
  const { today, plant, pause } = options;
  const { strands, most } = input;
  const { from, to } = await endpointsOf(reader, input.from, input.to, strands);
  const limits = await limitsInUse(reader);
  const application = wantedApplication(limits, input.application);
  const avoid = input.avoid === null ? null : await pick(reader, input.avoid, { kinds: ["circuit"], field: "avoid" });
  const facts = factsInMemory(plant, today);
  const free = new FreeRuns(plant, await plant.on(reader, today), facts, await damagedPositions(reader));
  for (let at = 1; at <= free.last; at += BREATH) {
    free.look(at, Math.min(at + BREATH - 1, free.last));
    await pause("Free glass", Math.min(at + BREATH, free.last), free.last);
  }
  let groups = [...free.groups.values()].filter(({ runs }) => runs.length >= strands);
  const cables = await Cables.read(reader, new Set(groups.flatMap(({ legs }) => legs.map(({ cable }) => cable))), []);
  // What is not in place, or is somebody else's, is not ours to give.
  const isOurs = await oursOf(reader);
  groups = groups.filter(({ legs }) => legs.every(({ cable }) => isOurs(cable)));
  const unknown: string[] = [];
  const grounds = await groundsOf(reader, avoid ? [avoid.id] : [], { today, held: plant });
  const ground = grounds.get(avoid?.id ?? 0) ?? null;
  if (avoid && ground) {
    const kept = await awayFrom(reader, groups, ground);
    groups = kept.groups;
    for (const words of ground.unknown) unknown.push(`${avoid.tag} ${words}.`);
    if (ground.gaps.size > 0)
      unknown.push(`The way of ${avoid.tag} is not wholly on record: some of it can't be avoided.`);
    if (kept.gaps > 0) unknown.push("Free glass whose way is not wholly on record is left out: it may lie beside.");
  }
  await pause("Ways", 0, null);
  const isKept = keptForRepair(plant, limits);
  const lengthOf = (group: Group) => lengthIn(cables, group).length_m;
  const wide = groups.map((group) => ({ ...group, runs: group.runs.filter((run) => !isKept(run)) }));
  const found = search(wide, from, to, strands, most, lengthOf, plant);
  if (found.length < most) {
    // What is kept for repair is offered where nothing else is left, and last.
    const used = new Set(found.flatMap((route) => route.map(({ used: { group } }) => group)));
    const rest = groups.map((group, at) => (used.has(at) ? { ...group, runs: [] } : group));
    found.push(...search(rest, from, to, strands, most - found.length, lengthOf, plant));
  }
  const named = new Named();
  wantNames(named, found, groups);
  await named.read(reader);
  const bare = found
    .map((route) => wayOf(route, groups, { strands, cables, named, isKept }))
    .sort(
      (a, b) =>
        Number(a.kept_for_repair > 0) - Number(b.kept_for_repair > 0) ||
        a.splices - b.splices ||
        a.cords - b.cords ||
        Number(b.adjacent) - Number(a.adjacent) ||
        Number(a.length_m === null) - Number(b.length_m === null) ||
        (a.length_m ?? 0) - (b.length_m ?? 0),
    )
    .slice(0, most);
  const ways: FreeWay[] = [];
  const doubts = await doubtsOf(reader, bare);
  for (const way of bare) {
    await pause("Loss", ways.length, bare.length);
    ways.push({ ...way, doubts: doubts(way), loss: await lossOfWay(reader, way, { limits, today, application }) });
  }
  const separate = input.separate
    ? await separatePair(reader, { from, to, strands, avoid: ground, plant, facts, isOurs })
    : null;
  const answer = {
    separate,
    from: from.ref,
    to: to.ref,
    strands,
    avoid,
    application: application ?? null,
    ways,
    examined: groups.length,
    unknown,
  };
  const apart = input.separate ? ` ${separateWords(separate)}` : "";
  return { ...answer, sentence: `${sentenceOf(answer)}${apart}`, cautions: ways.length > 0 ? CAUTIONS : [] };
}

/** The application as limits have it. */
function wantedApplication(limits: Limits, text: string | undefined): string | undefined {
  if (text === undefined) return undefined;
  return (
    applicationNamed(limits, text) ??
    refuse("bad_input", `No limits of an application "${text}" are on record.`, [
      { field: "application", record: text, reason: "is an application without limits on record" },
    ])
  );
}

/** Positions of ports that are damaged on record: no cord goes there. */
async function damagedPositions(reader: Reader): Promise<ReadonlySet<number>> {
  const rows = await reader.lists(
    "select po.id from port p join position po on po.port_id = p.id where p.condition = 'damaged'",
  );
  return new Set(rows.map(([id]) => id as number));
}

/** Whether a cable is in place and the plant's own. */
async function oursOf(reader: Reader): Promise<(cable: number) => boolean> {
  const rows = await reader.lists(
    `select c.id from cable c left join party o on o.id = c.owner_id
     where c.life = 'in_place' and (c.owner_id is null or o.role is 'self')`,
  );
  const ours = new Set(rows.map(([id]) => id as number));
  return (cable) => ours.has(cable);
}

/** Groups that share no pathway, pipe or cable with a circuit, and whose own way is known. */
async function awayFrom(
  reader: Reader,
  groups: readonly Group[],
  ground: Ground,
): Promise<{ groups: Group[]; gaps: number }> {
  const courses = await readCourses(reader, new Set(groups.flatMap(({ legs }) => legs.map(({ cable }) => cable))));
  const place = new Map<number, number>();
  for (const { stops } of courses.values()) for (const [n, { id }] of stops.entries()) place.set(id, n);
  let gaps = 0;
  const kept = groups.filter(({ legs }) => {
    let known = true;
    for (const { cable, a, b } of legs) {
      if (ground.cables.has(cable)) return false;
      const course = courses.get(cable) as Course;
      const ends = [place.get(a) ?? 0, place.get(b) ?? 0].sort((x, y) => x - y) as [number, number];
      for (const { kind, id } of elementsBetween(course, ...ends)) {
        if (kind !== "space" && ground.elements.has(`${kind} ${id}`)) return false;
      }
      const hops = course.hops.slice(...ends);
      if (hops.some((hop) => hop.length === 0 || hop.some(({ pathway }) => pathway === 0))) known = false;
    }
    if (!known) gaps += 1;
    return known;
  });
  return { groups: kept, gaps };
}

function lengthIn(cables: Cables, { legs }: Group): { length_m: number | null; lacks: string[] } {
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
type Route = readonly {
  readonly edge: Edge;
  readonly used: Used;
  readonly runs: readonly Run[];
  /** How often a strand is no neighbour of the one before. */
  readonly breaks: number;
}[];

/** The best route, then the best without its stretches, and so on. */
function search(
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

function wantNames(named: Named, found: readonly Route[], groups: readonly Group[]): void {
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

interface Known {
  readonly strands: number;
  readonly cables: Cables;
  readonly named: Named;
  readonly isKept: (run: Run) => boolean;
}

function wayOf(route: Route, groups: readonly Group[], { strands, cables, named, isKept }: Known): FreeWay {
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
