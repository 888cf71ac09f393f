/** Courses of our own invention, and their plans. */
import type { Course, CourseStop, Cut } from "../../core/repair/course.ts";
import { type Mend, type MendPlan, type MendPolicy, mendPlans } from "../../core/repair/plans.ts";

export const POLICY: MendPolicy = { waste: 0.1, case_m: 0.5, held_too: true };
/** At holes it passes and nowhere else. */
export const HOLES: MendPolicy = { waste: 0.1, case_m: 0.5 };

export interface Given extends Partial<CourseStop> {
  /** The leg to the next stop. */
  readonly leg_m?: number;
  readonly slides?: "yes" | "no" | "unproven";
}

/** A course from what differs; ends have no way through, holes a crossing of 2 m; a splice takes 10 m of each side. */
export function course(...given: Given[]): Course {
  let at = 0;
  const stops = given.map(({ leg_m = 100, slides: _, ...own }, index): CourseStop => {
    const end = index === 0 || index === given.length - 1;
    const stop = {
      kind: end ? ("end" as const) : ("passing" as const),
      left_m: at,
      through_m: end ? 0 : 2,
      coil_left_m: 0,
      coil_right_m: 0,
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
  const legs = given.slice(0, -1).map(({ leg_m = 100, slides = "yes" }) => ({ length_m: leg_m, slides }));
  return { stops, legs, coil_radius_m: null };
}
export const coil = (metres: number, more: Given = {}): Given => ({
  coil_left_m: metres,
  coil_right_m: metres,
  ...more,
});
export const cut = (at_m: number, lost_left_m = 1, lost_right_m = lost_left_m): Cut => ({
  at_m,
  lost_left_m,
  lost_right_m,
});
export const mend = (one: Course, where: Cut, policy = POLICY): Mend => {
  const found = mendPlans(one, where, policy);
  if (typeof found === "string") throw new Error(found);
  return found;
};
export const at = ({ plans }: Mend, point: MendPlan["points"][number]["at"]): MendPlan | undefined =>
  plans.find(({ kind, points }) => kind === "one_point" && points[0]?.at === point);
