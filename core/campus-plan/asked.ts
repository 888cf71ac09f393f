/** What is asked about, as it lies: a cable's course, the cables of a line of glass, a way, a place. */
import { type Course, type CourseLeg, readCourses } from "../impact/courses.ts";
import type { KindName } from "../model/dictionary.ts";
import type { Spot } from "../model/flat.ts";
import { pick, refsOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { Branch, RecordRef, TraceLine } from "../trace/answer.ts";
import { TRACEABLE } from "../trace/target.ts";
import { trace } from "../trace/trace.ts";
import { say } from "../words/say.ts";
import type { AskedLeg, AskedStop, AskedThing } from "./answer.ts";
import type { Drawn } from "./drawn.ts";

const LYING = ["cable", "pathway", "conduit", "space", "building"] as const satisfies readonly KindName[];
export const ASKED_KINDS: readonly KindName[] = [
  ...LYING,
  ...TRACEABLE.filter((kind) => !LYING.includes(kind as never)),
];

/** A part of a course, by the order of its stops. */
interface Part {
  readonly cable: number;
  readonly from: number;
  readonly to: number;
}

/** Refuses what names nothing, or more than one thing. */
export async function askedThing(reader: Reader, what: string, drawn: Drawn, today: string): Promise<AskedThing> {
  const record = await pick(reader, what, { kinds: ASKED_KINDS, field: "of" });
  const bare = { record, stops: [], legs: [], length_m: null, lacks: [] };
  switch (record.kind) {
    case "building":
    case "space":
      return bare;
    case "pathway":
      return wayAlone(record, record, null, drawn);
    case "conduit": {
      const [row] = await reader.rows<{ pathway_id: number }>("select pathway_id from conduit where id = ?", [
        record.id,
      ]);
      const way = row ? (drawn.wayOf.get(row.pathway_id)?.ref ?? null) : null;
      return way ? wayAlone(record, way, record, drawn) : bare;
    }
    case "cable":
      return courseOf(reader, record, [{ cable: record.id, from: 0, to: Infinity }], drawn);
    default:
      return courseOf(reader, record, await partsOf(reader, record, today), drawn);
  }
}

function wayAlone(record: RecordRef, way: RecordRef, conduit: RecordRef | null, drawn: Drawn): AskedThing {
  const found = drawn.wayOf.get(way.id);
  const length_m = found?.length_m ?? null;
  const leg = { way, conduit, points: found?.points ?? null, shape: found?.shape ?? null, length_m };
  return { record, stops: [], legs: [leg], length_m, lacks: length_m === null ? [say`the length of ${way.tag}`] : [] };
}

/** The stretches of sheath that a line of glass runs in. */
async function partsOf(reader: Reader, record: RecordRef, today: string): Promise<Part[]> {
  const { lines } = await trace(reader, { kind: record.kind as (typeof TRACEABLE)[number], id: record.id }, today);
  const sections = new Set(lines.flatMap(sectionsOf));
  const rows = await reader.rows<{ cable: number; a: number | null; b: number | null }>(
    `select t.cable_id as cable, a.ordinal as a, b.ordinal as b from section s join strand t on t.id = s.strand_id
      left join stop a on a.id = s.a_stop_id left join stop b on b.id = s.b_stop_id
      where s.id in (select value from json_each(?)) order by s.id`,
    [JSON.stringify([...sections])],
  );
  return rows.map(({ cable, a, b }) => ({
    cable,
    from: Math.min(a ?? 0, b ?? Infinity),
    to: Math.max(a ?? 0, b ?? Infinity),
  }));
}

const sectionsOf = ({ root, behind }: TraceLine): number[] => [...inBranch(root), ...(behind ? inBranch(behind) : [])];
const inBranch = ({ hops, branches }: Branch): number[] => [
  ...hops.flatMap(({ kind, record }) => (kind === "strand" && record.kind === "section" ? [record.id] : [])),
  ...branches.flatMap(inBranch),
];

async function courseOf(reader: Reader, record: RecordRef, parts: readonly Part[], drawn: Drawn): Promise<AskedThing> {
  const courses = await readCourses(reader, new Set(parts.map(({ cable }) => cable)));
  const cables = await refsOf(reader, "cable", courses.keys());
  const pipes = await refsOf(
    reader,
    "conduit",
    [...courses.values()].flatMap(({ hops }) => hops.flat().flatMap(({ conduit }) => (conduit > 0 ? [conduit] : []))),
  );
  const stops: AskedStop[] = [];
  const legs: AskedLeg[] = [];
  const lacks = new Set<string>();
  let length: number | null = 0;
  const seen = new Set<string>();
  for (const part of parts) {
    const course = courses.get(part.cable);
    const cable = cables.get(part.cable);
    if (!course || !cable) continue;
    for (const [index, stop] of course.stops.entries()) {
      if (stop.ordinal < part.from || stop.ordinal > part.to) continue;
      once(seen, `stop ${stop.id}`, () => stops.push({ ...placed(stop.space, drawn), cable }));
      const next = course.stops[index + 1];
      if (!next || next.ordinal > part.to) continue;
      once(seen, `hop ${stop.id}`, () => {
        for (const leg of legsOf(course, index, drawn, pipes)) {
          legs.push(leg);
          if (leg.way && leg.length_m !== null && length !== null) length += leg.length_m;
          else {
            length = null;
            lacks.add(leg.way ? say`the length of ${leg.way.tag}` : say`a way of ${cable.tag}`);
          }
        }
      });
    }
  }
  return { record, stops, legs, length_m: legs.length === 0 ? null : length, lacks: [...lacks] };
}

function once(seen: Set<string>, key: string, work: () => void): void {
  if (seen.has(key)) return;
  seen.add(key);
  work();
}

function placed(space: number, drawn: Drawn): Pick<AskedStop, "space" | "at"> {
  const place = drawn.placeOf.get(space);
  return { space: place?.ref ?? null, at: place?.at ?? null };
}

/** The ways from a stop to the next; straight across where none is on record. */
function legsOf(course: Course, index: number, drawn: Drawn, pipes: ReadonlyMap<number, RecordRef>): AskedLeg[] {
  const hop = course.hops[index] ?? [];
  const known = hop.filter(({ pathway }) => pathway > 0);
  if (known.length === 0) {
    const ends = [course.stops[index]?.space ?? 0, course.stops[index + 1]?.space ?? 0];
    const spots = ends.map((id) => drawn.placeOf.get(id)?.at ?? null).filter((at): at is Spot => at !== null);
    const points = spots.length === 2 ? spots : null;
    return [{ way: null, conduit: null, points, shape: points ? "straight" : null, length_m: null }];
  }
  return known.map((leg) => legOf(leg, drawn, pipes));
}

function legOf(leg: CourseLeg, drawn: Drawn, pipes: ReadonlyMap<number, RecordRef>): AskedLeg {
  const way = drawn.wayOf.get(leg.pathway);
  return {
    ...{ way: way?.ref ?? null, conduit: pipes.get(leg.conduit) ?? null },
    ...{ points: way?.points ?? null, shape: way?.shape ?? null, length_m: way?.length_m ?? null },
  };
}
