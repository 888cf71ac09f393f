/**
 * What mouths and window say after a pull, held against a balance of sheath: every leg stays as long as it was, each
 * neighbour has lost what it gave, and the opening has gained all of it. Marks run either way, in feet or metres.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { edgeBeyondHalf } from "../../core/breakout/window.ts";
import { METRES_PER_FOOT } from "../../core/model/units.ts";
import type { CourseStop } from "../../core/repair/course.ts";
import { lend } from "../../core/repair/lend.ts";
import { movedStops, windowMarks } from "../../core/repair/lent-marks.ts";
import type { CourseOnRecord } from "../../core/repair/read-course.ts";

const LEG_M = 50;
const KEEP_M = 3;

interface Given {
  readonly inside: readonly number[];
  readonly start: number;
  readonly falls: boolean;
  readonly feet: boolean;
}

/** A cable of marks: `inside` is what lies at each stop between its two marks, in metres. */
function marked({ inside, start, falls, feet }: Given): { on: CourseOnRecord; printed: (number | null)[] } {
  const per = feet ? METRES_PER_FOOT : 1;
  const sign = falls ? -1 : 1;
  let along = 0;
  let left_m = 0;
  const printed: (number | null)[] = [];
  const stops: CourseOnRecord["stops"][number][] = [];
  const course: CourseStop[] = [];
  for (const [index, own] of inside.entries()) {
    const mark = (metres: number) => start + (sign * metres) / per;
    // Positions are counted as marks are: those that fall count from the negative.
    const at = (metres: number) => ({ mark: mark(metres), along_m: sign * start * per + metres });
    const outer = index === 0 || index === inside.length - 1;
    stops.push({
      stop: { kind: "stop", id: index + 1, tag: `F@${index + 1}` },
      place: null,
      name: `H-${index}`,
      in: index === 0 ? null : at(along),
      out: index === inside.length - 1 ? null : at(along + own),
    });
    printed.push(index === 0 ? null : mark(along), null, null, index === inside.length - 1 ? null : mark(along + own));
    course.push({
      ...{ kind: outer ? "end" : "passing", left_m, through_m: 0, coil_left_m: own, coil_right_m: own, held: false },
      ...{ keep_m: KEEP_M, work_m: 0, usable: true, inner_m: null },
    });
    along += own + LEG_M;
    left_m += LEG_M;
  }
  const legs = inside.slice(1).map(() => ({ length_m: LEG_M, slides: "yes" as const }));
  const unit = feet ? "ft" : "m";
  return {
    on: {
      course: { stops: course, legs, coil_radius_m: null },
      stops,
      unit,
      ways: [],
      assumed: [],
      printed: null,
      off: [],
      placesOf: () => [],
    },
    printed,
  };
}

const given = fc.record({
  inside: fc.array(fc.integer({ min: 0, max: 30 }), { minLength: 3, maxLength: 8 }),
  start: fc.integer({ min: 2000, max: 9000 }),
  falls: fc.boolean(),
  feet: fc.boolean(),
  at: fc.nat(),
  lack: fc.integer({ min: 1, max: 60 }),
});

describe("sheath that is pulled to an opening", () => {
  it("is missing where it was taken, is there where it was brought, and no leg changes", () => {
    let pulls = 0;
    fc.assert(
      fc.property(given, ({ at, lack, ...cable }) => {
        const { on, printed } = marked(cable);
        const own = 1 + (at % (cable.inside.length - 2));
        const { lent, short_m } = lend(on.course, own, lack);
        const pulled = lent.reduce((sum, one) => sum + one.pulled_m, 0);
        expect(pulled + short_m).toBeCloseTo(lack, 6);
        const moved = new Map(movedStops(on, own, lent, { printed, breaks: [] }).map((one) => [one.at, one]));
        const per = cable.feet ? METRES_PER_FOOT : 1;
        const after = on.stops.map((stop, index) => ({
          in: moved.get(index)?.mark_in ?? stop.in?.mark ?? null,
          out: moved.get(index)?.mark_out ?? stop.out?.mark ?? null,
        }));
        const metres = (a: number | null | undefined, b: number | null | undefined): number =>
          ((b ?? Number.NaN) - (a ?? Number.NaN)) * (cable.falls ? -1 : 1) * per;
        for (let leg = 0; leg + 1 < after.length; leg += 1)
          expect(Math.abs(metres(after[leg]?.out, after[leg + 1]?.in) - LEG_M)).toBeLessThan(0.11);
        for (let stop = 1; stop + 1 < after.length; stop += 1) {
          const gave = lent.find((one) => one.stop === stop)?.pulled_m ?? 0;
          const expected = (cable.inside[stop] ?? 0) + (stop === own ? pulled : -gave);
          expect(Math.abs(metres(after[stop]?.in, after[stop]?.out) - expected)).toBeLessThan(0.11);
        }
        pulls += lent.length;
      }),
      { seed: 20_260_303, numRuns: 400 },
    );
    expect(pulls).toBeGreaterThan(200);
  });

  it("leaves a window in its middle, and both halves up to it make the loop again", () => {
    let opened = 0;
    fc.assert(
      fc.property(given, ({ at, lack, ...cable }) => {
        const { on, printed } = marked(cable);
        const own = 1 + (at % (cable.inside.length - 2));
        const { lent } = lend(on.course, own, lack);
        const pulled = lent.reduce((sum, one) => sum + one.pulled_m, 0);
        const loop_m = (cable.inside[own] ?? 0) + pulled;
        const window_m = 6;
        const marks = windowMarks(on, own, lent, window_m, { printed, breaks: [] });
        expect(marks === null).toBe(loop_m < window_m);
        if (!marks) return;
        opened += 1;
        const per = cable.feet ? METRES_PER_FOOT : 1;
        expect(Math.abs(Math.abs(marks.to - marks.from) * per - window_m)).toBeLessThan(0.11);
        const beyond = edgeBeyondHalf(on, own, lent, window_m);
        // Both halves together lack the window, and nothing else, of what the cable was.
        expect(beyond.a + beyond.z).toBeCloseTo(-window_m, 6);
      }),
      { seed: 20_260_304, numRuns: 400 },
    );
    expect(opened).toBeGreaterThan(100);
  });
});
