/** Every strand that ends at a place, walked away from it and into it. */
import { across, idOf, isFront, isPosition, NOWHERE, type Side, sectionEnd } from "../glass/end.ts";
import { ASSUMED, type Glass } from "../glass/glass.ts";
import { Trail, type Walk, walk } from "../glass/walk.ts";
import type { GlassSection } from "../trace/facts.ts";
import type { Stopped } from "../trace/line.ts";
import type { GlassFacts } from "./glass-facts.ts";
import { Route, type Routes } from "./routes.ts";

export interface FeedWalk {
  readonly section: GlassSection;
  /** The side of it that ends here. */
  readonly side: Side;
  /** Where the walk away stops, and that into the place; null where it forks. */
  readonly far: Stopped | null;
  readonly near: Stopped | null;
  readonly far_ends: number;
  /** The walk away passes an assumed cord. */
  readonly assumed: boolean;
  /** The way it goes from here; null where it forks. */
  readonly route: Route | null;
  /** Some glass on the way away is broken. */
  readonly broken: boolean;
  /**
   * Given to nothing now or later, neither broken nor degraded, no fork, ring, assumed cord, equipment or unknown place
   * on its way.
   */
  readonly free: boolean;
}

export const otherSide = (side: Side): Side => (side === "A" ? "B" : "A");

/** The end that a walk away from a place begins at. */
export const awayFrom = (section: number, side: Side): number => sectionEnd(section, otherSide(side));

/** What a walk passed, straight as far as it went. */
interface Passed {
  readonly stopped: Stopped | null;
  assumed: boolean;
  broken: boolean;
  fit: boolean;
  route: Route;
}

export class Walker {
  readonly #glass: Glass;
  readonly #facts: GlassFacts;
  readonly #routes: Routes;
  readonly #trail = new Trail();

  constructor(glass: Glass, facts: GlassFacts, routes: Routes) {
    this.#glass = glass;
    this.#facts = facts;
    this.#routes = routes;
  }

  walk(section: GlassSection, side: Side): FeedWalk {
    const own = this.#along(this.#routes.root, section.id);
    const away = this.#follow(awayFrom(section.id, side), own);
    // What lies inside the building is no part of a route; it is followed on one of its own.
    const into = this.#follow(sectionEnd(section.id, side), this.#routes.inward);
    return {
      section,
      side,
      far: away.stopped,
      near: into.stopped,
      far_ends: away.stopped ? 1 : walk(this.#glass, awayFrom(section.id, side)).leaves().length,
      assumed: away.assumed,
      route: away.stopped && away.route,
      broken: away.broken || section.condition === "broken",
      free: own.isKnown && this.#facts.isFree(section.id) && away.fit && into.fit,
    };
  }

  #along(route: Route, section: number): Route {
    const facts = this.#facts;
    const [a, b] = [facts.stopOf(section, "A"), facts.stopOf(section, "B")];
    return route.along(a, b, (before) => {
      const cable = facts.cableOf(section);
      this.#routes.cables.add(cable);
      return new Route(before, cable, a, b, facts.isKnownStop(a) && facts.isKnownStop(b));
    });
  }

  #follow(start: number, from: Route): Passed {
    const trail = this.#trail;
    const facts = this.#facts;
    trail.follow(this.#glass, start);
    const passed: Passed = { stopped: this.#stopped(start), assumed: false, broken: false, fit: true, route: from };
    let route = from;
    let fit = trail.stop === "end";
    for (let step = 0; step < trail.steps; step += 1) {
      const to = trail.to[step] as number;
      if (this.#glass.kind(trail.via[step] as number) === ASSUMED) passed.assumed = true;
      if (to === NOWHERE) continue;
      const id = idOf(to);
      if (isPosition(to)) {
        if (fit && facts.isDevice(id)) fit = false;
        route = route.through(facts.roomOf(id));
      } else {
        route = this.#along(route, id);
        if (fit) fit = route.isKnown && this.#facts.isFree(id);
        if (!fit && facts.isBroken(id)) passed.broken = true;
      }
    }
    passed.route = route;
    passed.fit = fit && !passed.assumed;
    return passed;
  }

  #stopped(start: number): Stopped | null {
    const { steps, stop, to, via } = this.#trail;
    if (stop === null) return null;
    if (steps === 0) return { why: stop, end: start, kind: -1, id: 0 };
    const last = to[steps - 1] as number;
    const handle = via[steps - 1] as number;
    const end = stop === "end" && last !== NOWHERE ? across(last) : last;
    return { why: stop, end, kind: this.#glass.kind(handle), id: this.#glass.id(handle) };
  }
}

/** The bare port a walk stops at, or null: then a cord there is all it takes to use it. */
export function portAt(stopped: Stopped | null, facts: GlassFacts): number | null {
  if (stopped?.why !== "end" || !isFront(stopped.end)) return null;
  const position = idOf(stopped.end);
  return facts.isDevice(position) || facts.isCordSeen(position) ? null : position;
}

/** Sections and positions that walks away from and into a place reach, for whoever reads their facts. */
export function reachedFrom(
  glass: Glass,
  begins: Iterable<{ readonly section: number; readonly side: Side }>,
): { sections: Set<number>; positions: Set<number> } {
  const sections = new Set<number>();
  const positions = new Set<number>();
  for (const { section, side } of begins) {
    sections.add(section);
    for (const end of [awayFrom(section, side), sectionEnd(section, side)]) {
      const done: Walk = walk(glass, end);
      for (const to of done.to) {
        if (to === NOWHERE) continue;
        if (isPosition(to)) positions.add(idOf(to));
        else sections.add(idOf(to));
      }
    }
  }
  return { sections, positions };
}
