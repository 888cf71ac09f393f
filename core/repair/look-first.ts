/** Coils that nobody knows and on which a better way hangs: looking there costs less than the way that does without them. */
import { say } from "../words/say.ts";
import type { Course, CourseStop } from "./course.ts";
import { cutAmong, sparing } from "./left-alone.ts";
import type { MendReckoned } from "./mend.ts";
import { betters } from "./narrowed.ts";
import type { MendLook } from "./narrowed-answer.ts";
import { type MendPlan, mendPlans } from "./plans.ts";
import { betterBy } from "./rank.ts";
import { metres, millimetre, wayWords } from "./told.ts";

/** Pure. Each by itself, with the least coil that would do; what would allow most comes first. */
export function looksOf({ on, cut, theirs, found, limits, policy, lit, inside }: MendReckoned): MendLook[] {
  const [anyway] = found.plans;
  const most_m = limits.get("repair.coil_most_m")?.value;
  if (theirs !== null || most_m === undefined || !anyway || anyway.dark_only) return [];
  const cut_at = cutAmong(on, cut, inside);
  /** The better way with so much coiled there; null where it would be no better one. */
  const withCoil = (at: number, coil_m: number): MendPlan | null => {
    const mend = mendPlans(coiled(on.course, at, cut.at_m, coil_m), cut, policy);
    const best = typeof mend === "string" ? undefined : sparing(mend.plans, lit, cut_at)[0];
    return best && betters(best, anyway, policy) ? best : null;
  };
  return on.course.stops
    .flatMap((stop, at) => {
      // What would be better with nothing coiled there hangs on no coil.
      if (!unknownTowards(stop, cut.at_m) || withCoil(at, 0) !== null) return [];
      const most = withCoil(at, most_m);
      if (most === null) return [];
      const coil_m = least(most_m, (one) => withCoil(at, one) !== null);
      return [{ at, coil_m, plan: withCoil(at, coil_m) ?? most }];
    })
    .toSorted((a, b) => betterBy(policy.ranking)(a.plan, b.plan) || a.coil_m - b.coil_m)
    .map(({ at, coil_m, plan }) => ({
      stop: on.stops[at]?.stop ?? { kind: "stop", id: 0, tag: "…" },
      place: on.stops[at]?.place ?? null,
      name: on.stops[at]?.name ?? say`a place not known`,
      coil_m,
      both_coils_m: on.course.stops[at]?.both_coils_m ?? null,
      way: wayWords(plan, on),
      new_cable_m: millimetre(plan.new_cable_m),
    }));
}

/** The side of the coil that a remain of the cut could draw on; a place it only passes has the one. */
const towards = ({ left_m }: CourseStop, at_m: number) => (left_m < at_m ? "coil_right_m" : "coil_left_m");
const unknownTowards = (stop: CourseStop, at_m: number): boolean => stop[towards(stop, at_m)] === null;

function coiled({ stops, ...own }: Course, at: number, cut_m: number, coil_m: number): Course {
  return {
    ...own,
    stops: stops.map((stop, index) => {
      if (index !== at) return stop;
      const known =
        stop.kind === "passing" ? { coil_left_m: coil_m, coil_right_m: coil_m } : { [towards(stop, cut_m)]: coil_m };
      return { ...stop, ...known };
    }),
  };
}

/** The least whole decimetre that does, where `most_m` does. */
function least(most_m: number, does: (metres: number) => boolean): number {
  let [no, yes] = [0, Math.ceil(most_m * 10)];
  while (yes - no > 1) {
    const middle = Math.floor((no + yes) / 2);
    if (does(middle / 10)) yes = middle;
    else no = middle;
  }
  return yes / 10;
}

/** For whoever would order cable before somebody has looked; empty where no coil would help. */
export function lookSentence([first, ...more]: readonly MendLook[]): string {
  if (!first) return "";
  const others = more.map(({ name, coil_m }) => say`${metres(coil_m)} at ${name}`).join(say` or `);
  const way = `${first.way.charAt(0).toLowerCase()}${first.way.slice(1)}`;
  const cable = first.new_cable_m < 0.05 ? "" : say`, ${metres(first.new_cable_m)} of it`;
  const or = others === "" ? "" : say` So would ${others} allow a better way.`;
  if (first.both_coils_m !== null)
    return say` Nobody knows on which side of its opening at ${first.name} the ${metres(first.both_coils_m)} there are coiled: ${metres(first.coil_m)} towards the cut would do for ${way}${cable}. Look there first.${or}`;
  return say` Nobody knows what is coiled at ${first.name}: ${metres(first.coil_m)} there would do for ${way}${cable}. Look there first.${or}`;
}
