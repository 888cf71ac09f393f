/** A cable with a gap, such as a leg that was taken out between two cuts: each part is studied by itself. */
import type { CableFacts } from "../../trace/cables.ts";
import type { CourseStop } from "../course.ts";
import type { CourseOnRecord } from "../read-course.ts";

export interface Parted {
  readonly cable: CableFacts;
  /** It ends at a cut or an opening on that side, and not where the cable does. */
  readonly at_gap: readonly [boolean, boolean];
}

const PARTED: ReadonlySet<string> = new Set(["severed", "opened"]);

/** The parts in order; a cable without a gap is its own one. A part of one stop has no way and is left out. */
export function partsOf(cable: CableFacts): Parted[] {
  const { stops, sheath } = cable;
  const along = sheath.stopsBetween(stops[0]?.id ?? null, stops.at(-1)?.id ?? null);
  const gaps = along.flatMap((stop, index) => {
    const next = along[index + 1];
    if (!next || !PARTED.has(stop.kind) || !PARTED.has(next.kind)) return [];
    const lies = sheath.legsBetween(stop.id, next.id).length > 0;
    // Between two openings without a leg on record the sheath may run on, where marks say how long it is.
    const cut = stop.kind === "severed" && next.kind === "severed";
    return !lies && (cut || sheath.between(stop, next).length_m === null) ? [index + 1] : [];
  });
  if (gaps.length === 0) return [{ cable, at_gap: [false, false] }];
  const edges = [0, ...gaps, stops.length];
  return edges.slice(1).flatMap((to, index): Parted[] => {
    const from = edges[index] as number;
    const own = stops.slice(from, to);
    if (own.length < 2) return [];
    const part = { ...cable, stops: own, sheath: sheath.part(new Set(own.map(({ id }) => id))) };
    return [{ cable: part, at_gap: [from > 0, to < stops.length] }];
  });
}

/** What ends at a gap is no end of the cable: nothing more is to be coiled there before it is mended. */
export function endedAtGaps<T extends CourseOnRecord>(on: T, { cable, at_gap }: Parted): T {
  if (!at_gap.includes(true)) return on;
  const last = on.course.stops.length - 1;
  const kindOf = (at: number): CourseStop["kind"] | undefined => {
    const stop = cable.stops[at];
    const gap = (at === 0 && at_gap[0]) || (at === last && at_gap[1]);
    return gap && (stop?.kind === "severed" || stop?.kind === "opened") ? stop.kind : undefined;
  };
  const stops = on.course.stops.map((stop, at) => ({ ...stop, kind: kindOf(at) ?? stop.kind }));
  return { ...on, course: { ...on.course, stops } };
}
