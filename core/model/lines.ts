/** Lines on the map: metres between spots, the spot at a share of a line, and a line divided there. Pure. */

export type LonLat = readonly [longitude: number, latitude: number];

/** Mean radius of the earth in metres (IUGG). */
export const EARTH_M = 6_371_008.8;
const radians = (degrees: number): number => (degrees * Math.PI) / 180;

/** Metres between two spots, on a sphere: good to half a percent, and lines on a campus are short. */
export function apart(one: LonLat, other: LonLat): number {
  const [dx, dy] = [radians(other[0] - one[0]), radians(other[1] - one[1])];
  const half = Math.sin(dy / 2) ** 2 + Math.cos(radians(one[1])) * Math.cos(radians(other[1])) * Math.sin(dx / 2) ** 2;
  return 2 * EARTH_M * Math.asin(Math.min(1, Math.sqrt(half)));
}

/** Both parts of a line divided at a share of its length, from 0 to 1, each with the spot; null for one without length. */
export function dividedAt(line: readonly LonLat[], share: number): readonly [LonLat[], LonLat[]] | null {
  const steps = line.slice(1).map((point, at) => apart(line[at] as LonLat, point));
  const whole = steps.reduce((sum, step) => sum + step, 0);
  if (!(whole > 0)) return null;
  let left = Math.min(1, Math.max(0, share)) * whole;
  for (const [at, step] of steps.entries()) {
    const [from, to] = [line[at] as LonLat, line[at + 1] as LonLat];
    if (left <= step && step > 0) {
      const part = left / step;
      const spot: LonLat = [from[0] + (to[0] - from[0]) * part, from[1] + (to[1] - from[1]) * part];
      return [
        [...line.slice(0, at + 1), spot],
        [spot, ...line.slice(at + 1)],
      ];
    }
    left -= step;
  }
  const end = line.at(-1) as LonLat;
  return [[...line], [end, end]];
}

/** The spot at a share of a line's length, from 0 to 1; null for a line without length. */
export const spotOn = (line: readonly LonLat[], share: number): LonLat | null =>
  dividedAt(line, share)?.[0].at(-1) ?? null;
