/** Which part of the campus is seen, and how large: metres to pixels and back. Pure. */
import type { Spot } from "../../../core/model/flat.ts";

export interface Camera {
  /** The spot in the middle of the drawing, in metres. */
  readonly east: number;
  readonly north: number;
  /** Pixels a metre takes. */
  readonly scale: number;
}
export interface Size {
  readonly width: number;
  readonly height: number;
}
export type Extent = readonly [west: number, south: number, east: number, north: number];

export const LEAST_SCALE = 0.002;
export const MOST_SCALE = 60;
/** Kept free around what is fitted in. */
const EDGE = 44;
/** A single place is shown with so much around it. */
const AROUND_M = 160;

export function fitted([west, south, east, north]: Extent, { width, height }: Size): Camera {
  const [wide, tall] = [Math.max(east - west, AROUND_M), Math.max(north - south, AROUND_M)];
  const scale = Math.min(Math.max(width - 2 * EDGE, 50) / wide, Math.max(height - 2 * EDGE, 50) / tall);
  return { east: (west + east) / 2, north: (south + north) / 2, scale: clamped(scale) };
}

const clamped = (scale: number): number => Math.min(MOST_SCALE, Math.max(LEAST_SCALE, scale));

export const toScreen = ({ east, north, scale }: Camera, { width, height }: Size, [x, y]: Spot): Spot => [
  width / 2 + (x - east) * scale,
  height / 2 - (y - north) * scale,
];

export const toGround = ({ east, north, scale }: Camera, { width, height }: Size, [x, y]: Spot): Spot => [
  east + (x - width / 2) / scale,
  north - (y - height / 2) / scale,
];

/** Nearer or farther, with the spot under a pixel staying where it is; the middle where none is said. */
export function zoomed(
  camera: Camera,
  size: Size,
  factor: number,
  at: Spot = [size.width / 2, size.height / 2],
): Camera {
  const [east, north] = toGround(camera, size, at);
  const scale = clamped(camera.scale * factor);
  return {
    scale,
    east: east - (at[0] - size.width / 2) / scale,
    north: north + (at[1] - size.height / 2) / scale,
  };
}

export const moved = (camera: Camera, dx: number, dy: number): Camera => ({
  ...camera,
  east: camera.east - dx / camera.scale,
  north: camera.north + dy / camera.scale,
});

/** Moved no further than needed for a spot to be well inside. */
export function showing(camera: Camera, size: Size, spot: Spot): Camera {
  const [x, y] = toScreen(camera, size, spot);
  const inside = (at: number, most: number) => (at < EDGE ? EDGE - at : at > most - EDGE ? most - EDGE - at : 0);
  const [dx, dy] = [inside(x, size.width), inside(y, size.height)];
  return dx === 0 && dy === 0 ? camera : moved(camera, dx, dy);
}

export function extentOf(spots: Iterable<Spot>): Extent | null {
  let found: [number, number, number, number] | null = null;
  for (const [x, y] of spots) {
    if (!found) found = [x, y, x, y];
    else found = [Math.min(found[0], x), Math.min(found[1], y), Math.max(found[2], x), Math.max(found[3], y)];
  }
  return found;
}
