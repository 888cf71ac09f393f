/**
 * Single points: places outside a building, and pathways, without which no glass from it reaches any other building.
 *
 * A way out is a run of glass from here to the first end of it in another building, or to a room outside buildings where
 * strands are landed on ports: from there, patching leads on along whatever else lands in that room. A way is cut when any
 * place or pathway its sheaths lie in is lost. A single point is on every way. The other building's own room counts: where
 * all ways lead to one room, losing that room cuts them all.
 */
import { across, idOf, isFront, isPosition, NOWHERE, sectionEnd, sideOf } from "../glass/end.ts";
import type { Glass } from "../glass/glass.ts";
import { type Walk, walk } from "../glass/walk.ts";

export interface WayFacts {
  cableOf(section: number): number;
  stopOf(section: number, side: "A" | "B"): number;
  isBroken(section: number): boolean;
  /** The room of a position; 0 where nobody knows. */
  roomOf(position: number): number;
}

export interface Places {
  /** The space of a stop; 0 where nobody knows. */
  spaceOf(stop: number): number;
  /** Whether a space is part of what was asked about. */
  isHere(space: number): boolean;
  /** Whether a space is inside some other building. */
  isElsewhere(space: number): boolean;
  /** The spaces and pathways that the sheath of a section lies in, from stop to stop. */
  alongSection(cable: number, a: number, b: number): readonly Element[];
}

/** A space or pathway. */
export interface Element {
  readonly kind: "space" | "pathway";
  readonly id: number;
}

const keyOf = ({ kind, id }: Element): string => `${kind} ${id}`;

/** The place one starts from, and the goal: any other building. Rooms on the way have their own number. */
const HOME = 0;
const GOAL = -1;

interface Way {
  readonly from: number;
  readonly to: number;
  readonly elements: ReadonlyMap<string, Element>;
}

/** Sections and the ends of them from which a way may begin: those that end here, or in a room outside. */
export interface Begin {
  readonly section: number;
  readonly side: "A" | "B";
}

/** Rooms outside buildings that one may patch in; more of them change nothing any more. */
const MOST_ROOMS = 200;

/**
 * @param begins where ways begin; of strands that go the same way, one is enough
 * @param around the graph around some sections, with facts of all that is reached
 * @param landedIn the sections that land on ports of a room, with the end that does
 */
export async function singlePoints(
  begins: readonly Begin[],
  places: Places,
  around: (begins: readonly Begin[]) => Promise<{ glass: Glass; facts: WayFacts }>,
  landedIn: (room: number) => Promise<readonly Begin[]>,
): Promise<Element[]> {
  const ways = new Map<string, Way>();
  const rooms = new Set<number>();
  const open: { room: number; begins: readonly Begin[] }[] = [{ room: HOME, begins }];
  for (let next = open.shift(); next !== undefined; next = open.shift()) {
    const { glass, facts } = await around(next.begins);
    for (const begin of next.begins) {
      for (const way of waysFrom(glass, begin, next.room, facts, places)) {
        const key = `${way.from} ${way.to} ${[...way.elements.keys()].join()}`;
        if (ways.has(key)) continue;
        ways.set(key, way);
        if (way.to > 0 && !rooms.has(way.to) && rooms.size < MOST_ROOMS) {
          rooms.add(way.to);
          open.push({ room: way.to, begins: await landedIn(way.to) });
        }
      }
    }
  }
  return onEveryWay([...ways.values()]);
}

/** The ways along one section and the glass beyond it. */
function waysFrom(glass: Glass, { section, side }: Begin, from: number, facts: WayFacts, places: Places): Way[] {
  if (facts.isBroken(section)) return [];
  const start = sectionEnd(section, side === "A" ? "B" : "A");
  const done = walk(glass, start);
  const own = new Map<string, Element>();
  const first = cross(own, section, start, facts, places);
  if (first !== null) return [{ from, to: first, elements: own }];
  const ways: Way[] = [];
  for (const leaf of done.steps === 0 ? [] : done.leaves()) {
    const way = along(done, leaf, new Map(own), facts, places);
    if (way !== null && way.to !== from) ways.push({ from, ...way });
  }
  return ways;
}

/** The way by the steps to one leaf; null where it leads nowhere. */
function along(
  done: Walk,
  leaf: number,
  elements: Map<string, Element>,
  facts: WayFacts,
  places: Places,
): { to: number; elements: Map<string, Element> } | null {
  for (const step of done.pathTo(leaf)) {
    const to = done.to[step] as number;
    if (to === NOWHERE) return null;
    if (isPosition(to)) {
      const room = facts.roomOf(idOf(to));
      if (room === 0 || places.isHere(room)) continue;
      elements.set(`space ${room}`, { kind: "space", id: room });
      if (places.isElsewhere(room)) return { to: GOAL, elements };
      // Where strands land, one may patch to whatever else lands there.
      if (isFront(across(to))) return { to: room, elements };
      continue;
    }
    if (facts.isBroken(idOf(to))) return null;
    const reached = cross(elements, idOf(to), across(to), facts, places);
    if (reached !== null) return { to: reached, elements };
  }
  return null;
}

/** Adds what a section lies in; answers the goal where the end it is left by is in another building. */
function cross(
  elements: Map<string, Element>,
  section: number,
  out: number,
  facts: WayFacts,
  places: Places,
): typeof GOAL | null {
  const [a, b] = [facts.stopOf(section, "A"), facts.stopOf(section, "B")];
  for (const element of places.alongSection(facts.cableOf(section), a, b)) {
    if (element.kind === "pathway" || !places.isHere(element.id)) elements.set(keyOf(element), element);
  }
  const space = places.spaceOf(sideOf(out) === "A" ? a : b);
  return space > 0 && places.isElsewhere(space) ? GOAL : null;
}

/** What every chain of ways from here to the goal has in common, in the order of one of them. */
function onEveryWay(ways: readonly Way[]): Element[] {
  const chain = chainAvoiding(ways, null);
  if (!chain) return [];
  const candidates = new Map(chain.flatMap(({ elements }) => [...elements]));
  return [...candidates].flatMap(([key, element]) => (chainAvoiding(ways, key) ? [] : [element]));
}

/** The shortest chain of ways to the goal that don't pass an element; null where there is none. */
function chainAvoiding(ways: readonly Way[], key: string | null): Way[] | null {
  const cameBy = new Map<number, Way>();
  const open = [HOME];
  const seen = new Set(open);
  for (let at = open.shift(); at !== undefined; at = open.shift()) {
    for (const way of ways) {
      if (way.from !== at || seen.has(way.to) || (key !== null && way.elements.has(key))) continue;
      seen.add(way.to);
      cameBy.set(way.to, way);
      if (way.to === GOAL) {
        const chain: Way[] = [];
        for (let step: Way | undefined = way; step; step = cameBy.get(step.from)) chain.unshift(step);
        return chain;
      }
      open.push(way.to);
    }
  }
  return null;
}
