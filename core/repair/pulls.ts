/**
 * What slides is held to the tension of each leg's own pull: where that is more than the cable bears, the leg can't slide
 * that way, whatever the record says of it; where it can't be told, sliding is to be proved.
 */
import { type Facts, type FitCable, type FitLeg, readFacts } from "../fitness/facts.ts";
import { fitnessLimits, type Limits } from "../fitness/limits.ts";
import { isPulled, pull, type Route, routeOf } from "../fitness/pull.ts";
import type { Reader } from "../store/handle.ts";
import { asKnown } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import type { Course, CourseLeg } from "./course.ts";
import type { CourseOnRecord } from "./read-course.ts";

export interface LegPull {
  /** Newtons to pull it towards the last stop, and towards the first; null where that can't be told. */
  readonly onward_n: number | null;
  readonly back_n: number | null;
  /** Newtons the cable bears; null where nobody knows. */
  readonly bears_n: number | null;
  /** What the estimate lacks, in words: it may take more than that. */
  readonly lacks: readonly string[];
}

export interface HeldCourse extends CourseOnRecord {
  /** By leg; null where it isn't pulled through a pipe or its way is not on record. */
  readonly pulls: readonly (LegPull | null)[];
  /** Legs through which nothing can be pulled because it would take too much, in words. */
  readonly stuck: readonly string[];
}

/** A leg by what the record says of it and what a pull would take. Pure. */
export function slidesBy(slides: CourseLeg["slides"], newtons: number | null, own: LegPull): CourseLeg["slides"] {
  if (slides === "no") return "no";
  if (newtons !== null && own.bears_n !== null && newtons > own.bears_n) return "no";
  return newtons === null || own.bears_n === null || own.lacks.length > 0 ? "unproven" : slides;
}

export function holdToPulls(course: Course, pulls: readonly (LegPull | null)[]): Course {
  return {
    ...course,
    legs: course.legs.map((leg, index) => {
      const own = pulls[index];
      if (!own) return leg;
      return {
        ...leg,
        slides: slidesBy(leg.slides, own.onward_n, own),
        slides_back: slidesBy(leg.slides_back ?? leg.slides, own.back_n, own),
      };
    }),
  };
}

/** What the pulls of some cables are reckoned from, read at once. */
export interface PullFacts {
  readonly facts: Facts;
  readonly cables: ReadonlyMap<number, FitCable>;
  readonly limits: Limits;
}

export async function pullFacts(reader: Reader, cables: readonly number[]): Promise<PullFacts> {
  const limits = await fitnessLimits(reader);
  const facts = await readFacts(reader, cables);
  return { facts, cables: new Map(facts.cables.map((cable) => [cable.id, cable])), limits };
}

export const heldToTension = async (reader: Reader, cable: number, on: CourseOnRecord): Promise<HeldCourse> =>
  heldBy(await pullFacts(reader, [cable]), cable, on);

export function heldBy({ facts, cables, limits }: PullFacts, cable: number, on: CourseOnRecord): HeldCourse {
  const own = cables.get(cable);
  const pulls = on.course.legs.map((_, index) => (own ? pullOf(facts, own, on, index, limits) : null));
  const course = holdToPulls(on.course, pulls);
  const stuck = pulls.flatMap((one, index) => {
    const leg = course.legs[index];
    if (!one || on.course.legs[index]?.slides === "no" || (leg?.slides !== "no" && leg?.slides_back !== "no"))
      return [];
    const newtons = Math.max(one.onward_n ?? 0, one.back_n ?? 0);
    const way =
      leg.slides === leg.slides_back
        ? ""
        : leg.slides === "no"
          ? say` towards the last stop`
          : say` towards the first stop`;
    return [
      say`between ${on.stops[index]?.name} and ${on.stops[index + 1]?.name} it can't be pulled${way}: that takes ${Math.round(newtons)} N by estimate, and it bears ${one.bears_n} N`,
    ];
  });
  return { ...on, course, pulls, stuck };
}

function pullOf(facts: Facts, cable: FitCable, on: CourseOnRecord, index: number, limits: Limits): LegPull | null {
  const [from, to] = [on.stops[index]?.stop.id, on.stops[index + 1]?.stop.id];
  // A stop left out of the course leaves its legs to the stop before it.
  const legs = cable.legs.filter((leg) => leg.from_stop_id === from || leg.to_stop_id === to);
  const route = alongLegs(facts, legs, on.stops[index]?.place?.id ?? 0);
  if (route === null) return null;
  const { facts: found, lacks } = pull(cable, route, limits, []);
  const newtons = (value: unknown): number | null => (typeof value === "number" ? value : null);
  const [there_n, back_n] = [newtons(found.there_n), newtons(found.back_n)];
  return { onward_n: there_n, back_n, bears_n: newtons(found.most_n), lacks: lacks.map(({ what }) => what) };
}

/** The ways of a leg as one route from its first stop; null where one of them isn't pulled through or not on record. */
function alongLegs(facts: Facts, legs: readonly FitLeg[], space: number): Route | null {
  if (legs.length === 0) return null;
  let at = space;
  const routes: Route[] = [];
  let before = 0;
  for (const leg of legs) {
    const way = facts.pathways.get(leg.pathway_id ?? facts.conduits.get(leg.conduit_id ?? 0)?.pathway_id ?? 0);
    if (!way || !isPulled(way, leg.held)) return null;
    // Where the cable was cut in a way, it lies in both its halves: that is one pull.
    if (way.id === before) continue;
    before = way.id;
    const route = routeOf(way);
    const against = at > 0 && way.to_space_id === at;
    routes.push(against ? { ...route, parts: route.parts.toReversed() } : route);
    at = (against ? way.from_space_id : way.to_space_id) ?? 0;
  }
  return {
    parts: routes.flatMap(({ parts }) => parts),
    lacks: routes.flatMap(({ lacks }) => lacks),
    figures: routes.flatMap(({ figures }) => figures),
  };
}

/** What nobody has proven of a leg that slides, in words that follow "whether the cable slides between ...". */
export function pullWords(own: LegPull | null | undefined, side: "left" | "right"): string {
  if (!own) return "";
  const newtons = side === "left" ? own.onward_n : own.back_n;
  const takes =
    newtons === null
      ? say`what a pull takes is not known`
      : say`a pull takes ${asKnown(`${Math.round(newtons)} N`, own.lacks.length === 0)} by estimate`;
  const bears = own.bears_n === null ? say`what it bears is not known` : say`it bears ${own.bears_n} N`;
  const lacks = own.lacks.length > 0 ? say`; not on record: ${own.lacks.join(", ")}` : "";
  return ` (${takes}, ${bears}${lacks})`;
}
