/**
 * A cable's line to scale, as plain geometry: where along the width each stop, coil, leg, splice and break lies. A writer to
 * paper and a window draw from the same result. Metres are metres of cable; a coil takes the room of its own metres.
 */

export interface LineStop {
  /** The place's tag: "MH-03". */
  readonly name: string;
  /** The mark printed on the sheath there, as written on it; null when nobody read it. */
  readonly mark: string | null;
  /** Coil stored there in metres of cable; null when unknown, 0 when there is known to be none. */
  readonly coil_m: number | null;
  /** A splice case stands here. */
  readonly spliced: boolean;
}

export interface LineLeg {
  /** Metres of cable between the coils of its two stops; null when unknown. */
  readonly metres: number | null;
  /** The way it lies in: "DB-04/2", or what else names it; null when not on record, empty where nothing is to stand there. */
  readonly pathway: string | null;
}

export interface LineBreak {
  /** Which leg, from 0. */
  readonly leg: number;
  /** Metres of cable from the leg's first stop to the middle of the break; null when only the leg is known. */
  readonly at_m: number | null;
  /** Metres of cable destroyed or to be taken out; null when unknown, 0 where none is to be told. */
  readonly destroyed_m: number | null;
  readonly words: string;
}

/** A place on a line: a stop, or metres of cable from the first stop of a leg. */
export type LinePlace = { readonly stop: number } | { readonly leg: number; readonly at_m: number };

/** Where something is new: a case in a hole still to be dug, or cable between two places. */
export interface LineNew {
  readonly from: LinePlace;
  /** Left out for a single spot, at which it is spliced. */
  readonly to?: LinePlace;
  readonly words: string;
}

export interface LineDrawing {
  /** The cable's tag. */
  readonly cable: string;
  /** One more stop than legs. */
  readonly stops: readonly LineStop[];
  readonly legs: readonly LineLeg[];
  readonly breaks: readonly LineBreak[];
  /** What is to be there once the work is done; left out where nothing is. */
  readonly fresh?: readonly LineNew[];
}

/** From `from` to `to`, both shares of the whole width between 0 and 1. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

export interface LaidLine {
  /** False where a leg or coil of unknown length, or one too short to be seen, was given room that is not to scale. */
  readonly to_scale: boolean;
  /** By stop, in order. A stop without a coil has no width. */
  readonly stops: readonly (Span & { readonly stop: LineStop })[];
  readonly legs: readonly (Span & { readonly leg: LineLeg; readonly exact: boolean })[];
  /** A break whose spot is unknown spans its whole leg and is not exact. */
  readonly breaks: readonly (Span & { readonly break: LineBreak; readonly exact: boolean })[];
  readonly fresh: readonly (Span & { readonly fresh: LineNew })[];
}

/** A leg gets at least this share of an equal division, so that its words have room; then it is not to scale. */
const LEAST_SHARE = 0.35;

/**
 * Lays a line out over a width of 1.
 * @throws RangeError when there isn't one more stop than legs, or a break names a leg that isn't there
 */
export function layLine({ stops, legs, breaks, fresh = [] }: LineDrawing): LaidLine {
  if (stops.length !== legs.length + 1 || legs.length === 0) {
    throw new RangeError(`A line of ${stops.length} stops can't have ${legs.length} legs.`);
  }
  const known = legs.flatMap(({ metres }) => (metres !== null && metres > 0 ? [metres] : []));
  const coils = stops.reduce((sum, { coil_m }) => sum + (coil_m ?? 0), 0);
  const total = known.reduce((sum, metres) => sum + metres, 0) + coils;
  const mean = known.length > 0 ? total / legs.length : 1;
  const least = mean * LEAST_SHARE;
  const wide = legs.map(({ metres }) => (metres === null ? mean : Math.max(metres, least)));
  const exact = legs.map(({ metres }) => metres !== null && metres >= least);
  const whole = wide.reduce((sum, width) => sum + width, 0) + coils;

  let at = 0;
  const take = (width: number): Span => {
    const from = at / whole;
    at += width;
    return { from, to: at / whole };
  };
  const laidStops: (Span & { readonly stop: LineStop })[] = [];
  const laidLegs: (Span & { readonly leg: LineLeg; readonly exact: boolean })[] = [];
  stops.forEach((stop, index) => {
    laidStops.push({ ...take(stop.coil_m ?? 0), stop });
    const leg = legs[index];
    if (leg) laidLegs.push({ ...take(wide[index] ?? 0), leg, exact: exact[index] ?? false });
  });
  return {
    to_scale: exact.every(Boolean) && stops.every(({ coil_m }) => coil_m !== null),
    stops: laidStops,
    legs: laidLegs,
    breaks: breaks.map((one) => layBreak(one, laidLegs[one.leg])),
    fresh: fresh.map((one) => {
      const from = spotOf(one.from, laidStops, laidLegs);
      const to = one.to ? spotOf(one.to, laidStops, laidLegs) : from;
      return { from: Math.min(from, to), to: Math.max(from, to), fresh: one };
    }),
  };
}

function spotOf(
  place: LinePlace,
  stops: LaidLine["stops"],
  legs: readonly (Span & { readonly leg: LineLeg })[],
): number {
  const on = "stop" in place ? stops[place.stop] : legs[place.leg];
  if (!on) throw new RangeError(`A place of the line isn't there: ${JSON.stringify(place)}.`);
  if ("stop" in place) return (on.from + on.to) / 2;
  const metres = "leg" in on ? on.leg.metres : null;
  if (metres === null || metres <= 0) return (on.from + on.to) / 2;
  return on.from + (Math.min(Math.max(place.at_m, 0), metres) / metres) * (on.to - on.from);
}

function layBreak(
  one: LineBreak,
  on: (Span & { readonly leg: LineLeg }) | undefined,
): Span & { readonly break: LineBreak; readonly exact: boolean } {
  if (!on) throw new RangeError(`A break lies on leg ${one.leg}, which isn't there.`);
  const { metres } = on.leg;
  if (one.at_m === null || metres === null || metres <= 0)
    return { from: on.from, to: on.to, break: one, exact: false };
  const share = (m: number): number => on.from + (Math.min(Math.max(m, 0), metres) / metres) * (on.to - on.from);
  const half = (one.destroyed_m ?? 0) / 2;
  return { from: share(one.at_m - half), to: share(one.at_m + half), break: one, exact: true };
}

/**
 * In which row each label stands so that no two of a row meet: the first row that is free there. `at` is a label's middle;
 * it is moved inwards where it would reach over an edge. All in one unit.
 */
export function packLabels(
  labels: readonly { readonly at: number; readonly width: number }[],
  whole: number,
  gap: number,
): { readonly from: number; readonly row: number }[] {
  const taken: { from: number; to: number }[][] = [];
  return labels.map(({ at, width }) => {
    const from = Math.max(0, Math.min(at - width / 2, whole - width));
    const to = from + width;
    let row = 0;
    while (taken[row]?.some((other) => from < other.to + gap && other.from < to + gap)) row++;
    const own = taken[row] ?? [];
    taken[row] = own;
    own.push({ from, to });
    return { from, row };
  });
}
