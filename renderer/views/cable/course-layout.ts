/** Where stops and legs stand along the drawing: sheath to one scale, stretches of unknown length dotted and of one breadth. */
import type { CableAnswer } from "../../../core/trace/cable-answer.ts";

export interface PlacedStop {
  readonly index: number;
  readonly x: number;
  /** Breadth of what lies in the place, to scale. */
  readonly width: number;
}
export interface PlacedLeg {
  readonly index: number;
  readonly x1: number;
  readonly x2: number;
  readonly unscaled: boolean;
}
export interface CourseLayout {
  readonly stops: readonly PlacedStop[];
  readonly legs: readonly PlacedLeg[];
  readonly perMetre: number | null;
  readonly unscaled: boolean;
  readonly end: number;
}

const UNKNOWN_PX = 110;

export function courseLayout({ stops, legs }: CableAnswer, width: number): CourseLayout {
  const inside = stops.map(({ inside_m, coil_m }) => inside_m ?? coil_m ?? 0);
  const known =
    inside.reduce((sum, one) => sum + one, 0) + legs.reduce((sum, { length_m }) => sum + (length_m ?? 0), 0);
  const unknown = legs.filter(({ length_m }) => length_m === null).length;
  const perMetre = known > 0 ? Math.max(40, width - unknown * UNKNOWN_PX) / known : null;
  const unknownPx = perMetre === null ? width / Math.max(1, unknown) : UNKNOWN_PX;
  let x = 0;
  const placedStops: PlacedStop[] = [];
  const placedLegs: PlacedLeg[] = [];
  for (const index of stops.keys()) {
    const breadth = (inside[index] ?? 0) * (perMetre ?? 0);
    placedStops.push({ index, x: x + breadth / 2, width: breadth });
    x += breadth;
    const leg = legs[index];
    if (!leg) continue;
    const long = leg.length_m === null ? unknownPx : leg.length_m * (perMetre ?? 0);
    placedLegs.push({ index, x1: x, x2: x + long, unscaled: leg.length_m === null });
    x += long;
  }
  return { stops: placedStops, legs: placedLegs, perMetre, unscaled: unknown > 0, end: x };
}
