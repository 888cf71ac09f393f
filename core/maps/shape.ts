/** Geometry objects of RFC 7946 as what a place or way has on record: a spot, an outline, a line. */
import { quoted } from "../model/clean-text.ts";
import type { LonLat } from "../model/lines.ts";
import { say } from "../words/say.ts";
import { isObject } from "./feature.ts";

/** The kinds that a map can hold. */
export const MAPPED = ["building", "space", "pathway"] as const;
export type Mapped = (typeof MAPPED)[number];

export interface Shape {
  readonly spot: LonLat | null;
  readonly outline: readonly LonLat[] | null;
  readonly line: readonly LonLat[] | null;
}

/** Why a geometry can't be taken, in words that follow the feature's name. */
export class Unfit extends Error {}

export interface ReadShape extends Shape {
  /** What was left out, as words that follow the feature's name. */
  readonly notices: readonly string[];
  /** Every position, for what is asked of all of them. */
  readonly positions: readonly LonLat[];
}

const NOTHING: ReadShape = { spot: null, outline: null, line: null, notices: [], positions: [] };

/** @param swapped reads latitude first @throws Unfit */
export function readShape(geometry: unknown, swapped: boolean): ReadShape {
  if (geometry === null || geometry === undefined) return NOTHING;
  if (!isObject(geometry) || typeof geometry.type !== "string") throw new Unfit(say`has a geometry without a type`);
  const notices = new Set<string>();
  const positions: LonLat[] = [];
  const at = (value: unknown): LonLat => {
    const read = position(value, swapped, notices);
    positions.push(read);
    return read;
  };
  const shape = shapeOf(geometry, at, notices);
  return { ...shape, notices: [...notices], positions };
}

function shapeOf(
  geometry: Readonly<Record<string, unknown>>,
  at: (value: unknown) => LonLat,
  notices: Set<string>,
): Shape {
  const { type, coordinates } = geometry;
  switch (type) {
    case "Point":
      return { ...NONE, spot: at(coordinates) };
    case "LineString":
      return { ...NONE, line: line(coordinates, at) };
    case "Polygon":
      return { ...NONE, outline: outline(coordinates, at, notices) };
    case "MultiPoint":
    case "MultiLineString":
    case "MultiPolygon": {
      const parts = list(coordinates);
      if (parts.length !== 1) throw new Unfit(say`has ${parts.length} parts (${type}); one is recorded`);
      return shapeOf({ type: type.slice(5), coordinates: parts[0] }, at, notices);
    }
    case "GeometryCollection": {
      const shape = { ...NONE };
      for (const one of list(geometry.geometries)) {
        if (!isObject(one)) throw new Unfit(say`has a geometry without a type`);
        const part = shapeOf(one, at, notices);
        for (const name of ["spot", "outline", "line"] as const) {
          if (part[name] === null) continue;
          if (shape[name] !== null) throw new Unfit(say`has more than one ${name}; one is recorded`);
          Object.assign(shape, { [name]: part[name] });
        }
      }
      return shape;
    }
    default:
      throw new Unfit(say`has the geometry ${quoted(type)}, which RFC 7946 doesn't have`);
  }
}

const NONE: Shape = { spot: null, outline: null, line: null };

function list(value: unknown): readonly unknown[] {
  if (!Array.isArray(value)) throw new Unfit(say`has coordinates that are not a list`);
  return value;
}

function line(value: unknown, at: (value: unknown) => LonLat): LonLat[] {
  const points = list(value).map(at);
  if (points.length < 2)
    throw new Unfit(say`has a line of ${points.length === 1 ? say`1 position` : say`no positions`}: two at least`);
  return points;
}

function outline(value: unknown, at: (value: unknown) => LonLat, notices: Set<string>): LonLat[] {
  const rings = list(value);
  if (rings.length === 0) throw new Unfit(say`has an outline without a ring`);
  if (rings.length > 1) notices.add(say`has an outline with holes; only its outer ring is recorded`);
  const ring = list(rings[0]).map(at);
  const [first, last] = [ring[0], ring.at(-1)];
  // RFC 7946, section 3.1.6: four positions or more, the first and the last the same.
  if (!first || !last || ring.length < 4)
    throw new Unfit(say`has an outline of ${ring.length} positions: four at least`);
  if (first[0] !== last[0] || first[1] !== last[1])
    throw new Unfit(say`has an outline that isn't closed: its last position is not its first`);
  return ring;
}

function position(value: unknown, swapped: boolean, notices: Set<string>): LonLat {
  if (!Array.isArray(value) || value.length < 2)
    throw new Unfit(say`has a position ${quoted(value)}: longitude and latitude are needed`);
  if (value.length > 2) notices.add(say`has heights or more with its positions; they are left out`);
  const [longitude, latitude] = swapped ? [value[1], value[0]] : [value[0], value[1]];
  const off = (of: unknown, most: number): boolean => typeof of !== "number" || !(Math.abs(of) <= most);
  // In this order, so that what may be swapped is said where the latitude can't be one.
  if (off(longitude, 180)) throw new Unfit(say`has longitude ${quoted(longitude)}: must be from -180 to 180`);
  if (off(latitude, 90)) {
    const may = typeof latitude === "number" && Math.abs(latitude) <= 180 && Math.abs(longitude as number) <= 90;
    throw new Unfit(
      say`has latitude ${quoted(latitude)}: must be from -90 to 90${may ? say`; latitude may stand before longitude in this file` : ""}`,
    );
  }
  return [longitude as number, latitude as number];
}

/** A ring as files should have it: closed, and counter-clockwise (RFC 7946, section 3.1.6). */
export function properRing(ring: readonly LonLat[]): LonLat[] {
  const [first, last] = [ring[0] as LonLat, ring.at(-1) as LonLat];
  const closed = first[0] === last[0] && first[1] === last[1] ? [...ring] : [...ring, first];
  return area(closed) < 0 ? closed.reverse() : closed;
}

/** Twice the area in square degrees; positive when it runs counter-clockwise. */
const area = (ring: readonly LonLat[]): number =>
  ring.slice(1).reduce((sum, [x, y], i) => {
    const [px, py] = ring[i] as LonLat;
    return sum + px * y - x * py;
  }, 0);

/** A billionth of a degree, a tenth of a millimetre: what programs lose by writing decimals is no change. */
const SAME = 1e-9;
export const sameDegrees = (one: number, other: number): boolean => Math.abs(one - other) <= SAME;
export const samePoints = (one: readonly LonLat[], other: readonly LonLat[]): boolean =>
  one.length === other.length &&
  one.every(([x, y], i) => sameDegrees(x, (other[i] as LonLat)[0]) && sameDegrees(y, (other[i] as LonLat)[1]));
