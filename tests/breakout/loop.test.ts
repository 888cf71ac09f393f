/**
 * What neighbours lend to a loop, held against a plain account of coils: outward from the opening through legs that
 * slide, each coil less what must stay, up to the first stop that is opened, clamped or an end, which gives its near coil.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Course, CourseLeg, CourseStop } from "../../core/repair/course.ts";
import { lend, lendable } from "../../core/repair/lend.ts";

type Kind = CourseStop["kind"];
interface Given {
  readonly kind: Kind;
  readonly coil: number | readonly [number, number] | null;
  readonly held?: boolean;
}

const KEEP_M = 6;

function course(stops: readonly Given[], legs: readonly CourseLeg["slides"][]): Course {
  let left_m = 0;
  return {
    stops: stops.map(({ kind, coil, held = false }): CourseStop => {
      const own = left_m;
      const through_m = kind === "end" ? 0 : 3;
      left_m += through_m + 100;
      const [coil_left_m, coil_right_m] = Array.isArray(coil) ? coil : [coil, coil];
      return {
        ...{ kind, left_m: own, through_m, coil_left_m, coil_right_m, held },
        ...{ keep_m: KEEP_M, work_m: 20, usable: true, inner_m: null },
      };
    }),
    legs: legs.map((slides) => ({ length_m: 100, slides })),
    coil_radius_m: null,
  };
}

const passing = (coil: number | null): Given => ({ kind: "passing", coil });
const end = (coil = 0): Given => ({ kind: "end", coil });

describe("a loop that lacks sheath", () => {
  it("takes it from the nearest coil and leaves there what must stay", () => {
    const way = course([end(), passing(20), passing(0), passing(20), end()], ["yes", "yes", "yes", "yes"]);
    expect(lend(way, 2, 10)).toMatchObject({ short_m: 0, lent: [{ stop: 1, pulled_m: 10, left_m: 10 }] });
    expect(lend(way, 2, 20)).toMatchObject({
      short_m: 0,
      lent: [
        { stop: 1, pulled_m: 14, left_m: 6 },
        { stop: 3, pulled_m: 6, left_m: 14 },
      ],
    });
    expect(lend(way, 2, 30)).toMatchObject({ short_m: 2 });
    expect(lendable(way, 2)).toBe(28);
  });
  it("goes by the side that is proven before one that isn't", () => {
    const way = course([end(), passing(20), passing(0), passing(20), end()], ["yes", "unproven", "yes", "yes"]);
    expect(lend(way, 2, 10)).toMatchObject({ unproven: [], lent: [{ stop: 3 }] });
    expect(lend(way, 2, 20)).toMatchObject({ unproven: [1], short_m: 0 });
  });
  it("gets nothing through a leg that is held, and the near coil alone of an opening or a clamped place", () => {
    const fixed = course([end(), passing(20), passing(20), passing(0), end()], ["yes", "yes", "no", "yes"]);
    expect(lendable(fixed, 3)).toBe(0);
    const open = course(
      [end(), passing(40), { kind: "opened", coil: [30, 10] }, passing(0), end()],
      ["yes", "yes", "yes", "yes"],
    );
    expect(lendable(open, 3)).toBe(4);
    const clamped = course(
      [end(), passing(40), { ...passing(10), held: true }, passing(0), end()],
      ["yes", "yes", "yes", "yes"],
    );
    expect(lendable(clamped, 3)).toBe(4);
  });
  it("counts on no coil that nobody knows, and says which", () => {
    const way = course([end(), passing(20), passing(null), passing(0), end()], ["yes", "yes", "yes", "yes"]);
    expect(lend(way, 3, 10)).toMatchObject({ short_m: 0, unknown: [2], lent: [{ stop: 1, pulled_m: 10 }] });
  });
});

/** The account, coil by coil. */
function account({ stops, legs }: Course, at: number, mayAlso: boolean): number {
  let all = 0;
  for (const step of [-1, 1]) {
    for (let stop = at + step; stop >= 0 && stop < stops.length; stop += step) {
      const leg = legs[step < 0 ? stop : stop - 1];
      if (leg?.slides === "no" || (leg?.slides === "unproven" && !mayAlso)) break;
      const own = stops[stop] as CourseStop;
      all += Math.max(0, ((step < 0 ? own.coil_right_m : own.coil_left_m) ?? 0) - own.keep_m);
      if (own.kind !== "passing" || own.held) break;
    }
  }
  return all;
}

describe("on any way", () => {
  it("it gets all there is and no more, and every metre once", () => {
    const coil = fc.oneof(fc.integer({ min: 0, max: 40 }), fc.constant(null));
    const middle = fc.record({
      kind: fc.constantFrom<Kind>("passing", "passing", "passing", "opened"),
      a: coil,
      z: coil,
      held: fc.boolean(),
    });
    const slides = fc.constantFrom<CourseLeg["slides"]>("yes", "yes", "unproven", "no");
    const given = fc.record({
      stops: fc.array(middle, { minLength: 1, maxLength: 6 }),
      legs: fc.array(slides, { minLength: 7, maxLength: 7 }),
      ends: fc.tuple(fc.integer({ min: 0, max: 20 }), fc.integer({ min: 0, max: 20 })),
      at: fc.nat(),
      lack: fc.integer({ min: 1, max: 120 }),
    });
    let reached = 0;
    fc.assert(
      fc.property(given, ({ stops, legs, ends, at, lack }) => {
        const inner = stops.map(
          ({ kind, a, z, held }): Given => ({
            kind,
            held,
            coil: kind === "passing" ? a : ([a, z] as [number, number]),
          }),
        );
        const way = course([end(ends[0]), ...inner, end(ends[1])], legs.slice(0, inner.length + 1));
        const own = 1 + (at % inner.length);
        const [proven, most] = [account(way, own, false), account(way, own, true)];
        expect(lendable(way, own)).toBeCloseTo(most, 6);
        const got = lend(way, own, lack);
        expect(got.short_m).toBeCloseTo(Math.max(0, lack - most), 6);
        const pulled = got.lent.reduce((sum, { pulled_m }) => sum + pulled_m, 0);
        expect(pulled).toBeCloseTo(lack - got.short_m, 6);
        expect(new Set(got.lent.map(({ stop }) => stop)).size).toBe(got.lent.length);
        for (const { stop, pulled_m, left_m } of got.lent) {
          const there = way.stops[stop] as CourseStop;
          expect(left_m).toBeGreaterThanOrEqual(there.keep_m - 1e-6);
          expect(pulled_m + left_m).toBeCloseTo((stop < own ? there.coil_right_m : there.coil_left_m) ?? 0, 6);
        }
        if (proven >= lack) expect(got.unproven).toEqual([]);
        if (got.short_m === 0) reached += 1;
      }),
      { seed: 20_260_302, numRuns: 800 },
    );
    expect(reached).toBeGreaterThan(100);
  });
});
