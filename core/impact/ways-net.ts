/**
 * The net of places and pathways that cables lie in, for a whole plant: what ways there are from building to building,
 * whether or not the glass of the cables that meet in a place is joined there today. Ways that are not on record are
 * taken as one and the same between the same two places: nothing counts as separate that isn't known to be.
 */
import { CARRIES } from "../glass/glass.ts";
import type { Reader } from "../store/handle.ts";
import { type Course, passedOn, readCourses } from "./courses.ts";
import type { Net } from "./flow.ts";

/** `unknown` is a way, or a place, that nobody recorded. */
export type NodeKind = "space" | "pathway" | "unknown";

interface Link {
  readonly to: number;
  /** The cables and pipes that lead along it, as `cable` and `conduit` (0 without one). */
  readonly by: { readonly cable: number; readonly conduit: number }[];
}

export class WaysNet implements Net {
  readonly #ids = new Map<string, number>();
  readonly kinds: NodeKind[] = [];
  /** Ids of spaces and pathways; of an unknown place its stop, of an unknown way 0. */
  readonly records: number[] = [];
  readonly #links: Map<number, Link>[] = [];
  /** Building of each space; 0 outdoors. */
  readonly buildingOf: ReadonlyMap<number, number>;
  /** Nodes of spaces where glass ends, by building. */
  readonly endsIn = new Map<number, Set<number>>();
  /** Cables with ways or places that are not on record, by unknown node. */
  readonly unknown = new Map<number, Set<number>>();

  /** Cables that come to a building without a strand on record that isn't broken: they are no way. */
  readonly bare = new Map<number, Set<number>>();

  constructor(
    courses: Iterable<Course>,
    buildingOf: ReadonlyMap<number, number>,
    ending: ReadonlySet<number>,
    withGlass: ReadonlySet<number>,
    /** Stops beyond which nothing of the sheath is left up to the next: a piece lies there in its place. */
    gaps: ReadonlySet<number> = new Set(),
  ) {
    this.buildingOf = buildingOf;
    for (const course of courses) {
      if (withGlass.has(course.cable)) this.#lay(course, ending, gaps);
      else this.#leaveOut(course);
    }
  }

  #leaveOut({ cable, stops }: Course): void {
    for (const { space } of stops) {
      const building = this.buildingOf.get(space) ?? 0;
      if (building > 0) this.bare.set(building, (this.bare.get(building) ?? new Set()).add(cable));
    }
  }

  static async read(reader: Reader): Promise<WaysNet> {
    const courses = await readCourses(reader, null);
    const spaces = (await reader.lists("select id, building_id from space where building_id is not null")) as [
      number,
      number,
    ][];
    // Stops where some glass ends that isn't broken; by index, and each is left at the first found.
    const ends = (own: "a" | "b"): string => `exists (select 1 from section s cross join strand t on t.id = s.strand_id
      where s.${own}_stop_id = st.id and t.condition is not 'broken')`;
    const stops = await reader.lists(
      `select st.id from cable c cross join stop st on st.cable_id = c.id
       where c.life in ${CARRIES} and (${ends("a")} or ${ends("b")})`,
    );
    const glass = await reader.lists(
      `select c.id from cable c where c.life in ${CARRIES}
         and exists (select 1 from strand t where t.cable_id = c.id and t.condition is not 'broken')`,
    );
    const ids = (rows: readonly unknown[][]): Set<number> => new Set(rows.map(([id]) => id as number));
    const gaps = await gapsOf(reader, courses);
    return new WaysNet(courses.values(), new Map(spaces), ids(stops), ids(glass), gaps);
  }

  get nodes(): number {
    return this.kinds.length;
  }
  neighbours(node: number): Iterable<number> {
    return (this.#links[node] as Map<number, Link>).keys();
  }
  /** What leads from a node to the next. */
  by(from: number, to: number): Link["by"] {
    return this.#links[from]?.get(to)?.by ?? [];
  }
  buildingAt(node: number): number {
    return this.kinds[node] === "space" ? (this.buildingOf.get(this.records[node] as number) ?? 0) : 0;
  }

  #node(kind: NodeKind, record: number, key = `${kind} ${record}`): number {
    let node = this.#ids.get(key);
    if (node === undefined) {
      node = this.kinds.push(kind) - 1;
      this.records.push(record);
      this.#links.push(new Map());
      this.#ids.set(key, node);
    }
    return node;
  }

  #link(a: number, b: number, cable: number, conduit: number): void {
    for (const [from, to] of [
      [a, b],
      [b, a],
    ] as const) {
      const own = this.#links[from] as Map<number, Link>;
      const link = own.get(to) ?? { to, by: [] };
      link.by.push({ cable, conduit });
      own.set(to, link);
    }
  }

  #lay(course: Course, ending: ReadonlySet<number>, gaps: ReadonlySet<number>): void {
    const { cable, stops, hops } = course;
    const at = stops.map(({ id, space }) => {
      if (space > 0) return this.#node("space", space);
      const node = this.#node("unknown", id, `stop ${id}`);
      this.#doubt(node, cable);
      return node;
    });
    for (const [index, { id, space }] of stops.entries()) {
      const building = this.buildingOf.get(space) ?? 0;
      if (building === 0 || !ending.has(id)) continue;
      this.endsIn.set(building, (this.endsIn.get(building) ?? new Set()).add(at[index] as number));
    }
    for (const [index, hop] of hops.entries()) {
      const [from, to] = [at[index] as number, at[index + 1] as number];
      if (from === to || gaps.has(stops[index]?.id ?? 0)) continue;
      let before = from;
      const between = passedOn(hop);
      for (const [n, { pathway, conduit }] of hop.entries()) {
        const way = pathway > 0 ? this.#node("pathway", pathway) : this.#unknownWay(from, to, cable);
        if (way === before) continue;
        this.#link(before, way, cable, conduit);
        before = way;
        const place = between[n] ?? 0;
        if (n < hop.length - 1 && place > 0) {
          const passed = this.#node("space", place);
          this.#link(way, passed, cable, conduit);
          before = passed;
        }
      }
      if (hop.length === 0) {
        before = this.#unknownWay(from, to, cable);
        this.#link(from, before, cable, 0);
      }
      if (before !== to) this.#link(before, to, cable, hop.at(-1)?.conduit ?? 0);
    }
  }

  #unknownWay(a: number, b: number, cable: number): number {
    const node = this.#node("unknown", 0, `way ${Math.min(a, b)} ${Math.max(a, b)}`);
    this.#doubt(node, cable);
    return node;
  }

  #doubt(node: number, cable: number): void {
    this.unknown.set(node, (this.unknown.get(node) ?? new Set()).add(cable));
  }
}

/**
 * Stops at which a sheath ends that goes on at the next: both severed, no leg between them, and no glass runs from one to
 * the other. That is no way nobody recorded, but none.
 */
async function gapsOf(reader: Reader, courses: ReadonlyMap<number, Course>): Promise<Set<number>> {
  const severed = new Set((await reader.lists("select id from stop where kind = 'severed'")).map(([id]) => id));
  const apart = [...courses.values()].flatMap(({ cable, stops, hops }) =>
    hops.flatMap((hop, index) => {
      const [stop, next] = [stops[index], stops[index + 1]];
      return hop.length === 0 && severed.has(stop?.id) && severed.has(next?.id)
        ? [{ cable, stop: stop?.id ?? 0, ordinal: stop?.ordinal ?? 0 }]
        : [];
    }),
  );
  if (apart.length === 0) return new Set();
  const across = await reader.lists(
    `select distinct json_extract(g.value, '$.stop') from json_each(?) g
       join strand t on t.cable_id = json_extract(g.value, '$.cable') join section s on s.strand_id = t.id
       join stop a on a.id = s.a_stop_id join stop b on b.id = s.b_stop_id
     where min(a.ordinal, b.ordinal) <= json_extract(g.value, '$.ordinal')
       and max(a.ordinal, b.ordinal) > json_extract(g.value, '$.ordinal')`,
    [JSON.stringify(apart)],
  );
  const joined = new Set(across.map(([stop]) => stop));
  return new Set(apart.flatMap(({ stop }) => (joined.has(stop) ? [] : [stop])));
}
