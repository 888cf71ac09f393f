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
import { say } from "../words/say.ts";
import type { FreePairAnswer, FreeWay } from "./answer.ts";
import { doubtsOf } from "./doubts.ts";
import { endpointsOf, type Where } from "./endpoints.ts";
import { keptForRepair } from "./kept.ts";
import { FreeRuns, type Group } from "./runs.ts";
import { separatePair } from "./separate.ts";
import { waysOfRoutes } from "./separate-ways.ts";
import { lossOfWay } from "./way-loss.ts";
import { lengthIn, search, wantNames, wayOf } from "./ways.ts";
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
const CAUTIONS = [
  say`Free is what the record says: look at both ends, and measure the strands, before you promise them.`,
];

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
    await pause(say`Free glass`, Math.min(at + BREATH, free.last), free.last);
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
      unknown.push(say`The way of ${avoid.tag} is not wholly on record: some of it can't be avoided.`);
    if (kept.gaps > 0) unknown.push(say`Free glass whose way is not wholly on record is left out: it may lie beside.`);
  }
  await pause(say`Ways`, 0, null);
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
    await pause(say`Loss`, ways.length, bare.length);
    ways.push({ ...way, doubts: doubts(way), loss: await lossOfWay(reader, way, { limits, today, application }) });
  }
  const pair = input.separate
    ? await separatePair(reader, { from, to, strands, avoid: ground, plant, facts, isOurs })
    : null;
  const separate =
    pair &&
    (await waysOfRoutes(reader, pair, {
      ...{ from, to, strands, groups, cables, plant, isKept },
      lossOf: (way) => lossOfWay(reader, way, { limits, today, application }),
    }));
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
  const apart = input.separate ? ` ${separateWords(separate, answer.application)}` : "";
  return { ...answer, sentence: `${sentenceOf(answer)}${apart}`, cautions: ways.length > 0 ? CAUTIONS : [] };
}

/** The application as limits have it. */
function wantedApplication(limits: Limits, text: string | undefined): string | undefined {
  if (text === undefined) return undefined;
  return (
    applicationNamed(limits, text) ??
    refuse("bad_input", say`No limits of an application "${text}" are on record.`, [
      { field: "application", record: text, reason: say`is an application without limits on record` },
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
