/** Mending a cut: lengths by hand, and the rules of what slides, what is held and what is kept. */
import { describe, expect, it } from "vitest";
import { type CourseStop, hangsAt } from "../../core/repair/course.ts";
import { NONE } from "../../core/repair/plan.ts";
import { type Mend, type MendPlan, mendPlans } from "../../core/repair/plans.ts";
import { betterBy, needsOf } from "../../core/repair/rank.ts";
import { at, coil, course, cut, type Given, HOLES, mend, POLICY } from "./courses.ts";

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
    const { refused } = mend(course({}, coil(3), coil(11), {}), cut(152));
    expect(refused.find((one) => one.at === "cut")).toMatchObject({ hole_m: 152, short_left_m: 8, short_right_m: 0 });
  });

  it("is not dug where it is cut in a place; what is coiled there is of the side that has its middle", () => {
    // The hole's mouths are at 100 m and 110 m; 105 m is its middle.
    const one = course({}, coil(40, { through_m: 10 }), {});
    const sides = (at_m: number) => {
      const { refused } = mend(one, cut(at_m, 0.5));
      expect(refused.find(({ at: where }) => where === "cut")?.reason).toBe(
        "it is cut inside a place: no hole is dug where there is one",
      );
      const no = refused.find(({ at: where }) => where === 1);
      return [no?.short_left_m, no?.short_right_m].map((short) => (short ? "short" : "enough"));
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
    // The coil suffices, so that nothing is wanted back; where the leg holds it, or the next hole, nothing can come.
    expect(stuck?.left.needless_m).toBe(stuck?.left.trimmed_m);
    const held = at(mend(course({}, coil(3), coil(60, { held: true }), coil(300), {}), cut(254)), 1);
    expect(held?.left).toMatchObject({ trimmed_m: 2 + 60 + 49, needless_m: 0 });
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
  // The other side has the 11 m that it wants, and nothing to give.
  const far = (own: Given, leg: Given = {}) => course({}, coil(50, leg), own, coil(11), {});
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
    const needed = at(mend(course({}, coil(50, { slides: "unproven" }), coil(5), coil(12), {}), cut(254)), "cut");
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

const twoAt = ({ plans }: Mend, a: number | "cut", b: number | "cut"): MendPlan | undefined =>
  plans.find(({ kind, points }) => kind === "two_points" && points[0]?.at === a && points[1]?.at === b);
const opened = (left_m: number, right_m: number, more: Given = {}): Given => ({
  kind: "opened",
  coil_left_m: left_m,
  coil_right_m: right_m,
  ...more,
});

describe("an opened stop as a splice point", () => {
  it("measures from the case: half the crossing, the near coil, and what comes back over the leg", () => {
    // The case hangs at 101 m; 1 m of crossing, 6 m of coil, and the 49 m of stump are more than the 10 m wanted.
    const near = at(mend(course({}, opened(40, 6), coil(200), {}), cut(152)), 1);
    expect(near?.left).toMatchObject({ stump_m: 1 + 6 + 49, lack_m: -46, drawn: [] });
    // The other remain comes to the case: 51 m of way and 1 m lost, half the crossing, 10 m.
    expect(near?.right).toMatchObject({ lack_m: 50 + 1 + 1 + 10, across: true });
    expect(near?.points).toMatchObject([{ at: 1, held: true }]);
  });

  it("draws on no coil beyond the case, be it ever so long", () => {
    const found = mend(course({}, coil(90), opened(90, 4, { slides: "no" }), coil(200), {}), cut(254));
    expect(found.refused.find((one) => one.at === 2)).toMatchObject({ short_left_m: 10 - 1 - 4 });
    const enough = at(mend(course({}, coil(90), opened(90, 9, { slides: "no" }), coil(200, {}), {}), cut(206)), 2);
    expect(enough).toBe(undefined);
  });

  it("takes a piece to a hole on the other side, from case to mouth", () => {
    const plan = twoAt(mend(course({}, opened(0, 9), {}, {}), cut(152)), 1, 2);
    expect(plan?.new_cable_m).toBeCloseTo((1 + 100 + 10 + 10) * 1.1, 9);
    expect(plan).toMatchObject({ joints: 2, new_holes: 0, pulled_m: 0 });
  });

  it("strictly between a point and the cut rules that point out", () => {
    const found = mend(course({}, coil(50), opened(9, 9), {}, {}), cut(254));
    expect(found.refused.find((one) => one.at === 1)?.reason).toBe("between it and the cut the cable is opened");
    expect(found.plans.some(({ points }) => points.some((one) => one.at === 1))).toBe(false);
    expect(twoAt(found, 2, 3)).toBeDefined();
  });
});

describe("what hangs at a stop", () => {
  it("is no coil where it is shorter than one turn at the cable's radius, and nothing known where one side isn't", () => {
    const { stops } = course({}, coil(1.5, { kind: "opened", coil_right_m: 1.4 }), coil(1.6), coil(0.1), {});
    const lengths = (coil_radius_m: number | null) => stops.slice(1, 4).map((stop) => hangsAt({ coil_radius_m }, stop));
    // A turn at 0.24 m is 1.508 m.
    expect(lengths(0.24)).toEqual([0, 1.6, 0]);
    expect(lengths(null)).toEqual([1.5, 1.6, 0.1]);
    expect(hangsAt({ coil_radius_m: 0.24 }, { ...(stops[1] as CourseStop), coil_right_m: null })).toBe(null);
  });
});

describe("a new cable from end to end", () => {
  it("is as long as the way with every coil, window and end of the old one, and waste", () => {
    const opened = coil(9, { kind: "opened", coil_right_m: 7, window_m: 3 });
    const plan = mend(course(coil(14), coil(30), opened, {}), cut(50)).plans.at(-1);
    // 300 m of legs, 2 x 2 m of crossings; 14 m at one end, and the 10 m that the other takes; 30, 9 + 7 and 3 m on the way.
    expect(plan).toMatchObject({ kind: "new_cable", left: { unknown: [] } });
    expect(plan?.new_cable_m).toBeCloseTo((304 + 14 + 10 + 30 + 9 + 7 + 3) * 1.1, 9);
  });

  it("has the coil that the cut destroys again, and says which coils nobody knows", () => {
    const unknown = { coil_left_m: null, coil_right_m: null };
    const plan = mend(course({}, coil(30), unknown, {}), cut(101)).plans.at(-1);
    expect(plan?.new_cable_m).toBeCloseTo((304 + 10 + 10 + 30) * 1.1, 9);
    expect(plan?.left.unknown).toEqual([2]);
  });
});

describe("an end as a splice point", () => {
  it("has its own coil and the stump that comes back", () => {
    const one = course(coil(3), {}, {});
    const short = mend(course(coil(3, { slides: "no" }), {}, {}), cut(50));
    expect(short.plans.some(({ points }) => points[0]?.at === 0)).toBe(false);
    const plan = twoAt(mend(one, cut(50)), 0, 1);
    expect(plan?.left).toMatchObject({ stump_m: 3 + 49, drawn: [] });
    expect(plan?.new_cable_m).toBeCloseTo((100 + 10 + 10) * 1.1, 9);
  });

  it("is landed anew where its coil is too short: a piece from the hole before up to it", () => {
    const found = mend(course({}, coil(12), { slides: "no", ...coil(0) }), cut(152));
    const plan = found.plans.find(({ kind, points }) => kind === "to_end" && points[0]?.at === 1);
    expect(plan).toMatchObject({ landed: "right", joints: 1, new_holes: 0, right: { stump_m: 0, drawn: [] } });
    expect(plan?.new_cable_m).toBeCloseTo((100 + 10 + 10) * 1.1, 9);
    // Less new cable than from end to end, and before it.
    expect(found.plans.at(-1)?.new_cable_m).toBeGreaterThan(plan?.new_cable_m ?? Number.NaN);
  });

  it("is landed anew past an opening, with as much sheath there as the old one has; not past a gap, which is said", () => {
    const found = mend(course({}, coil(12), opened(20, 20), {}), cut(152));
    const plan = found.plans.find(
      ({ kind, landed, points }) => kind === "to_end" && landed === "right" && points[0]?.at === 1,
    );
    expect(plan?.coils_m).toEqual([{ stop: 2, coil_m: 40 }]);
    // Two legs, the crossing between them, both coils of the opening, what a splice and a landing take, and a tenth.
    expect(plan?.new_cable_m).toBeCloseTo((100 + 2 + 100 + 40 + 10 + 10) * 1.1, 9);
    expect(found.not_to_end).toEqual([]);
    const parted = mend(course({}, coil(12), opened(20, 20, { kind: "severed" }), {}), cut(152));
    expect(parted.plans.filter(({ kind, landed }) => kind === "to_end" && landed === "right")).toEqual([]);
    expect(parted.not_to_end).toEqual([{ side: "right", reason: "the cable is severed on the way there" }]);
  });
});

describe("a piece from a new hole", () => {
  const long = (leg: Given = {}) => course({}, coil(8, { leg_m: 1000, ...leg }), {}, {});
  it("begins at the cut where the coil reaches there", () => {
    const plan = twoAt(mend(course({}, coil(20, { leg_m: 1000 }), {}, {}), cut(602)), "cut", 2);
    expect(plan).toMatchObject({ new_holes: 1, points: [{ hole_m: 602 }, { hole_m: null }], left: { lack_m: 11 } });
    expect(plan?.new_cable_m).toBeCloseTo((1102 - 602 + 10 + 10) * 1.1, 9);
  });

  it("else at the edge of what is destroyed", () => {
    const { plans } = mend(course({}, coil(10, { leg_m: 1000 }), {}, {}), cut(602));
    const plan = plans.find(({ kind, points }) => kind === "two_points" && points[0]?.at === "cut");
    expect(plan).toMatchObject({ points: [{ hole_m: 601 }, {}], left: { lack_m: 10, short_m: 0 } });
  });

  it("else so far back as the sheath lacks, where it comes back out of its way", () => {
    const { plans } = mend(long(), cut(602));
    const plan = plans.find(({ kind, points }) => kind === "two_points" && points[0]?.at === "cut");
    expect(plan).toMatchObject({ points: [{ hole_m: 599 }, {}], left: { stump_m: 2, drawn: [{ pulled_m: 8 }] } });
    const stuck = mend(long({ slides: "no" }), cut(602)).plans;
    expect(stuck.some(({ kind, points }) => kind === "two_points" && points[0]?.at === "cut")).toBe(false);
  });

  it("comes after two holes that are there, and before a piece to the end", () => {
    const { plans } = mend(course({}, coil(20), {}, {}), cut(152));
    const order = plans.map(({ kind, new_holes }) => `${kind} ${new_holes}`);
    expect(order.indexOf("two_points 0")).toBeLessThan(order.indexOf("two_points 1"));
    expect(order.indexOf("two_points 1")).toBeLessThan(order.findIndex((one) => one.startsWith("to_end")));
  });
});

describe("sheath that is more than a splice takes", () => {
  const one = course({}, {}, {}, {});
  it("stays as a coil as long as one is kept, and the rest is cut off", () => {
    // 2 m of crossing and 49 m of stump come back only as far as they are wanted: all of the leg, 51 m for 10 m.
    const plan = twoAt(mend(one, cut(152), { ...POLICY, coil_m: 16.5 }), 1, 2);
    expect(plan?.left).toMatchObject({ stump_m: 26.5, over_m: 51 - 26.5, trimmed_m: 51 - 26.5, lack_m: -16.5 });
  });

  it("stays only as far as the place has room for its turns", () => {
    const sized = (inner_m: number) => {
      const small = course({}, { inner_m }, { inner_m }, {});
      const there = { ...small, coil_radius_m: 0.2, diameter_m: 0.02 };
      return twoAt(mend(there, cut(152), { ...POLICY, coil_m: 16.5 }), 1, 2);
    };
    // 20 m are 16 turns of 0.2 m, 4 by 4 of 20 mm: 2 × (0.2 + 0.08) + 0.5 = 1.06 m. 25 turns, 31.4 m, need 1.1 m.
    expect(sized(1.06)?.left).toMatchObject({ lack_m: -0, over_m: 41 });
    expect(sized(1.1)?.left).toMatchObject({ lack_m: -11, over_m: 30 });
    expect(sized(2)?.left).toMatchObject({ lack_m: -16.5 });
    expect(sized(1.05)).toBe(undefined);
  });
});

describe("the order of the ways", () => {
  const sized = { inner_m: 3 };
  const whole = (more: Given, other: Given = {}) => ({
    ...course(coil(0, { indoors: true }), coil(40, { ...sized, ...more }), coil(200, { ...sized, ...other }), {
      indoors: true,
    }),
    coil_radius_m: 0.2,
    diameter_m: 0.01,
  });

  it("puts what is proven before what isn't where both need about as much", () => {
    expect(mend(whole({}), cut(152)).plans[0]).toMatchObject({ kind: "one_point", proven: true, unlooked: 0 });
    const guessed = mend(whole({ doubtful: true }, { doubtful: true }), cut(152));
    expect(at(guessed, "cut")).toMatchObject({ sure: false, to_prove: false, unlooked: 2 });
    // A new hole and two guesses against a second place and a piece of 132 m; one guess alone at the hole is less.
    const order = guessed.plans.map(({ kind, unlooked }) => `${kind} ${unlooked}`);
    expect(order.indexOf("two_points 0")).toBeLessThan(guessed.plans.indexOf(at(guessed, "cut") as MendPlan));
    expect(guessed.plans[0]).toMatchObject({ kind: "one_point", unlooked: 1 });
    const unsized = mend(whole({ inner_m: null }), cut(152));
    const [sized_m, unsized_m] = [at(unsized, "cut"), at(unsized, 1)];
    expect([sized_m, unsized_m]).toMatchObject([{ proven: true }, { sure: true, proven: false, unlooked: 1 }]);
    const place = (plan: MendPlan | undefined) => unsized.plans.indexOf(plan as MendPlan);
    expect(place(sized_m)).toBeLessThan(place(unsized_m));
  });

  it("puts what needs far less first though it is to be looked at, with the first that is sure beside it", () => {
    // Between the holes beside the cut 132 m of new cable do, if case and coils fit in the second; past it 1,253 m.
    const far = course({}, sized, { inner_m: null, leg_m: 900 }, sized, {});
    const { plans } = mend({ ...far, coil_radius_m: 0.2, diameter_m: 0.01 }, cut(152));
    const [first] = plans;
    expect(first).toMatchObject({ kind: "two_points", proven: false, unlooked: 1 });
    expect(first?.points.map((one) => one.at)).toEqual([1, 2]);
    const sure = plans.find(({ unlooked }) => unlooked === 0);
    expect(sure?.points.map((one) => one.at)).toEqual([1, 3]);
  });

  it("never puts proof before a third of the cost, whatever is unproven", () => {
    const kinds = ["one_point", "two_points", "to_end"] as const;
    const amounts = [0, 30, 80, 140, 240, 520, 900, 2000];
    const any = kinds.flatMap((kind) =>
      amounts.flatMap((new_cable_m) =>
        [0, 1, 2, 5].flatMap((unlooked) =>
          [0, 1].map((new_holes): MendPlan => {
            const point = { at: 1, hole_m: null, work_m: 10, held: false, unproven: [] };
            const points = kind === "two_points" ? [point, point] : [point];
            const landed = kind === "to_end" ? ("right" as const) : null;
            const sure = { to_prove: false, sure: true, proven: unlooked === 0, unlooked, waits_for_pipe: true };
            const parts = { left: NONE, right: NONE, coils_m: [], joints: points.length, pulled_m: 0 };
            return { kind, points, landed, new_cable_m, new_holes, ...parts, ...sure };
          }),
        ),
      ),
    );
    const better = betterBy();
    for (const a of any)
      for (const b of any) {
        if (needsOf(a) > 3 * needsOf(b)) expect(better(b, a)).toBeLessThan(0);
        if (needsOf(a) < needsOf(b) && a.unlooked <= b.unlooked) expect(better(a, b)).toBeLessThan(0);
        expect(Math.sign(better(a, b)) + Math.sign(better(b, a))).toBe(0);
      }
    // One order, in whichever they are found.
    const keys = (plans: MendPlan[]) => plans.map((plan) => JSON.stringify(plan));
    expect(keys(any.toSorted(better))).toEqual(keys(any.toReversed().toSorted(better)));
  });

  it("ends with a new cable, even where all else is to be proved", () => {
    const { plans } = mend(course({}, coil(9, { slides: "unproven" }), coil(30), {}), cut(152), HOLES);
    expect(plans.at(-1)?.kind).toBe("new_cable");
    expect(plans.filter(({ kind }) => kind === "new_cable").length).toBe(1);
  });
});

describe("a cut that can't be one", () => {
  it.each([
    [
      "beyond the cable's way",
      course({}, {}, {}),
      cut(500),
      /^The cut is at 500\sm of the way, which runs from 0\sm to 202\sm\.$/,
    ],
    ["at its end", course({}, {}, {}), cut(0), /is at the cable.s end and not on its way/],
    ["with less than nothing lost", course({}, {}, {}), cut(50, -1), /can't lose less than 0 m/],
    ["without a place", course({}, {}, {}), cut(Number.NaN), /has no place/],
    ["up to a clamped stop", course({}, { held: true }, {}), cut(98, 3), /loses glass up to a stop that is held/],
    ["of a cable without stops", { stops: [], legs: [], coil_radius_m: null }, cut(5), /stops are not on record/],
  ])("%s is refused in words", (_, one, where, words) => {
    expect(mendPlans(one, where, POLICY)).toMatch(words);
  });
});
