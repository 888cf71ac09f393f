/** The arithmetic of pipes and pulling. Nothing here knows a record; lengths and diameters may be in any one unit. */
import { say } from "../words/say.ts";

/** A value that no pipe, cable or pull can have. */
export class Senseless extends Error {}

const positive = (value: number, what: string): number => {
  if (!(value > 0) || !Number.isFinite(value)) throw new Senseless(say`${what} is ${value}: must be above 0`);
  return value;
};
const notNegative = (value: number, what: string): number => {
  if (!(value >= 0) || !Number.isFinite(value)) throw new Senseless(say`${what} is ${value}: can't be below 0`);
  return value;
};

/** Area of a circle. */
export const areaOf = (diameter: number): number => (Math.PI / 4) * diameter * diameter;

/**
 * Part of a pipe's bore that cables fill, 0 to 1, and above where they can't be in it.
 * @throws Senseless for a bore or a diameter that isn't above 0
 */
export function fillOf(bore: number, diameters: readonly number[]): number {
  const all = areaOf(positive(bore, say`the bore`));
  return diameters.reduce((sum, diameter) => sum + areaOf(positive(diameter, say`a diameter`)), 0) / all;
}

/**
 * Bore over cable diameter, for three cables alike; null for any other number and for cables that are not alike, of which
 * the rule says nothing.
 * @param alike by what part the greatest diameter may exceed the least
 */
export function jamRatio(bore: number, diameters: readonly number[], alike: number): number | null {
  positive(bore, say`the bore`);
  for (const diameter of diameters) positive(diameter, say`a diameter`);
  if (diameters.length !== 3) return null;
  const [least, greatest] = [Math.min(...diameters), Math.max(...diameters)];
  if (greatest > least * (1 + alike)) return null;
  return bore / (diameters.reduce((sum, diameter) => sum + diameter, 0) / 3);
}

/** A level straight, a bend in radians, or an upright stretch in which the cable hangs. */
export type RoutePart = { readonly length: number } | { readonly bend: number } | { readonly upright: number };

/**
 * Tension at the end of a pull: a straight adds friction × weight × length, a bend multiplies by e^(friction × angle).
 * The order of parts counts, and so does the direction. Upright the cable bears its own hanging weight at least, pulled up
 * or let down; what more it takes depends on which end is above, of which nothing is known here.
 * @param weight force for each unit of length
 * @param start tension with which the cable comes off the reel
 * @throws Senseless for a negative or endless value
 */
export function tensionAfter(parts: readonly RoutePart[], weight: number, friction: number, start = 0): number {
  notNegative(weight, say`the weight`);
  notNegative(friction, say`the friction`);
  let tension = notNegative(start, say`the tension at the start`);
  /** Weight of the upright stretches that follow one another with nothing but bends between them. */
  let hanging = 0;
  for (const part of parts) {
    if ("upright" in part) {
      hanging += weight * notNegative(part.upright, say`a length`);
      tension = Math.max(tension, hanging);
    } else if ("length" in part) {
      hanging = 0;
      tension += friction * weight * notNegative(part.length, say`a length`);
    } else tension *= Math.exp(friction * notNegative(part.bend, say`a bend`));
  }
  return tension;
}

/** Degrees of all bends together. */
export const bendsOf = (parts: readonly RoutePart[]): number =>
  (parts.reduce((sum, part) => sum + ("bend" in part ? part.bend : 0), 0) * 180) / Math.PI;

/**
 * A line on the map as straights and bends; its straights are stretched to the length that is on record.
 * @param line longitude and latitude pairs, at least two unlike ones
 */
export function routeParts(line: readonly (readonly [number, number])[], length: number): RoutePart[] {
  const cosine = Math.cos((((line[0]?.[1] ?? 0) as number) * Math.PI) / 180);
  const steps = line.slice(1).flatMap(([x, y], i) => {
    const [px, py] = line[i] as readonly [number, number];
    const [dx, dy] = [(x - px) * cosine, y - py];
    return dx === 0 && dy === 0 ? [] : [{ size: Math.hypot(dx, dy), heading: Math.atan2(dy, dx) }];
  });
  const whole = steps.reduce((sum, { size }) => sum + size, 0);
  if (whole === 0) return [{ length }];
  return steps.flatMap(({ size, heading }, i): RoutePart[] => {
    const before = steps[i - 1];
    const straight = { length: (size / whole) * length };
    if (!before) return [straight];
    const turn = Math.abs(heading - before.heading);
    const bend = turn > Math.PI ? 2 * Math.PI - turn : turn;
    return bend < 1e-9 ? [straight] : [{ bend }, straight];
  });
}

/** Newtons for each metre of a cable of some diameter in mm and mass over volume in kg/m³. */
export const weightOf = (diameter_mm: number, density_kg_m3: number): number =>
  areaOf(positive(diameter_mm, say`the outer diameter`) / 1000) * positive(density_kg_m3, say`the density`) * 9.80665;
