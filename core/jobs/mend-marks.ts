/** Where a cut goes on record, and the marks that follow from it: at its edges, and at every mouth past which sheath slides. */
import { markAlong } from "../model/marks.ts";
import { metresAs } from "../model/units.ts";
import { type SlidStop, slidStops } from "../repair/slid.ts";
import { say } from "../words/say.ts";
import type { MendFacts } from "./mend-facts.ts";

export interface Marks {
  /** Edges of the cut as marks worked out, from the mark that was read where one was read in a place. */
  severed(): Readonly<Record<string, unknown>>;
  readonly slid: readonly SlidStop[];
  /** A position along the sheath as the mark printed there. */
  printed(along_m: number | null): number | null;
  /** The mark printed so many metres of sheath beyond a metre of way. */
  at(way_m: number, more_m: number): number | null;
}

export interface MarksAsked extends Pick<MendFacts, "before" | "plan" | "printed" | "breaks"> {
  readonly reckoned: Pick<MendFacts["reckoned"], "on" | "cut" | "inside" | "somewhere">;
}

export function marksOf({
  reckoned: { on, cut, inside, somewhere },
  before,
  plan,
  printed,
  breaks,
}: MarksAsked): Marks {
  const at = on.stops.map((stop) => ({ in_m: stop.in?.along_m ?? null, out_m: stop.out?.along_m ?? null }));
  const { unit } = on;
  const print = (along_m: number | null): number | null =>
    along_m === null || unit === null
      ? null
      : Math.round(markAlong(metresAs(along_m, unit), printed, breaks) * 10) / 10;
  const along = (way_m: number): number | null => {
    const index = on.course.stops.findLastIndex((stop) => stop.left_m + stop.through_m <= way_m);
    const stop = on.course.stops[index];
    const out_m = at[index]?.out_m;
    return stop && out_m != null ? out_m + (way_m - stop.left_m - stop.through_m) : null;
  };
  return {
    severed: () => {
      // What is given up is no place of the break: nobody knows that one.
      if (somewhere !== null) return {};
      const { lost_left_m, lost_right_m } = cut;
      const found_m = inside?.found_m ?? null;
      const leg = { in_m: at[before]?.out_m ?? null, out_m: at[before + 1]?.in_m ?? null };
      // What was found is what is recorded: in a coil the way doesn't say where along the sheath it is cut.
      const [from_m, to_m] =
        found_m === null
          ? within(leg, along(cut.at_m - lost_left_m), along(cut.at_m + lost_right_m))
          : within(at[inside?.stop ?? -1], found_m - lost_left_m, found_m + lost_right_m);
      const [from, to] = inside && found_m === null ? [null, null] : [print(from_m), print(to_m)];
      return from === null || to === null ? {} : { mark_open_from: from, mark_open_to: to, marks_basis: "computed" };
    },
    slid: slidStops(on.course, at, cut, plan),
    printed: print,
    at: (way_m, more_m) => {
      const from_m = along(way_m);
      return from_m === null ? null : print(from_m + more_m);
    },
  };
}

/** Edges no farther out than the mouths of the place, or of the leg, the cut lies in: what is destroyed beyond is told by the ends that are brought back. */
const within = (
  mouths: { readonly in_m: number | null; readonly out_m: number | null } | undefined,
  from_m: number | null,
  to_m: number | null,
): [number | null, number | null] => [
  from_m === null ? null : Math.max(mouths?.in_m ?? from_m, from_m),
  to_m === null ? null : Math.min(mouths?.out_m ?? to_m, to_m),
];

/** Where the cut goes on record: at the place's own stop, or as a further one between two. */
export const cutStop = ({
  inside,
  before,
  orders,
}: MendFacts): { stop?: number | undefined; after?: number | undefined } =>
  inside === null ? { after: orders[before] } : { stop: orders[inside] };

export function cutWhere({ inside, before, reckoned: { on, inside: found } }: MendFacts): string {
  if (inside === null)
    return say`between ${on.stops[before]?.name ?? say`the first stop`} and ${on.stops[before + 1]?.name ?? say`the last stop`}`;
  const mark = found?.mark == null ? "" : say` at mark ${found.mark}`;
  return say`inside ${on.stops[inside]?.name ?? say`a place not known`}${mark}`;
}
