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

/** Whether turns are drawn: a coil on record, or sheath that marks tell of and that may be one; never an assumed way through. */
export const isCoiled = ({ coil_m, inside_m, marks }: CableAnswer["stops"][number]): boolean =>
  coil_m === null ? inside_m !== null && inside_m > 0 && marks.length > 1 : coil_m > 0;

const UNKNOWN_PX = 110;

/** Without the length of any leg there is no scale: what lies in the places isn't drawn as if it were the whole way. */
export function courseLayout({ stops, legs }: Pick<CableAnswer, "stops" | "legs">, width: number): CourseLayout {
  const inside = stops.map(({ inside_m, coil_m }) => inside_m ?? coil_m ?? 0);
  const known =
    inside.reduce((sum, one) => sum + one, 0) + legs.reduce((sum, { length_m }) => sum + (length_m ?? 0), 0);
  const unknown = legs.filter(({ length_m }) => length_m === null).length;
  const scaled = known > 0 && (legs.length === 0 || unknown < legs.length);
  const perMetre = scaled ? Math.max(40, width - unknown * UNKNOWN_PX) / known : null;
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
