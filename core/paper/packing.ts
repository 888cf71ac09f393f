/** Round things inside a round thing: rings of tubes, strands in a tube. Lengths in whatever unit the outer radius has. */

export interface Disc {
  readonly x: number;
  readonly y: number;
  readonly r: number;
}

/** `count` equal discs side by side along the wall of a circle; the first on top, then clockwise. */
export function ringOf(count: number, radius: number): readonly Disc[] {
  if (count === 1) return [{ x: 0, y: 0, r: radius * 0.72 }];
  const sine = Math.sin(Math.PI / count);
  const r = (radius * sine) / (1 + sine);
  const at = radius - r;
  return Array.from({ length: count }, (_, index) => {
    const angle = (2 * Math.PI * index) / count - Math.PI / 2;
    return { x: at * Math.cos(angle), y: at * Math.sin(angle), r: r * 0.97 };
  });
}

/** More than this make discs too small to tell: they lie in two rings, the first numbers outside. */
const MOST_IN_RING = 14;

export function ringsOf(count: number, radius: number): readonly Disc[] {
  if (count <= MOST_IN_RING) return ringOf(count, radius);
  const outer = Math.ceil(count * 0.64);
  const ring = ringOf(outer, radius);
  const left = radius - 2 * (ring[0]?.r ?? 0) * 1.03;
  const within = ringOf(count - outer, left);
  const r = Math.min(ring[0]?.r ?? 0, within[0]?.r ?? 0);
  return [...ring, ...within.map((disc) => ({ ...disc, r }))];
}

const GOLDEN = Math.PI * (3 - Math.sqrt(5));

/** `count` small discs spread evenly over a circle, from the middle out. */
export function spreadOver(count: number, radius: number): readonly Disc[] {
  if (count === 1) return [{ x: 0, y: 0, r: radius * 0.5 }];
  const r = Math.min(radius * 0.36, (radius * 0.64) / Math.sqrt(count));
  const reach = radius - r * 1.1;
  return Array.from({ length: count }, (_, index) => {
    const at = reach * Math.sqrt((index + 0.5) / count);
    return { x: at * Math.cos(index * GOLDEN - Math.PI / 2), y: at * Math.sin(index * GOLDEN - Math.PI / 2), r };
  });
}
