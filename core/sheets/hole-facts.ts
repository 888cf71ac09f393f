/** What a hole or room is, what enters it where, and what lies in it. */
import { CARRIES } from "../glass/glass.ts";
import { heldInTrays } from "../glass/in-trays.ts";
import { KINDS, type Row } from "../model/dictionary.ts";
import type { PipeState, Wall, WallPipe, WallWindow } from "../paper/walls.ts";
import type { Pipe } from "../pathway/answer.ts";
import { pathwayShown } from "../pathway/pathway.ts";
import { addressesOf, refOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { courseOf } from "../trace/cable-course.ts";
import { Cables } from "../trace/cables.ts";
import { say } from "../words/say.ts";
import { caseGlass } from "./case-glass.ts";

type SpaceRow = Row<"space">;
type WallName = NonNullable<Row<"pathway">["from_wall"]>;

export interface HoleWay {
  readonly pathway: RecordRef;
  readonly to: RecordRef | null;
  readonly kind: string;
  readonly environment: string | null;
  readonly exposure: string | null;
  readonly wall: WallName | null;
  /** The wall follows from the line on the map. */
  readonly by_map: boolean;
  /** Seen from here its window is the mirror of the one on record. */
  readonly mirrored: boolean;
  readonly pipes: readonly (Pipe & { readonly seen_column: number | null })[];
  readonly loose: readonly string[];
}

export interface HoleCable {
  readonly cable: RecordRef;
  readonly strands: number;
  readonly kind: Row<"stop">["kind"];
  /** Where it comes from and goes on to, with the way it takes there. */
  readonly before: string | null;
  readonly beyond: string | null;
  /** The pipes it takes there, where they are on record. */
  readonly pipe_before: number | null;
  readonly pipe_beyond: number | null;
  readonly coil_m: number | null;
  readonly storage: Row<"stop">["storage"];
  readonly coil_diameter_mm: number | null;
  readonly marks: readonly number[];
  readonly mark_unit: "m" | "ft" | null;
  readonly closure: string | null;
  readonly metal: string | null;
  readonly owner: string | null;
}

export interface HoleCase {
  readonly closure: RecordRef;
  readonly kind: Row<"closure">["kind"];
  readonly position: string | null;
  readonly capacity: number | null;
  readonly held: number;
  /** Cables in it, by their ids: whose stops say so, or whose glass is joined in its trays. */
  readonly cables: readonly number[];
}

export interface Hole {
  readonly space: RecordRef;
  readonly row: SpaceRow;
  readonly key_holder: string | null;
  readonly last_visit: string | null;
  readonly ways: readonly HoleWay[];
  readonly cables: readonly HoleCable[];
  readonly cases: readonly HoleCase[];
}

export async function holeOf(reader: Reader, space: RecordRef): Promise<Hole> {
  const [row] = await reader.rows<SpaceRow>("select * from space where id = ?", [space.id]);
  if (!row) throw new Error(`space ${space.id} was resolved and is not there`);
  const [visit] = await reader.rows<{ on: string | null }>(
    `select max(made_on) as "on" from visit where space_id = ?`,
    [space.id],
  );
  const holder = row.key_holder_id === null ? null : await refOf(reader, "party", row.key_holder_id);
  return {
    space,
    row,
    key_holder: holder?.tag ?? null,
    last_visit: visit?.on ?? null,
    ways: await waysOf(reader, space.id),
    cables: await cablesIn(reader, space.id),
    cases: await casesIn(reader, space.id),
  };
}

type WayRow = Pick<
  Row<"pathway">,
  "kind" | "environment" | "exposure" | "geometry" | "from_wall" | "to_wall" | "from_space_id" | "to_space_id"
> & { readonly id: number };

async function waysOf(reader: Reader, space: number): Promise<HoleWay[]> {
  const rows = await reader.rows<WayRow>(
    `select id, kind, environment, exposure, geometry, from_wall, to_wall, from_space_id, to_space_id from pathway
     where (from_space_id = ? or to_space_id = ?) and life in ${CARRIES} order by tag_key, id`,
    [space, space],
  );
  const ways: HoleWay[] = [];
  for (const row of rows) {
    // A way that comes back to where it began enters twice.
    const ends = [
      ...(row.from_space_id === space ? (["from"] as const) : []),
      ...(row.to_space_id === space ? (["to"] as const) : []),
    ];
    const shown = await pathwayShown(reader, row.id);
    for (const end of ends) {
      const wall = end === "from" ? row.from_wall : row.to_wall;
      const mapped = wall === null ? wallByMap(row.geometry, end) : null;
      const columns = Math.max(0, ...shown.pipes.map(({ column, inside }) => (inside ? 0 : (column ?? 0))));
      const seen = (column: number | null): number | null =>
        column === null ? null : end === "to" ? columns + 1 - column : column;
      ways.push({
        pathway: shown.pathway,
        to: end === "from" ? shown.to : shown.from,
        kind: row.kind === null ? say`kind not known` : KINDS.pathway.fields.kind.values[row.kind],
        environment: row.environment && KINDS.pathway.fields.environment.values[row.environment],
        exposure: row.exposure,
        wall: wall ?? mapped,
        by_map: wall === null && mapped !== null,
        mirrored: end === "to",
        pipes: shown.pipes.map((pipe) => ({ ...pipe, seen_column: pipe.inside === null ? seen(pipe.column) : null })),
        loose: shown.loose.map(({ cable }) => cable.tag),
      });
    }
  }
  return ways;
}

/**
 * The side on which a way's line leaves: the quarter of the compass in which its first stretch lies. A degree of
 * longitude is shorter than one of latitude by the cosine of the latitude.
 */
export function wallByMap(geometry: string | null, end: "from" | "to"): WallName | null {
  const points = geometry === null ? [] : (JSON.parse(geometry) as [number, number][]);
  const line = end === "from" ? points : points.toReversed();
  const [at, next] = [line[0], line.find(([x, y]) => x !== line[0]?.[0] || y !== line[0]?.[1])];
  if (!at || !next) return null;
  const east = (next[0] - at[0]) * Math.cos((at[1] * Math.PI) / 180);
  const north = next[1] - at[1];
  if (Math.abs(east) >= Math.abs(north)) return east > 0 ? "east" : "west";
  return north > 0 ? "north" : "south";
}

interface StopRow
  extends Pick<Row<"stop">, "id" | "cable_id" | "kind" | "storage" | "coil_diameter_mm" | "closure_id"> {
  readonly strands: number;
  readonly mark_unit: "m" | "ft" | null;
}

async function cablesIn(reader: Reader, space: number): Promise<HoleCable[]> {
  const stops = await reader.rows<StopRow>(
    `select st.id, st.cable_id, st.kind, st.storage, st.coil_diameter_mm, st.closure_id, c.mark_unit,
       (select count(*) from strand t where t.cable_id = c.id) as strands
     from stop st join cable c on c.id = st.cable_id where st.space_id = ? and c.life in ${CARRIES}
     order by c.tag_key, c.id, st.ordinal`,
    [space],
  );
  const cables = await Cables.read(
    reader,
    stops.map(({ cable_id }) => cable_id),
    [],
  );
  const all: HoleCable[] = [];
  const courses = new Map<number, Awaited<ReturnType<typeof courseOf>>>();
  for (const stop of stops) {
    const facts = cables.byId.get(stop.cable_id);
    if (!facts) continue;
    const course = courses.get(stop.cable_id) ?? (await courseOf(reader, cables, facts, []));
    courses.set(stop.cable_id, course);
    const index = course.stops.findIndex(({ record }) => record.id === stop.id);
    const own = course.stops[index];
    const [before, beyond] = [course.legs[index - 1], course.legs[index]];
    const through = (leg: typeof before, to: RecordRef | null | undefined): string | null => {
      if (!leg) return null;
      const way = leg.conduit?.tag ?? leg.pathway?.tag ?? say`way not on record`;
      return say`${to?.tag ?? say`a place that nobody knows`} by ${way}`;
    };
    all.push({
      cable: facts.ref,
      ...{ strands: stop.strands, kind: stop.kind, mark_unit: stop.mark_unit },
      before: through(before, before?.from),
      beyond: through(beyond, beyond?.to),
      pipe_before: before?.conduit?.id ?? null,
      pipe_beyond: beyond?.conduit?.id ?? null,
      coil_m: own?.coil_m ?? null,
      storage: stop.storage,
      coil_diameter_mm: stop.coil_diameter_mm,
      marks: own?.marks ?? [],
      closure: own?.closure?.tag ?? null,
      metal: own?.metal ?? null,
      owner: facts.foreign_owner,
    });
  }
  return all;
}

const OWN = "tray_id in (select t.id from tray t join closure c on c.id = t.closure_id where c.space_id = ?)";

async function casesIn(reader: Reader, space: number): Promise<HoleCase[]> {
  const rows = await reader.rows<Omit<HoleCase, "closure" | "cables"> & { readonly id: number }>(
    `select c.id, c.kind, c.position, c.capacity, coalesce(sum(h.held), 0) as held from closure c
       left join tray t on t.closure_id = c.id left join (${heldInTrays(OWN)}) h on h.tray_id = t.id
     where c.space_id = ? and c.life in ${CARRIES} group by c.id order by c.tag_key, c.id`,
    [space, space, space],
  );
  const names = await addressesOf(
    reader,
    "closure",
    rows.map(({ id }) => id),
  );
  const cases: HoleCase[] = [];
  for (const { id, ...row } of rows) {
    const closure: RecordRef = { kind: "closure", id, tag: names.get(id) ?? "" };
    const { stops } = await caseGlass(reader, closure);
    cases.push({ closure, ...row, cables: [...new Set(stops.map(({ cable_id }) => cable_id))] });
  }
  return cases;
}

/** What has an inside with walls that ways enter by; a pole, a cabinet, a pedestal and a riser have none to unfold. */
export const hasWalls = ({ row: { kind, environment } }: Pick<Hole, "row">): boolean =>
  kind !== "pole" && kind !== "cabinet" && kind !== "pedestal" && environment !== "riser";

/** What somebody who stands before it looks at, as a heading. */
export function lookWords(hole: Pick<Hole, "row">, place: string): string {
  if (hasWalls(hole)) return say`${place} from inside`;
  if (hole.row.kind === "pole") return say`What hangs at ${place}`;
  return hole.row.environment === "riser" ? say`What runs through ${place}` : say`What comes into ${place}`;
}

const COMPASS: readonly WallName[] = ["north", "east", "south", "west"];

/** The four walls in the order of one who turns right, then floor, ceiling and what nobody placed, as far as there is any. */
export function wallsOf({ ways }: Pick<Hole, "ways">): Wall[] {
  const on = (wall: WallName | null): WallWindow[] => ways.filter((way) => way.wall === wall).map(windowOf);
  const further = (["floor", "ceiling", null] as const).flatMap((wall) =>
    on(wall).length > 0 ? [{ name: wallWords(wall), windows: on(wall) }] : [],
  );
  return [...COMPASS.map((wall) => ({ name: wallWords(wall), windows: on(wall) })), ...further];
}

export const wallWords = (wall: WallName | null): string =>
  wall === null
    ? say`Wall not on record`
    : wall === "floor" || wall === "ceiling"
      ? `${wall[0]?.toUpperCase()}${wall.slice(1)}`
      : say`${wall[0]?.toUpperCase()}${wall.slice(1)} wall`;

function windowOf({ pathway, to, kind, pipes, loose, by_map }: HoleWay): WallWindow {
  const inside = (pipe: Pipe): string[] => [
    ...pipe.occupants.map(({ cable }) => cable.tag),
    ...pipes.filter(({ inside: outer }) => outer?.id === pipe.conduit.id).flatMap(inside),
  ];
  return {
    ...{ pathway: pathway.tag, to: to?.tag ?? null, kind, loose, by_map },
    pipes: pipes
      .filter(({ inside: outer }) => outer === null)
      .map((pipe): WallPipe => {
        const cables = [...new Set(inside(pipe))];
        const { row, seen_column, state, conduit } = pipe;
        return {
          tag: lastName(conduit.tag),
          row,
          column: seen_column,
          state: shownState(state, cables.length),
          cables,
        };
      }),
  };
}

/** The pipe's own number: `DB-04/2` is 2. */
const lastName = (address: string): string => address.slice(address.lastIndexOf("/") + 1);

/** What lies in a pipe is in use, whatever somebody recorded of it. */
const shownState = (state: Row<"conduit">["state"], cables: number): PipeState =>
  cables > 0 ? "in_use" : (state ?? "not_known");
