/**
 * Sheath after a mend, held against a balance of its metres: what a remain had before is what it has after, and what was cut
 * off or lost. The balance is reckoned here from the mouths alone; it knows nothing of how coils are drawn.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Course, CourseStop, Cut } from "../../core/repair/course.ts";
import { type MendPlan, mendPlans } from "../../core/repair/plans.ts";
import { type SheathAt, type SlidStop, slidStops } from "../../core/repair/slid.ts";

interface Given {
  readonly coil_m: number;
  readonly leg_m: number;
  readonly through_m: number;
  readonly slides: "yes" | "no";
}

/** A cable whose every coil is known, and where its sheath lies at each mouth; the first mouth is metre 1000 of it. */
function laid(given: readonly Given[]): { course: Course; at: SheathAt[] } {
  let way = 0;
  let along = 1000;
  const at: SheathAt[] = [];
  const stops = given.map(({ coil_m, leg_m, through_m }, index): CourseStop => {
    const end = index === 0 || index === given.length - 1;
    const through = end ? 0 : through_m;
    const coil = end ? 0 : coil_m;
    const stop: CourseStop = {
      kind: end ? "end" : "passing",
      left_m: way,
      through_m: through,
      coil_left_m: coil,
      coil_right_m: coil,
      held: false,
      keep_m: 2,
      work_m: 10,
      usable: true,
      inner_m: null,
    };
    at.push({ in_m: index === 0 ? null : along, out_m: index === given.length - 1 ? null : along + through + coil });
    along += through + coil + leg_m;
    way += through + leg_m;
    return stop;
  });
  const legs = given.slice(0, -1).map(({ leg_m, slides }) => ({ length_m: leg_m, slides }));
  return { course: { stops, legs, coil_radius_m: null }, at };
}

const cables = fc.array(
  fc.record({
    coil_m: fc.integer({ min: 0, max: 60 }),
    leg_m: fc.integer({ min: 20, max: 120 }),
    through_m: fc.integer({ min: 1, max: 5 }),
    slides: fc.constantFrom("yes" as const, "yes" as const, "no" as const),
  }),
  { minLength: 3, maxLength: 7 },
);

/** Mouths after the mend, in order: those that moved, and those that did not. */
function after(at: readonly SheathAt[], slid: readonly SlidStop[], index: number): SheathAt {
  return slid.find((one) => one.at === index) ?? (at[index] as SheathAt);
}

function check(course: Course, at: readonly SheathAt[], cut: Cut, plan: MendPlan): void {
  const slid = slidStops(course, at, cut, plan);
  const [first, second = first] = plan.points;
  const near = (a: number | null | undefined, b: number): void => expect(a).toBeCloseTo(b, 6);
  const alongOf = (way: number): number => {
    const index = course.stops.findLastIndex((stop) => stop.left_m + stop.through_m <= way);
    const stop = course.stops[index] as CourseStop;
    return (at[index]?.out_m ?? 0) + (way - stop.left_m - stop.through_m);
  };
  const end = slid.find((one) => one.at === first?.at);
  const begin = slid.find((one) => one.at === second?.at);
  // No metre of either remain is made or lost: each ends where it was broken, less what was trimmed.
  near(end?.left_end_m, alongOf(cut.at_m - cut.lost_left_m) - plan.left.trimmed_m);
  near(begin?.right_end_m, alongOf(cut.at_m + cut.lost_right_m) + plan.right.trimmed_m);
  // Each has what a splicer works with.
  expect((end?.left_end_m ?? 0) - (end?.in_m ?? 0)).toBeGreaterThanOrEqual((first?.work_m ?? 0) - 1e-6);
  expect((begin?.out_m ?? 0) - (begin?.right_end_m ?? 0)).toBeGreaterThanOrEqual((second?.work_m ?? 0) - 1e-6);
  // Along each remain every leg is as long as the way, and every coil is what was said to stay.
  const left = new Map(plan.left.drawn.map((one) => [one.stop, one.left_m]));
  const right = new Map(plan.right.drawn.map((one) => [one.stop, one.left_m]));
  const walk = (from: number, to: number, drawn: ReadonlyMap<number, number>, across: (index: number) => boolean) => {
    for (let index = from; index < to; index++) {
      const [here, next] = [after(at, slid, index), after(at, slid, index + 1)];
      near((next.in_m ?? 0) - (here.out_m ?? 0), course.legs[index]?.length_m ?? 0);
      const stop = course.stops[index] as CourseStop;
      if (index === from || here.in_m === null || here.out_m === null) continue;
      near(here.out_m - here.in_m - stop.through_m, across(index) ? 0 : (drawn.get(index) ?? stop.coil_left_m ?? 0));
    }
  };
  const last = course.stops.length - 1;
  const [a, b] = [first?.at, second?.at];
  const beforeCut = course.stops.findLastIndex((stop) => stop.left_m < cut.at_m);
  if (a === "cut" || b === "cut") {
    walk(0, beforeCut, left, () => false);
    const stop = course.stops[beforeCut] as CourseStop;
    const hole_m = first?.hole_m ?? second?.hole_m ?? Number.NaN;
    near((end?.in_m ?? 0) - (after(at, slid, beforeCut).out_m ?? 0), hole_m - stop.left_m - stop.through_m);
    const beyond = course.stops[beforeCut + 1] as CourseStop;
    near((after(at, slid, beforeCut + 1).in_m ?? 0) - (begin?.out_m ?? 0), beyond.left_m - hole_m);
    walk(beforeCut + 1, last, right, () => false);
  } else {
    walk(0, Number(a), left, (index) => index > beforeCut);
    walk(Number(b), last, right, (index) => index <= beforeCut);
  }
}

describe("sheath after a mend", () => {
  it("is as much as before, less what was lost and cut off, wherever it was cut and however it is mended", () => {
    let plans = 0;
    fc.assert(
      fc.property(
        cables,
        fc.integer({ min: 0, max: 5 }),
        fc.double({ min: 0.1, max: 0.9, noNaN: true }),
        (given, leg, share) => {
          const { course, at } = laid(given);
          const index = leg % course.legs.length;
          const stop = course.stops[index] as CourseStop;
          const at_m = stop.left_m + stop.through_m + share * (course.legs[index]?.length_m ?? 0);
          const cut: Cut = { at_m, lost_left_m: 1, lost_right_m: 1.5 };
          const found = mendPlans(course, cut, { waste: 0, case_m: 0.5 });
          fc.pre(typeof found !== "string");
          if (typeof found === "string") return;
          for (const plan of found.plans) {
            if (plan.kind === "new_cable") continue;
            plans += 1;
            check(course, at, cut, plan);
          }
        },
      ),
      { seed: 20_261_126, numRuns: 3000 },
    );
    // Most cables have several ways: the check above is not idle.
    expect(plans).toBeGreaterThan(1000);
  });
});

/** With an opening and a coil at each end: where the sheath lies at the case's edges and at the panels is kept beside. */
function laidWithCases(given: readonly (Given & { readonly opened: boolean })[]) {
  let way = 0;
  let along = 1000;
  const at: SheathAt[] = [];
  const held: { left: number; right: number }[] = [];
  const stops = given.map(({ coil_m, leg_m, through_m, opened }, index): CourseStop => {
    const [first, last] = [index === 0, index === given.length - 1];
    const end = first || last;
    const through = end ? 0 : through_m;
    // At an opening each side has half the crossing and its own coil; the window of 4 m is neither.
    const [a, b] = opened && !end ? [coil_m, coil_m / 2] : [coil_m, coil_m];
    const inside = end ? coil_m : opened ? through + a + b + 4 : through + coil_m;
    held.push(
      end
        ? { left: last ? along + coil_m : along, right: along }
        : { left: along + through / 2 + a, right: along + through / 2 + a + 4 },
    );
    at.push({ in_m: first ? null : along, out_m: last ? null : along + inside });
    const stop: CourseStop = {
      kind: end ? "end" : opened ? "opened" : "passing",
      left_m: way,
      through_m: through,
      coil_left_m: a,
      coil_right_m: b,
      held: false,
      keep_m: 2,
      work_m: 10,
      usable: true,
      inner_m: null,
    };
    along += inside + leg_m;
    way += through + leg_m;
    return stop;
  });
  const legs = given.slice(0, -1).map(({ leg_m, slides }) => ({ length_m: leg_m, slides }));
  return { course: { stops, legs, coil_radius_m: null }, at, held };
}

describe("sheath after a mend beside a case or panel, from a new hole, or up to an end", () => {
  it("is as much as before, less what was lost and cut off, and past the case nothing moves", () => {
    const kinds = new Map<string, number>();
    fc.assert(
      fc.property(
        fc.array(
          fc.record({
            ...{ coil_m: fc.integer({ min: 0, max: 40 }), leg_m: fc.integer({ min: 20, max: 120 }) },
            ...{ through_m: fc.integer({ min: 1, max: 5 }), opened: fc.boolean() },
            slides: fc.constantFrom("yes" as const, "yes" as const, "no" as const),
          }),
          { minLength: 2, maxLength: 6 },
        ),
        fc.integer({ min: 0, max: 4 }),
        fc.double({ min: 0.1, max: 0.9, noNaN: true }),
        (given, leg, share) => {
          const { course, at, held } = laidWithCases(given);
          const index = leg % course.legs.length;
          const stop = course.stops[index] as CourseStop;
          const mouth = stop.left_m + stop.through_m;
          const at_m = mouth + share * (course.legs[index]?.length_m ?? 0);
          const cut: Cut = { at_m, lost_left_m: 1, lost_right_m: 1.5 };
          const found = mendPlans(course, cut, { waste: 0, case_m: 0.5, coil_m: 5, held_too: true });
          if (typeof found === "string") return;
          const broken = (at[index]?.out_m ?? 0) + (at_m - mouth);
          for (const plan of found.plans) {
            const [first, second = first] = plan.points;
            if (!first || !second) continue;
            const slid = slidStops(course, at, cut, plan);
            const place = ({ at: point, held: beside }: typeof first) =>
              slid.find((one) => one.at === point && one.beside === beside);
            const [a, b] = [place(first), place(second)];
            for (const point of [first, second]) if (point.held) kinds.set("held", (kinds.get("held") ?? 0) + 1);
            if (plan.new_holes > 0 && plan.kind === "two_points") kinds.set("hole", (kinds.get("hole") ?? 0) + 1);
            kinds.set(plan.kind, (kinds.get(plan.kind) ?? 0) + 1);
            if (plan.landed !== "left") {
              expect(a?.left_end_m).toBeCloseTo(broken - 1 - plan.left.trimmed_m, 6);
              const own = first.held && Number(first.at) <= index;
              const from = own ? (held[Number(first.at)]?.right ?? 0) : (a?.in_m ?? 0);
              const reach = (a?.left_end_m ?? 0) - from - (first.held && !own ? half(course, first.at) : 0);
              expect(reach).toBeCloseTo(10 + Math.max(0, -plan.left.lack_m), 6);
              expect(-plan.left.lack_m).toBeLessThanOrEqual(5 + 1e-9);
            }
            if (plan.landed !== "right") {
              expect(b?.right_end_m).toBeCloseTo(broken + 1.5 + plan.right.trimmed_m, 6);
              const own = second.held && Number(second.at) > index;
              const to = own ? (held[Number(second.at)]?.left ?? 0) : (b?.out_m ?? 0);
              const reach = to - (b?.right_end_m ?? 0) - (second.held && !own ? half(course, second.at) : 0);
              expect(reach).toBeCloseTo(10 + Math.max(0, -plan.right.lack_m), 6);
            }
            // Past a case, and in it, nothing moves.
            for (const [point, left] of [
              [first, true],
              [second, false],
            ] as const) {
              if (!point.held || (left ? Number(point.at) > index : Number(point.at) <= index)) continue;
              const moved = slid.filter((one) =>
                left ? Number(one.at) < Number(point.at) : Number(one.at) > Number(point.at),
              );
              expect(moved).toEqual([]);
            }
          }
        },
      ),
      { seed: 20_261_127, numRuns: 2000 },
    );
    for (const kind of ["held", "hole", "to_end", "two_points", "one_point"]) {
      expect([kind, (kinds.get(kind) ?? 0) > 100]).toEqual([kind, true]);
    }
  });
});

/** From the mouth to the case. */
const half = (course: Course, at: number | "cut"): number =>
  at === "cut" ? 0 : (course.stops[at]?.through_m ?? 0) / 2;
