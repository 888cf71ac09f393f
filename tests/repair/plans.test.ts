/** Mending a cut: lengths by hand, the rules of what slides, and random cables against a sheath balance and brute force. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Course, type CourseStop, type Cut, mirrored, mirroredCut } from "../../core/repair/course.ts";
import { type Mend, type MendPlan, type MendPolicy, mendPlans } from "../../core/repair/plans.ts";

const POLICY: MendPolicy = { waste: 0.1, case_m: 0.5 };

interface Given extends Partial<CourseStop> {
  /** The leg to the next stop. */
  readonly leg_m?: number;
  readonly slides?: "yes" | "no" | "unproven";
}

/** A course from what differs; ends have no way through, holes a crossing of 2 m; a splice takes 10 m of each side. */
function course(...given: Given[]): Course {
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
const coil = (metres: number, more: Given = {}): Given => ({ coil_left_m: metres, coil_right_m: metres, ...more });
const cut = (at_m: number, lost_left_m = 1, lost_right_m = lost_left_m): Cut => ({ at_m, lost_left_m, lost_right_m });
const mend = (one: Course, where: Cut, policy = POLICY): Mend => {
  const found = mendPlans(one, where, policy);
  if (typeof found === "string") throw new Error(found);
  return found;
};
const at = ({ plans }: Mend, point: MendPlan["points"][number]["at"]): MendPlan | undefined =>
  plans.find(({ kind, points }) => kind === "one_point" && points[0]?.at === point);

describe("one splice point in a new hole at the cut", () => {
  it("lacks working length and what is lost on each side, drawn from the nearest coils", () => {
    const plan = at(mend(course({}, coil(15), coil(12), {}), cut(152)), "cut");
    expect(plan).toMatchObject({ new_holes: 1, new_cable_m: 0, joints: 1, to_prove: false, waits_for_pipe: false });
    expect(plan?.left).toMatchObject({ lack_m: 11, short_m: 0, drawn: [{ stop: 1, pulled_m: 11, left_m: 4 }] });
    expect(plan?.right).toMatchObject({ lack_m: 11, short_m: 0, drawn: [{ stop: 2, pulled_m: 11, left_m: 1 }] });
  });

  it("draws outward from coil to coil, each less what must stay, and a metre once", () => {
    const plan = at(mend(course({}, coil(9), coil(7, { keep_m: 2 }), coil(20), {}), cut(254)), "cut");
    expect(plan?.left.drawn).toEqual([
      { stop: 2, pulled_m: 5, left_m: 2 },
      { stop: 1, pulled_m: 6, left_m: 3 },
    ]);
  });

  it("is refused with what each side is short of", () => {
    const { refused } = mend(course({}, coil(3), coil(30), {}), cut(152));
    expect(refused.find((one) => one.at === "cut")).toMatchObject({ short_left_m: 8, short_right_m: 0 });
  });

  it("in a hole's crossing leaves the coil to the side that has its middle", () => {
    // The hole's mouths are at 100 m and 110 m; 105 m is its middle.
    const one = course({}, coil(40, { through_m: 10 }), {});
    const sides = (at_m: number) => {
      const { refused, plans } = mend(one, cut(at_m, 0.5));
      const found = plans.find(({ points }) => points[0]?.at === "cut");
      const no = refused.find((each) => each.at === "cut");
      return found ? "both" : [no?.short_left_m, no?.short_right_m].map((short) => (short ? "short" : "enough"));
    };
    expect(sides(102)).toEqual(["short", "enough"]);
    expect(sides(108)).toEqual(["enough", "short"]);
  });

  it("never takes the crossing of a hole for a coil", () => {
    const bare = course({}, { through_m: 5 }, { through_m: 5 }, { through_m: 5 }, {});
    for (const plan of mend(bare, cut(160)).plans) {
      expect(plan.pulled_m).toBe(0);
      expect(plan.kind).not.toBe("one_point");
    }
  });
});

describe("one splice point at a hole beside the cut", () => {
  it("has a stump that is long enough by itself on one side, and a lack over the way on the other", () => {
    // The stump of the left remain reaches 40 m beyond the hole; the right one comes back over them.
    const plan = at(mend(course({}, coil(0), coil(60), {}), cut(142)), 1);
    expect(plan?.left).toMatchObject({ stump_m: 41, lack_m: -31, drawn: [], short_m: 0 });
    expect(plan?.right).toMatchObject({ lack_m: 51, drawn: [{ stop: 2, pulled_m: 51, left_m: 9 }], across: true });
    expect(plan).toMatchObject({ waits_for_pipe: true, new_holes: 0 });
  });

  it("counts coils between it and the cut in full, and what can't come back is trimmed where it lies", () => {
    const slides = at(mend(course({}, coil(3), coil(6), coil(300), {}), cut(254)), 1);
    // 2 m of crossing and 3 m of coil in the hole are too little; with the leg and the next hole's 8 m it is enough.
    expect(slides?.left).toMatchObject({ short_m: 0, lack_m: 10 - (2 + 3 + 100 + 2 + 6), trimmed_m: 49 });
    const stuck = at(mend(course({}, coil(30), coil(6), coil(300), {}), cut(254)), 1);
    expect(stuck?.left.stump_m).toBe(32);
    expect(stuck?.left.trimmed_m).toBe(100 + 2 + 6 + 49);
    const buried = mend(course({}, coil(3, { slides: "no" }), coil(6), coil(300), {}), cut(254));
    expect(at(buried, 1)).toBe(undefined);
  });

  it("is ruled out by an opening between it and the cut", () => {
    const { refused } = mend(course({}, coil(50), { kind: "opened" }, coil(400), {}), cut(254));
    expect(refused.find((one) => one.at === 1)?.reason).toBe("between it and the cut the cable is opened");
  });

  it("is ruled out where case and coils don't fit, with both numbers", () => {
    const tight = { ...course({}, coil(50, { inner_m: 0.9 }), coil(200), {}), coil_radius_m: 0.25 };
    expect(mend(tight, cut(142)).refused.find((one) => one.at === 1)?.reason).toBe(
      "it is 0.9 m wide, and case and coils at their radius need 1 m",
    );
  });
});

describe("what slides", () => {
  const far = (own: Given, leg: Given = {}) => course({}, coil(50, leg), own, coil(50), {});
  it.each<[string, Given, Given?]>([
    ["a clamped stop gives its one coil and nothing beyond", { held: true }],
    ["an opened stop gives its near coil and nothing beyond", { kind: "opened" }],
    ["a leg that can't slide gives nothing beyond", {}, { slides: "no" }],
  ])("%s", (_, own, leg = {}) => {
    const { refused } = mend(far(coil(4, own), leg), cut(254));
    expect(refused.find((one) => one.at === "cut")).toMatchObject({ short_left_m: 7, short_right_m: 0 });
  });

  it("not at all where it is cut gives neither side a metre", () => {
    const { refused } = mend(far(coil(40, { slides: "no" })), cut(254));
    expect(refused.find((one) => one.at === "cut")).toMatchObject({ short_left_m: 11, short_right_m: 11 });
  });

  it("over an unproven leg makes a plan to be proved, and only where proven ones don't suffice", () => {
    const proven = at(mend(course({}, coil(50, { slides: "unproven" }), coil(20), coil(50), {}), cut(254)), "cut");
    expect(proven).toMatchObject({ to_prove: false });
    const needed = at(mend(course({}, coil(50, { slides: "unproven" }), coil(5), coil(50), {}), cut(254)), "cut");
    expect(needed).toMatchObject({ to_prove: true, left: { unproven: [1] } });
  });
});

describe("two points", () => {
  it("at the holes beside a cut in mid-leg need no coil at all", () => {
    const { plans } = mend(course({}, {}, {}, {}), cut(152));
    const [plan] = plans;
    expect(plan).toMatchObject({ kind: "two_points", pulled_m: 0, joints: 2, new_holes: 0 });
    expect(plan?.points.map((one) => one.at)).toEqual([1, 2]);
    // Way between the mouths, both working lengths, a tenth of waste.
    expect(plan?.new_cable_m).toBeCloseTo((100 + 10 + 10) * 1.1, 9);
  });

  it("come before a new cable, which is there at last", () => {
    expect(mend(course({}, {}, {}, {}), cut(152)).plans.at(-1)).toMatchObject({ kind: "new_cable" });
  });
});

describe("a cut that can't be one", () => {
  it.each([
    [
      "beyond the cable's way",
      course({}, {}, {}),
      cut(500),
      /^The cut is at 500 m of the way, which runs from 0 m to 202 m\.$/,
    ],
    ["at its end", course({}, {}, {}), cut(0), /is at 0 m/],
    ["with less than nothing lost", course({}, {}, {}), cut(50, -1), /can't lose less than nothing/],
    ["without a place", course({}, {}, {}), cut(Number.NaN), /has no place/],
    ["up to a clamped stop", course({}, { held: true }, {}), cut(98, 3), /loses glass up to a stop that is held/],
    ["of a cable without stops", { stops: [], legs: [], coil_radius_m: null }, cut(5), /stops are not on record/],
  ])("%s is refused in words", (_, one, where, words) => {
    expect(mendPlans(one, where, POLICY)).toMatch(words);
  });
});

const arbitraryCourse = fc
  .array(
    fc.record({
      leg_m: fc.integer({ min: 5, max: 120 }),
      slides: fc.constantFrom("yes" as const, "yes" as const, "unproven" as const, "no" as const),
      through_m: fc.integer({ min: 0, max: 6 }),
      coil: fc.integer({ min: 0, max: 40 }),
      keep_m: fc.integer({ min: 0, max: 8 }),
      held: fc.boolean(),
      kind: fc.constantFrom("passing" as const, "passing" as const, "passing" as const, "opened" as const),
      work_m: fc.integer({ min: 3, max: 25 }),
    }),
    { minLength: 3, maxLength: 9 },
  )
  .map((stops) =>
    course(
      ...stops.map(({ coil: metres, kind, through_m, ...own }, index): Given => {
        const end = index === 0 || index === stops.length - 1;
        return { ...coil(metres), ...own, ...(end ? {} : { kind, through_m }) };
      }),
    ),
  );

/** Sheath on the side of the first stop, all of it: the way to the cut and every coil before it. */
function sheathBefore({ stops }: Course, { at_m }: Cut): number {
  return (
    at_m + stops.filter(({ left_m }) => left_m < at_m).reduce((sum, { coil_right_m }) => sum + (coil_right_m ?? 0), 0)
  );
}

/** Whether a remain can reach, by walking outward metre by metre: written from the rules, not from the program. */
function canReach(one: Course, where: Cut, point: number | "cut"): boolean {
  const tip = where.at_m - where.lost_left_m;
  const mouth = point === "cut" ? where.at_m : (one.stops[point]?.left_m ?? 0);
  const before = one.stops.reduce((last, { left_m }, index) => (left_m < where.at_m ? index : last), 0);
  const work =
    point === "cut"
      ? Math.max(one.stops[before]?.work_m ?? 0, one.stops[before + 1]?.work_m ?? 0)
      : (one.stops[point]?.work_m ?? 0);
  const leg = (index: number) => one.legs[index]?.slides !== "no" && one.legs[index] !== undefined;
  const inHand = (index: number): number => {
    const stop = one.stops[index] as CourseStop;
    if (stop.left_m >= tip) return 0;
    const here = Math.min(stop.through_m, tip - stop.left_m) + (stop.coil_right_m ?? 0);
    const out = Math.max(0, Math.min(one.stops[index + 1]?.left_m ?? tip, tip) - stop.left_m - stop.through_m);
    if (!leg(index)) return here;
    const next = one.stops[index + 1];
    return here + out + (next && !next.held && next.left_m < tip ? inHand(index + 1) : 0);
  };
  let have: number;
  let from: number;
  if (point !== "cut" && mouth < tip) {
    have = inHand(point);
    from = point - 1;
  } else {
    have = tip - mouth;
    from = one.stops.reduce((last, { left_m }, index) => (left_m < tip ? index : last), 0);
    if (point !== "cut") for (let index = from + 1; index < point; index++) if (!leg(index)) return false;
  }
  for (let index = from; index >= 0; index--) {
    if (have >= work || !leg(index)) break;
    const stop = one.stops[index] as CourseStop;
    have += Math.max(0, (stop.coil_right_m ?? 0) - stop.keep_m);
    if (stop.held || stop.kind !== "passing") break;
  }
  return have >= work - 1e-6;
}

describe("random cables, cut anywhere", () => {
  const cases = fc.tuple(
    arbitraryCourse,
    fc.double({ min: 0.02, max: 0.98, noNaN: true }),
    fc.integer({ min: 0, max: 3 }),
  );
  const each = (check: (one: Course, where: Cut, found: Mend) => void): number => {
    let plans = 0;
    fc.assert(
      fc.property(cases, ([one, share, lost]) => {
        const end = one.stops.at(-1)?.left_m ?? 0;
        // Not in a hole: there a cut takes the coil too.
        const where = cut(share * end, lost);
        if (
          one.stops.some(
            (stop) => Math.abs(stop.left_m + stop.through_m / 2 - where.at_m) < stop.through_m / 2 + lost + 0.01,
          )
        )
          return;
        const found = mendPlans(one, where, POLICY);
        if (typeof found === "string") return;
        plans += found.plans.length;
        check(one, where, found);
      }),
      { seed: 20261125, numRuns: 3000 },
    );
    return plans;
  };

  it("keep every metre of sheath: before is after, destroyed and trimmed, for each remain by itself", () => {
    const plans = each((one, where, { plans }) => {
      for (const plan of plans) {
        if (plan.kind === "new_cable") continue;
        for (const side of ["left", "right"] as const) {
          const remain = plan[side];
          const [own, cutThere] = side === "left" ? [one, where] : [mirrored(one), mirroredCut(one, where)];
          const last = one.stops.length - 1;
          const [a = "cut", b = a] = plan.points.map((point) => point.at);
          const point = side === "left" ? a : b === "cut" ? "cut" : last - b;
          const mouth = point === "cut" ? cutThere.at_m : (own.stops[point]?.left_m ?? 0);
          const tip = cutThere.at_m - cutThere.lost_left_m;
          const drawn = new Map(remain.drawn.map((pull) => [side === "left" ? pull.stop : last - pull.stop, pull]));
          const outward = own.stops
            .map((stop, index) => ({ stop, index }))
            .filter(({ stop }) => stop.left_m < Math.min(mouth, tip));
          const left = outward.reduce(
            (sum, { stop, index }) => sum + (drawn.get(index)?.left_m ?? stop.coil_right_m ?? 0),
            0,
          );
          const pulled = remain.drawn.reduce((sum, { pulled_m }) => sum + pulled_m, 0);
          const after = mouth + left + remain.stump_m + pulled;
          expect(after + remain.trimmed_m + cutThere.lost_left_m).toBeCloseTo(sheathBefore(own, cutThere), 6);
          const work = (side === "left" ? plan.points[0] : plan.points.at(-1))?.work_m ?? 0;
          expect(remain.stump_m + pulled).toBeGreaterThanOrEqual(work - 0.001);
          expect(work).toBeGreaterThan(0);
          for (const [index, { pulled_m, left_m }] of drawn) {
            expect(left_m).toBeGreaterThanOrEqual(
              Math.min(own.stops[index]?.keep_m ?? 0, own.stops[index]?.coil_right_m ?? 0) - 1e-9,
            );
            expect(pulled_m).toBeGreaterThan(0);
          }
        }
      }
    });
    expect(plans).toBeGreaterThan(2000);
  });

  it("find a splice point exactly where both remains reach it", () => {
    let feasible = 0;
    each((one, where, found) => {
      const turned = mirrored(one);
      const turnedCut = mirroredCut(one, where);
      const last = one.stops.length - 1;
      for (const [index, stop] of one.stops.entries()) {
        if (stop.kind !== "passing") continue;
        const between = one.stops.some(
          (other, k) =>
            other.kind !== "passing" &&
            ((k > index && other.left_m < where.at_m) || (k < index && other.left_m > where.at_m)),
        );
        const can = !between && canReach(one, where, index) && canReach(turned, turnedCut, last - index);
        if (can) feasible++;
        expect({ index, can: at(found, index) !== undefined }).toEqual({ index, can });
      }
      const dig = canReach(one, where, "cut") && canReach(turned, turnedCut, "cut");
      expect(at(found, "cut") !== undefined).toBe(dig);
    });
    expect(feasible).toBeGreaterThan(150);
  });
});
