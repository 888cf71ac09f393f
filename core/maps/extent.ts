/** Where the campus lies by what is on record, and whether a feature lies elsewhere because its numbers are swapped. Pure. */
import { apart, type LonLat } from "../model/lines.ts";

/** From west, south to east, north, in degrees. */
export type Extent = readonly [west: number, south: number, east: number, north: number];

/** Null without a position. A campus that lies across the antimeridian has one that is too wide: it warns less. */
export function extentOf(positions: Iterable<LonLat>): Extent | null {
  let found: [number, number, number, number] | null = null;
  for (const [x, y] of positions) {
    if (!found) found = [x, y, x, y];
    else found = [Math.min(found[0], x), Math.min(found[1], y), Math.max(found[2], x), Math.max(found[3], y)];
  }
  return found;
}

/** Metres from an extent to a spot outside it; 0 inside. */
export function outsideBy([west, south, east, north]: Extent, [x, y]: LonLat): number {
  const nearest: LonLat = [Math.min(Math.max(x, west), east), Math.min(Math.max(y, south), north)];
  return apart(nearest, [x, y]);
}

/** A campus may grow; what lies further off than this, or than three times its own size, is worth a look. A guess of ours. */
const FAR_M = 10_000;

export type Astray = "far" | "swapped";

/** Whether positions lie far outside the campus, and whether they would lie within reach of it the other way round. */
export function astray(campus: Extent, positions: readonly LonLat[]): Astray | null {
  const [west, south, east, north] = campus;
  const far = Math.max(FAR_M, 3 * apart([west, south], [east, north]));
  const most = (turned: boolean) =>
    Math.max(
      ...positions.map(([x, y]) =>
        turned && Math.abs(x) > 90 ? Infinity : outsideBy(campus, turned ? [y, x] : [x, y]),
      ),
    );
  if (positions.length === 0 || most(false) <= far) return null;
  return most(true) <= far ? "swapped" : "far";
}
