/** Cables for the study of coils: random ones, and what is found of them by trying cut after cut. */
import fc from "fast-check";
import type { Course, CourseStop } from "../../core/repair/course.ts";
import { type MendPlan, type MendPolicy, mendPlans } from "../../core/repair/plans.ts";

export const POLICY: MendPolicy = { waste: 0.1, case_m: 0.5, held_too: true };

export interface Given extends Partial<CourseStop> {
  /** The leg to the next stop. */
  readonly leg_m?: number;
  readonly slides?: "yes" | "no" | "unproven";
  /** Towards the first stop, where that is another matter. */
  readonly slides_back?: "yes" | "no" | "unproven" | undefined;
  /** Coil, the same for both remains. */
  readonly coil_m?: number | null;
}

/** A course from what differs; ends have no way through, holes a crossing of 2 m; a splice takes 10 m of each side. */
export function course(...given: readonly Given[]): Course {
  let at = 0;
  const stops = given.map(({ leg_m = 100, slides: _, slides_back: __, coil_m = 0, ...own }, index): CourseStop => {
    const end = index === 0 || index === given.length - 1;
    const stop = {
      kind: end ? ("end" as const) : ("passing" as const),
      left_m: at,
      through_m: end ? 0 : 2,
      coil_left_m: coil_m,
      coil_right_m: coil_m,
      held: false,
      keep_m: 0,
      work_m: 10,
      usable: true,
      inner_m: null,
      ...own,
    };
    at += stop.through_m + leg_m;
    return stop;
  });
  const legs = given.slice(0, -1).map(({ leg_m = 100, slides = "yes", slides_back }) => ({
    length_m: leg_m,
    slides,
    ...(slides_back ? { slides_back } : {}),
  }));
  return { stops, legs, coil_radius_m: null };
}

const usually = <T>(most: T, ...others: T[]): fc.Arbitrary<T> =>
  fc.oneof(
    { weight: 6, arbitrary: fc.constant(most) },
    ...others.map((one) => ({ weight: 1, arbitrary: fc.constant(one) })),
  );

/** @param known without unproven legs and unknown coils; lengths in whole metres either way */
export const anyCourse = (most: number, known = false): fc.Arbitrary<Course> =>
  fc
    .array(
      fc.record({
        kind: usually<"passing" | "opened" | "severed">("passing", "opened", "severed"),
        leg_m: fc.integer({ min: 5, max: 60 }),
        through_m: fc.integer({ min: 0, max: 9 }),
        slides: known
          ? usually<"yes" | "no" | "unproven">("yes", "no")
          : usually<"yes" | "no" | "unproven">("yes", "no", "unproven"),
        slides_back: usually<"yes" | "no" | undefined>(undefined, "yes", "no"),
        coil_m: fc.oneof(fc.constant(known ? 0 : null), fc.integer({ min: 0, max: 30 })),
        right_m: fc.integer({ min: 0, max: 20 }),
        most_m: usually<number | undefined>(undefined, 12, 25),
        keep_m: fc.integer({ min: 0, max: 6 }),
        work_m: fc.integer({ min: 1, max: 14 }),
        held: usually(false, true),
        usable: usually(true, false),
      }),
      { minLength: 2, maxLength: most },
    )
    .map((given) =>
      course(
        ...given.map(({ kind, through_m, held, right_m, most_m, ...rest }, index): Given => {
          const own = most_m === undefined ? rest : { ...rest, coil_most_m: most_m };
          if (index === 0 || index === given.length - 1) return { ...own, through_m: 0 };
          // Only an opening has a coil of its own on each side.
          const apart = kind === "passing" ? {} : { coil_left_m: own.coil_m, coil_right_m: right_m };
          return { ...own, kind, through_m, held: held && kind === "passing", ...apart };
        }),
      ),
    );

/** How a cut can be mended with one splice: by proven legs, by others, or not; `other` where it can't be a cut. */
export function byTrying(one: Course, at_m: number, lost_m: number): "good" | "to_prove" | "bad" | "other" {
  const found = mendPlans(one, { at_m, lost_left_m: lost_m, lost_right_m: lost_m }, POLICY);
  if (typeof found === "string") return "other";
  const single = found.plans.filter(({ kind }) => kind === "one_point");
  if (single.some(({ to_prove }) => !to_prove)) return "good";
  return single.length > 0 ? "to_prove" : "bad";
}

/**
 * The same by holes dug one after the other so many whole metres from the cut, each by itself; null where none serves. Where
 * lengths are whole metres, a hole that serves is so far from the cut.
 */
export function digging(one: Course, at_m: number, lost_m: number, most_m = 40): "good" | "to_prove" | null {
  const leg = one.stops.findLastIndex(({ left_m }) => left_m < at_m);
  const [from, to] = [one.stops[leg], one.stops[leg + 1]];
  if (!from || !to || at_m <= from.left_m + from.through_m) return null;
  let best: "to_prove" | null = null;
  for (let shift_m = -most_m; shift_m <= most_m; shift_m++) {
    const hole_m = at_m + shift_m;
    if (hole_m <= from.left_m + from.through_m || hole_m >= to.left_m) continue;
    const cut = { at_m, lost_left_m: lost_m, lost_right_m: lost_m };
    const found = mendPlans(one, cut, { ...POLICY, hole_m });
    const dug = typeof found === "string" ? undefined : found.plans.find(inNewHole);
    if (dug && !dug.to_prove) return "good";
    if (dug) best = "to_prove";
  }
  return best;
}

const inNewHole = ({ kind, points }: MendPlan): boolean => kind === "one_point" && points[0]?.at === "cut";

/** The same course with these coils instead of those that nobody knows. */
export const knowing = (one: Course, coil_m: number): Course => ({
  ...one,
  stops: one.stops.map((stop) => ({
    ...stop,
    coil_left_m: stop.coil_left_m ?? coil_m,
    coil_right_m: stop.coil_right_m ?? coil_m,
  })),
});

export const withMore = (one: Course, more: ReadonlyMap<number, number>): Course => ({
  ...one,
  stops: one.stops.map((stop, at) => {
    const more_m = more.get(at) ?? 0;
    return more_m === 0
      ? stop
      : { ...stop, coil_left_m: (stop.coil_left_m ?? 0) + more_m, coil_right_m: (stop.coil_right_m ?? 0) + more_m };
  }),
});

/** Cuts every so many metres along the whole way, none just at an edge. */
export function cuts({ stops }: Course, step_m: number): number[] {
  const end_m = stops.at(-1)?.left_m ?? 0;
  return Array.from({ length: Math.floor(end_m / step_m) }, (_, at) => (at + 0.5) * step_m);
}
