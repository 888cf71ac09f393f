/** Where the one new hole is dug in which both remains of a cut meet: lengths by hand. */
import { describe, expect, it } from "vitest";
import { at, coil, course, cut, HOLES, mend, POLICY } from "./courses.ts";

// LIB --100 m-- hole 1 --100 m-- hole 2 --100 m-- SCI; the holes' mouths are at 100, 102, 202 and 204 m. A splice takes 10 m of
// each side. Cut at 152 m, 1 m lost on each side, a remain wants 11 m of coil at the cut, and a metre more or less for each
// metre that the hole lies farther from it or nearer to it.
describe("a new hole for both remains", () => {
  const between = (left_m: number, right_m: number, more = {}) =>
    course({}, coil(left_m, more), coil(right_m, more), {});

  it("is at the cut where both reach it, however much more either has", () => {
    expect(at(mend(between(11, 40), cut(152)), "cut")?.points).toMatchObject([{ hole_m: 152 }]);
  });

  it("is nearer to the remain that lacks, by what it lacks and no more", () => {
    // 10.6 m are 0.4 m too few; the other has 12 m for the 11 m, and 0.4 m more, that it wants then.
    const plan = at(mend(between(10.6, 12), cut(152)), "cut");
    expect(plan?.points).toMatchObject([{ hole_m: 151.6 }]);
    expect(plan?.left).toMatchObject({ lack_m: expect.closeTo(10.6, 9), short_m: 0, drawn: [{ stop: 1 }] });
    expect(plan?.right).toMatchObject({ lack_m: expect.closeTo(11.4, 9), short_m: 0, drawn: [{ stop: 2 }] });
    // Both together want what they want at the cut.
    expect(plan?.pulled_m).toBeCloseTo(22, 9);
    const other = at(mend(between(12, 10.6), cut(152)), "cut");
    expect(other?.points).toMatchObject([{ hole_m: 152.4 }]);
  });

  it("is so many whole tenths of a metre from the cut where there is that much to give, and else as far as must be", () => {
    expect(at(mend(between(10.63, 12), cut(152)), "cut")?.points[0]?.hole_m).toBeCloseTo(151.6, 9);
    expect(at(mend(between(10.63, 11.37), cut(152)), "cut")?.points[0]?.hole_m).toBeCloseTo(151.63, 9);
  });

  it("meets in the open anywhere within what is destroyed, and waits for nothing", () => {
    const plan = at(mend(between(10, 12), cut(152)), "cut");
    // 151 m: just where the sheath of the left remain begins to be sound.
    expect(plan).toMatchObject({ points: [{ hole_m: 151 }], left: { lack_m: 10 }, waits_for_pipe: false });
  });

  it("is dug beyond what is destroyed where its sheath comes back, and then the other is pulled across the break", () => {
    // A left remain without a coil gives its last 10 m: the hole is 11 m back, and the right wants 11 m and those 11 m.
    const plan = at(mend(between(0, 22), cut(152)), "cut");
    expect(plan).toMatchObject({
      points: [{ hole_m: 141 }],
      left: { stump_m: 10, lack_m: 0, trimmed_m: 0, drawn: [], across: false },
      right: { lack_m: 22, drawn: [{ stop: 2, pulled_m: 22, left_m: 0 }], across: true },
      waits_for_pipe: true,
    });
    expect(at(mend(between(0, 21.9), cut(152)), "cut")).toBe(undefined);
  });

  it("lies on the leg that is cut: no nearer to a hole that is there than its mouth", () => {
    // 5 m beyond the mouth at 102 m there is no ground 11 m back.
    expect(at(mend(between(0, 60), cut(107)), "cut")).toBe(undefined);
    expect(at(mend(between(0, 60), cut(113.5)), "cut")?.points).toMatchObject([{ hole_m: 102.5 }]);
  });

  it("isn't dug where the sheath of one can't slide, whatever the other has", () => {
    expect(at(mend(course({}, coil(10.6, { slides: "no" }), coil(90), {}), cut(152)), "cut")).toBe(undefined);
  });

  it("is refused where both together have too little, at the place where they lack least", () => {
    const { refused } = mend(between(9, 12), cut(152));
    expect(refused.find((one) => one.at === "cut")).toMatchObject({
      hole_m: 151,
      short_left_m: 1,
      short_right_m: 0,
      reason: "the cable does not reach",
    });
  });

  it("stands where proven legs reach it rather than at the cut by legs that nobody has proven", () => {
    // Of the 11 m on the left 5 m lie behind a leg that may not slide; the right has 6 m to spare.
    const legs = (right_m: number) => course({}, coil(50, { slides: "unproven" }), coil(5), coil(right_m), {});
    expect(at(mend(legs(17), cut(254)), "cut")).toMatchObject({ to_prove: false, points: [{ hole_m: 248 }] });
    expect(at(mend(legs(16), cut(254)), "cut")).toMatchObject({ to_prove: true, points: [{ hole_m: 254 }] });
  });

  it("stands where coils that somebody read reach it rather than where one that is guessed would be drawn on", () => {
    // Of the 11 m on the left 6 m would come of a guessed coil; the right has 11 m beyond the 11 m that it wants.
    const guessed = (right_m: number) => course({}, coil(9, { doubtful: true }), coil(5), coil(right_m), {});
    const plan = at(mend(guessed(22), cut(254)), "cut");
    expect(plan).toMatchObject({ sure: true, points: [{ hole_m: 248 }], left: { drawn: [{ stop: 2, pulled_m: 5 }] } });
    // With too little on the right there is no such place: then the guess is taken, and told.
    expect(at(mend(guessed(16), cut(254)), "cut")).toMatchObject({ sure: false, points: [{ hole_m: 254 }] });
  });

  it("isn't moved where another cable's mend has it dug", () => {
    expect(at(mend(between(10.6, 12), cut(152), { ...POLICY, hole_m: 152 }), "cut")).toBe(undefined);
    expect(at(mend(between(10.6, 12), cut(152), { ...POLICY, hole_m: 151 }), "cut")?.points).toMatchObject([
      { hole_m: 151 },
    ]);
  });

  it("is dug on no leg that takes none, with that leg's reason", () => {
    const one = between(12, 12);
    const tray = { ...one, legs: one.legs.map((leg) => ({ ...leg, no_hole: "it lies on a tray there" })) };
    expect(mend(tray, cut(152), HOLES).refused.find((no) => no.at === "cut")?.reason).toBe("it lies on a tray there");
  });
});
