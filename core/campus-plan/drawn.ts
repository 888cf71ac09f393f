/** Places and ways as they are on record, laid flat. */

import { KINDS } from "../model/dictionary.ts";
import { type Flat, flatAround, type Spot } from "../model/flat.ts";
import type { LonLat } from "../model/lines.ts";
import { refsOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { PlanAnswer, PlanPlace, PlanWay } from "./answer.ts";

interface Located {
  readonly id: number;
  readonly name: string | null;
  readonly longitude: number | null;
  readonly latitude: number | null;
  readonly life: string;
}
interface BuildingRow extends Located {
  readonly outline: string | null;
}
interface SpaceRow extends Located {
  readonly kind: string | null;
  readonly building_id: number | null;
  readonly accuracy_m: number | null;
}
interface WayRow {
  readonly id: number;
  readonly kind: string | null;
  readonly from_space_id: number | null;
  readonly to_space_id: number | null;
  readonly length_m: number | null;
  readonly accuracy_m: number | null;
  readonly geometry: string | null;
  readonly life: string;
}

/** What was taken out is no longer there, and what is in stock nowhere. */
const SHOWN = "('in_place', 'out_of_use', 'planned')";
const BUILDINGS = `select id, name, longitude, latitude, outline, life from building where life in ${SHOWN} order by tag_key, id`;
const SPACES = `select id, name, kind, building_id, longitude, latitude, accuracy_m, life from space
  where life in ${SHOWN} order by tag_key, id`;
const WAYS = `select id, kind, from_space_id, to_space_id, length_m, accuracy_m, geometry, life from pathway
  where life in ${SHOWN} order by tag_key, id`;
/** Cables in each way, by their legs and by the pipes that these name. */
const CABLES = `select way, count(distinct cable) as cables from (
    select l.pathway_id as way, s.cable_id as cable, s.id as stop, l.life from leg l join stop s on s.id = l.from_stop_id
      where l.pathway_id is not null
    union all
    select c.pathway_id, s.cable_id, s.id, l.life from leg l join stop s on s.id = l.from_stop_id
      join conduit c on c.id = l.conduit_id
  ) x join cable k on k.id = x.cable
  where x.life in ('in_place', 'out_of_use') and k.life in ('in_place', 'out_of_use') group by way`;

export interface Drawn extends Pick<PlanAnswer, "middle" | "extent_m" | "places" | "ways"> {
  readonly placeOf: ReadonlyMap<number, PlanPlace>;
  readonly wayOf: ReadonlyMap<number, PlanWay>;
}

export async function readDrawn(reader: Reader): Promise<Drawn> {
  const buildings = await reader.rows<BuildingRow>(BUILDINGS);
  const spaces = await reader.rows<SpaceRow>(SPACES);
  const ways = await reader.rows<WayRow>(WAYS);
  const outlines = new Map(buildings.map(({ id, outline }) => [id, pointsOf(outline)]));
  const lines = new Map(ways.map(({ id, geometry }) => [id, pointsOf(geometry)]));
  const middle = middleOf([
    ...[...buildings, ...spaces].flatMap(positionOf),
    ...[...outlines.values(), ...lines.values()].flat(),
  ]);
  const flat = flatAround(middle ?? [0, 0]);
  const refs = {
    building: await refsOf(reader, "building", idsOf(buildings)),
    space: await refsOf(reader, "space", idsOf(spaces)),
    pathway: await refsOf(reader, "pathway", idsOf(ways)),
  };
  const refOf = (kind: keyof typeof refs, id: number) =>
    refs[kind].get(id) ?? { kind, id, tag: `${KINDS[kind].one} ${id}` };
  const homes = new Map<number, Spot | null>();
  const drawnBuildings = buildings.map((row): PlanPlace => {
    const outline = closed((outlines.get(row.id) ?? []).map(flat.spot));
    const [own] = positionOf(row).map(flat.spot);
    const at = own ?? (outline ? centre(outline) : null);
    homes.set(row.id, at);
    return {
      ...{ ref: refOf("building", row.id), name: row.name, kind: null, building: null, at, outline },
      ...{ from: own ? "own" : outline ? "outline" : null, accuracy_m: null, planned: row.life === "planned" },
    };
  });
  const placeOf = new Map<number, PlanPlace>();
  const drawnSpaces = spaces.map((row): PlanPlace => {
    const [own] = positionOf(row).map(flat.spot);
    const home = row.building_id === null ? null : (homes.get(row.building_id) ?? null);
    const place: PlanPlace = {
      ...{ ref: refOf("space", row.id), name: row.name, kind: row.kind, building: row.building_id, outline: null },
      ...{ at: own ?? home, from: own ? "own" : home ? "building" : null },
      ...{ accuracy_m: row.accuracy_m, planned: row.life === "planned" },
    };
    placeOf.set(row.id, place);
    return place;
  });
  const cables = new Map(
    (await reader.rows<{ way: number; cables: number }>(CABLES)).map((one) => [one.way, one.cables]),
  );
  const wayOf = new Map<number, PlanWay>();
  const drawnWays = ways.map((row): PlanWay => {
    const ends = [row.from_space_id, row.to_space_id] as const;
    const way: PlanWay = {
      ...{ ref: refOf("pathway", row.id), kind: row.kind, ends, length_m: row.length_m, accuracy_m: row.accuracy_m },
      ...lineOf(lines.get(row.id) ?? [], ends, placeOf, flat),
      ...{ cables: cables.get(row.id) ?? 0, planned: row.life === "planned" },
    };
    wayOf.set(row.id, way);
    return way;
  });
  const places = [...drawnBuildings, ...drawnSpaces];
  return { middle, extent_m: extentOf(places, drawnWays), places, ways: drawnWays, placeOf, wayOf };
}

const idsOf = (rows: readonly { readonly id: number }[]): number[] => rows.map(({ id }) => id);

const pointsOf = (stored: string | null): readonly LonLat[] =>
  stored === null ? [] : (JSON.parse(stored) as LonLat[]);

const positionOf = ({ longitude, latitude }: Located): LonLat[] =>
  longitude === null || latitude === null ? [] : [[longitude, latitude]];

/** Between the outermost positions; of a campus across the antimeridian, seen from its first position. */
function middleOf(positions: readonly LonLat[]): LonLat | null {
  const [first] = positions;
  if (!first) return null;
  const flat = flatAround([first[0], 0]);
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const position of positions) {
    const [x] = flat.spot(position);
    [west, south, east, north] = [
      Math.min(west, x),
      Math.min(south, position[1]),
      Math.max(east, x),
      Math.max(north, position[1]),
    ];
  }
  return [flat.position([(west + east) / 2, 0])[0], (south + north) / 2];
}

function closed(ring: readonly Spot[]): readonly Spot[] | null {
  const [first, last] = [ring[0], ring.at(-1)];
  if (!first || !last || ring.length < 3) return null;
  return first[0] === last[0] && first[1] === last[1] ? ring : [...ring, first];
}

/** The middle of an outline's area; of one without area, of its corners. */
function centre(ring: readonly Spot[]): Spot {
  let [twice, x, y] = [0, 0, 0];
  for (const [i, [bx, by]] of ring.entries()) {
    if (i === 0) continue;
    const [ax, ay] = ring[i - 1] as Spot;
    const cross = ax * by - bx * ay;
    twice += cross;
    x += (ax + bx) * cross;
    y += (ay + by) * cross;
  }
  if (twice !== 0) return [x / (3 * twice), y / (3 * twice)];
  const corners = ring.slice(1);
  return [mean(corners.map(([cx]) => cx)), mean(corners.map(([, cy]) => cy))];
}
const mean = (numbers: readonly number[]): number => numbers.reduce((sum, one) => sum + one, 0) / numbers.length;

/** Its own line, or straight between the places at its ends. */
function lineOf(
  own: readonly LonLat[],
  [from, to]: PlanWay["ends"],
  placeOf: ReadonlyMap<number, PlanPlace>,
  flat: Flat,
): Pick<PlanWay, "points" | "shape"> {
  if (own.length >= 2) return { points: own.map(flat.spot), shape: "own" };
  const [a, b] = [from, to].map((id) => (id === null ? null : (placeOf.get(id)?.at ?? null)));
  return a && b ? { points: [a, b], shape: "straight" } : { points: null, shape: null };
}

function extentOf(places: readonly PlanPlace[], ways: readonly PlanWay[]): PlanAnswer["extent_m"] {
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  const take = ([x, y]: Spot): void => {
    if (x < west) west = x;
    if (x > east) east = x;
    if (y < south) south = y;
    if (y > north) north = y;
  };
  for (const { at, outline } of places) {
    if (at) take(at);
    for (const spot of outline ?? []) take(spot);
  }
  for (const { points } of ways) for (const spot of points ?? []) take(spot);
  return west === Infinity ? null : [west, south, east, north];
}
