/**
 * The courses of cables: from stop to stop the places and ways a sheath lies in, read in sets. Impact, ways in and
 * diversity all ask these and have no other notion of where a cable lies.
 *
 * Legs between the same two stops follow each other, and where two neighbouring ways meet in a place, the cable is there
 * too, whether or not a stop tells it.
 */
import { CARRIES } from "../glass/glass.ts";
import type { Reader } from "../store/handle.ts";

export interface CourseStop {
  readonly id: number;
  readonly ordinal: number;
  /** 0 where nobody knows. */
  readonly space: number;
}

export interface CourseLeg {
  readonly id: number;
  /** 0 where nobody knows. */
  readonly pathway: number;
  readonly conduit: number;
  /** The places at the ends of the pathway; 0 where nobody knows. */
  readonly from: number;
  readonly to: number;
}

export interface Course {
  readonly cable: number;
  readonly stops: readonly CourseStop[];
  /** The legs from each stop to the next; none where the way is not on record. */
  readonly hops: readonly (readonly CourseLeg[])[];
}

/** Something a cable lies in. */
export type ElementKind = "space" | "pathway" | "conduit";
export interface Element {
  readonly kind: ElementKind;
  readonly id: number;
}

type StopRow = [id: number, cable: number, ordinal: number, space: number];
type LegRow = [from: number, to: number, id: number, pathway: number, conduit: number, one: number, other: number];

const STOPS = `select st.id, st.cable_id, st.ordinal, ifnull(st.space_id, 0)
  from cable c join stop st on st.cable_id = c.id where c.life in ${CARRIES}`;
// Where leg and pipe name two ways, the cable lies in one of them: what is lost with either may be lost.
const LEGS = `select l.from_stop_id, l.to_stop_id, l.id, ifnull(p.id, 0), ifnull(l.conduit_id, 0),
    ifnull(p.from_space_id, 0), ifnull(p.to_space_id, 0)
  from leg l left join conduit c on c.id = l.conduit_id
    left join pathway p on p.id = l.pathway_id or p.id = c.pathway_id
  where l.life in ${CARRIES}`;

/** Reads the courses of some cables, or of every cable that is in place. Cables that aren't there have none. */
export async function readCourses(reader: Reader, cables: Iterable<number> | null): Promise<Map<number, Course>> {
  const ids = cables === null ? null : JSON.stringify([...cables]);
  const order = " order by st.cable_id, st.ordinal";
  const stops = (
    ids === null
      ? await reader.lists(`${STOPS}${order}`)
      : await reader.lists(`${STOPS} and c.id in (select value from json_each(?))${order}`, [ids])
  ) as StopRow[];
  const legs = (
    ids === null
      ? await reader.lists(`${LEGS} order by l.id`)
      : await reader.lists(
          `${LEGS} and l.from_stop_id in (select id from stop where cable_id in (select value from json_each(?))) order by l.id`,
          [ids],
        )
  ) as LegRow[];
  return coursesFrom(stops, legs);
}

function coursesFrom(stops: readonly StopRow[], legs: readonly LegRow[]): Map<number, Course> {
  const courses = new Map<number, { cable: number; stops: CourseStop[]; hops: CourseLeg[][] }>();
  const at = new Map<number, { cable: number; index: number }>();
  for (const [id, cable, ordinal, space] of stops) {
    let course = courses.get(cable);
    if (!course) {
      course = { cable, stops: [], hops: [] };
      courses.set(cable, course);
    } else course.hops.push([]);
    at.set(id, { cable, index: course.stops.length });
    course.stops.push({ id, ordinal, space });
  }
  for (const [from, to, id, pathway, conduit, one, other] of legs) {
    const [a, b] = [at.get(from), at.get(to)];
    // A leg to another cable's stop says nothing; the checks tell of it. One past a stop holds on both sides of it.
    if (!a || !b || a.cable !== b.cable) continue;
    for (let index = Math.min(a.index, b.index); index < Math.max(a.index, b.index); index += 1) {
      courses.get(a.cable)?.hops[index]?.push({ id, pathway, conduit, from: one, to: other });
    }
  }
  return courses;
}

/** The place in which two ways that follow each other meet; 0 where they don't. */
export const meeting = (one: CourseLeg, other: CourseLeg): number =>
  one.pathway === other.pathway
    ? 0
    : one.to > 0 && (one.to === other.from || one.to === other.to)
      ? one.to
      : one.from > 0 && (one.from === other.from || one.from === other.to)
        ? one.from
        : 0;

/** The places between the legs of one hop. */
export const passedOn = (hop: readonly CourseLeg[]): number[] =>
  hop.slice(1).flatMap((leg, index) => meeting(hop[index] as CourseLeg, leg) || []);

/**
 * What a stretch of a course lies in, from one stop to another (by their place in the course), in its order, each once.
 */
export function elementsBetween(course: Course, from: number, to: number): Element[] {
  const elements = new Map<string, Element>();
  const add = (kind: ElementKind, id: number): void => {
    if (id > 0 && !elements.has(`${kind} ${id}`)) elements.set(`${kind} ${id}`, { kind, id });
  };
  for (let index = from; index <= to; index += 1) {
    add("space", course.stops[index]?.space ?? 0);
    if (index === to) break;
    const hop = course.hops[index] ?? [];
    for (const [n, leg] of hop.entries()) {
      if (n > 0) add("space", meeting(hop[n - 1] as CourseLeg, leg));
      add("pathway", leg.pathway);
      add("conduit", leg.conduit);
    }
  }
  return [...elements.values()];
}
