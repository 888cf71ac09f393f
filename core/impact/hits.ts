/** Which sections of which cables are lost, and by what: courses held against the things asked about. Pure. */
import type { Course, CourseLeg } from "./courses.ts";
import type { Asked } from "./lost.ts";

export interface SectionRow {
  readonly id: number;
  readonly strand_id: number;
  readonly cable_id: number;
  /** 0 where nobody knows. */
  readonly a_stop: number;
  readonly b_stop: number;
}

export interface Hit {
  /** Index of what was asked. */
  readonly asked: number;
  /** Place of the stop in the course, or of the stop before a leg. */
  readonly index: number;
  /** 0 for a hit at the stop itself. */
  readonly leg: number;
}

/** Where a course lies in what is asked about. */
export function hitsOf(course: Course, asked: readonly Asked[]): Hit[] {
  const hits: Hit[] = [];
  for (const [n, { spaces, pathways, conduits }] of asked.entries()) {
    const isIn = (leg: CourseLeg): boolean =>
      pathways.has(leg.pathway) ||
      conduits.has(leg.conduit) ||
      // Whoever has a way's mouth in a place has what comes out of it there.
      spaces.has(leg.from) ||
      spaces.has(leg.to);
    for (const [index, stop] of course.stops.entries()) {
      if (spaces.has(stop.space)) hits.push({ asked: n, index, leg: 0 });
      for (const leg of course.hops[index] ?? []) if (isIn(leg)) hits.push({ asked: n, index, leg: leg.id });
    }
  }
  return hits;
}

export interface LostSection extends SectionRow {
  /** Indices of the things asked about that it is lost with. */
  readonly by: ReadonlySet<number>;
}

/**
 * The sections that lie in what is asked about. Where the record doesn't say at which stop a section ends, it is taken to
 * run on to the end of its cable: rather more is lost than less, and `doubtful` is told of it.
 */
export function lostSections(
  sections: readonly SectionRow[],
  courses: ReadonlyMap<number, Course>,
  hits: ReadonlyMap<number, readonly Hit[]>,
  asked: readonly Asked[],
  doubtful: (cable: number) => void,
): LostSection[] {
  const place = new Map<number, number>();
  for (const { stops } of courses.values()) for (const [index, { id }] of stops.entries()) place.set(id, index);
  const lost: LostSection[] = [];
  for (const section of sections) {
    const course = courses.get(section.cable_id);
    if (!course) continue;
    const [one, other] = [place.get(section.a_stop), place.get(section.b_stop)];
    const known = one !== undefined && other !== undefined;
    const [a, b] = [one ?? 0, other ?? course.stops.length - 1];
    const [from, to] = [Math.min(a, b), Math.max(a, b)];
    const by = new Set<number>();
    for (const { asked: n, index, leg } of hits.get(section.cable_id) ?? []) {
      if (from <= index && (leg > 0 ? index < to : index <= to)) by.add(n);
    }
    for (const [n, { cable, stretch, between }] of asked.entries()) {
      if (cable !== section.cable_id) continue;
      if (between !== null) {
        const [p, q] = between.map((stop) => place.get(stop));
        if (p === undefined || q === undefined || (from <= Math.min(p, q) && Math.max(p, q) <= to)) by.add(n);
        if (!known || p === undefined || q === undefined) doubtful(section.cable_id);
      } else if (stretch === null) by.add(n);
      else {
        const extent = stretch.marked.extentOf(from, to);
        if (extent.from <= stretch.to && extent.to >= stretch.from) by.add(n);
        if (!known || !stretch.marked.isMarked(from) || !stretch.marked.isMarked(to)) doubtful(section.cable_id);
      }
    }
    if (by.size === 0) continue;
    if (!known && (hits.get(section.cable_id)?.length ?? 0) > 0) doubtful(section.cable_id);
    lost.push({ ...section, by });
  }
  return lost;
}
