/** Where a cable can't be mended from coils, against every plan for cut after cut. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { insteadOf, openCourse } from "../../core/repair/coils/open.ts";
import { anyCourse, byTrying, course, cuts, digging, type Given, knowing, POLICY } from "./courses.ts";

const lost = (metres: number) => ({ left_m: metres, right_m: metres });

describe("on any cable", () => {
  it("every cut is told as the plans for it say", () => {
    fc.assert(
      fc.property(anyCourse(7), fc.integer({ min: 0, max: 3 }), (one, lost_m) => {
        const { stretches } = openCourse(one, lost(lost_m), POLICY);
        for (const at_m of cuts(one, 0.37)) {
          const near = stretches.some(
            ({ from_m, to_m }) => Math.min(Math.abs(at_m - from_m), Math.abs(at_m - to_m)) < 0.002,
          );
          const whole = at_m * 2 - Math.round(at_m * 2);
          // At a mouth or the middle of a hole itself a cut belongs to either side.
          if (near || Math.abs(whole) < 0.002) continue;
          const told = stretches.find(({ from_m, to_m }) => from_m < at_m && at_m < to_m)?.state ?? "good";
          const tried = byTrying(one, at_m, lost_m);
          const known = byTrying(knowing(one, 1e6), at_m, lost_m);
          const should =
            tried === "good" || tried === "other"
              ? "good"
              : known === "good"
                ? "untold"
                : tried === "to_prove"
                  ? "to_prove"
                  : "lacks";
          if (told !== should) throw new Error(`at ${at_m}: told ${told}, tried ${tried}, with coils known ${known}`);
        }
      }),
      { seed: 7, numRuns: 400 },
    );
  });
});

describe("on any small cable", () => {
  it("a cut is cured by a new hole exactly where one of all that can be dug on its leg does", () => {
    let shifted = 0;
    fc.assert(
      fc.property(anyCourse(4), fc.integer({ min: 0, max: 3 }), (one, lost_m) => {
        const { stretches } = openCourse(one, lost(lost_m), POLICY);
        for (const at_m of cuts(one, 2.37)) {
          const near = stretches.some(
            ({ from_m, to_m }) => Math.min(Math.abs(at_m - from_m), Math.abs(at_m - to_m)) < 0.002,
          );
          if (near) continue;
          const open = stretches.find(({ from_m, to_m }) => from_m < at_m && at_m < to_m);
          const tried = byTrying(one, at_m, lost_m);
          if (tried === "other") continue;
          const dug = digging(one, at_m, lost_m);
          if (dug === "good" && digging(one, at_m, lost_m, 0) !== "good") shifted += 1;
          const fault = tried === "good" ? open !== undefined : open === undefined || dug === "good";
          if (fault)
            throw new Error(`at ${at_m}: told ${open?.state ?? "good"}, tried ${tried}, with every hole ${dug}`);
        }
      }),
      { seed: 5, numRuns: 150 },
    );
    expect(shifted).toBeGreaterThan(100);
  });
});

describe("a cable", () => {
  const open = (...given: Given[]) => openCourse(course(...given), lost(1), POLICY);

  it("with coils enough at both ends can be mended wherever it is cut", () => {
    expect(open({ coil_m: 11 }, {}, {}, { coil_m: 11 })).toMatchObject({
      stretches: [],
      asked_m: 302,
      other_m: 2,
      proven: { coils: [], exact: true, barred: [] },
    });
  });

  it("without any is open from end to end, and lacks what both sides of a splice take and what is lost", () => {
    const { stretches, proven } = open({}, {}, {}, {});
    expect(stretches).toEqual([
      {
        from_m: 1,
        to_m: 303,
        state: "lacks",
        by_coils: "proven",
        too_long: false,
        nearest: { at: "cut", hole_m: 152, short_left_m: 11, short_right_m: 11 },
      },
    ]);
    expect(proven.coils).toEqual([
      { stop: 0, more_m: 11 },
      { stop: 3, more_m: 11 },
    ]);
  });

  it("is open but where one remain reaches back to a place, new or there, and the only coil reaches over to it", () => {
    const { stretches } = open({}, {}, { coil_m: 41 });
    // The left remain has no coil: 1 m is lost and 10 m are wanted, so that a new hole is 11 m back from the cut. From 11 m on
    // there is ground for it. Past the hole's mouth at 100 m the stump is long enough from 111 m on, from 113 m on for a new
    // hole beyond it. The 41 m from the other end reach 30 m over the way: 19 m over the 11 m to a new hole.
    expect(stretches.map(({ from_m, to_m }) => [Math.round(from_m), Math.round(to_m)])).toEqual([
      [1, 11],
      [100, 111],
    ]);
    // With 1 m less than both want together no new hole serves.
    const less = open({}, {}, { coil_m: 21 }).stretches.map(({ from_m, to_m }) => [
      Math.round(from_m),
      Math.round(to_m),
    ]);
    // But for the metre in which the old hole's stump is just long enough, and the other remain reaches back to it.
    expect(less).toEqual([
      [1, 111],
      [112, 201],
    ]);
  });

  it("whose coils nobody knows isn't judged where they decide", () => {
    const { stretches, proven } = open({ coil_m: 11 }, {}, { coil_m: null });
    expect(stretches).toMatchObject([{ from_m: 1, to_m: 201, state: "untold" }]);
    expect(proven.coils).toEqual([]);
  });

  it("that hangs on legs that nobody has proven says so, and what would cure it once they are", () => {
    const two = open({ coil_m: 11 }, { slides: "unproven" }, { coil_m: 11 });
    expect(two.stretches.map(({ state }) => state)).toEqual(["to_prove"]);
    // By proven legs alone a coil at the hole would do for the first leg; nothing does for the second.
    expect(two.proven.coils.map(({ stop }) => stop)).toEqual([1]);
    expect(two.once_proven?.coils).toEqual([]);
    const bare = open({}, { slides: "unproven" }, {});
    expect(bare.stretches.at(-1)).toMatchObject({ state: "lacks", by_coils: "once_proven" });
    expect(bare.once_proven?.coils).toEqual([
      { stop: 0, more_m: 11 },
      { stop: 2, more_m: 11 },
    ]);
  });
});

describe("where no coil helps", () => {
  const instead = (at_m: number, ...given: Given[]) => insteadOf(course(...given), lost(1), POLICY, at_m);

  it("the leg that would have to slide is named", () => {
    const buried: Given[] = [{}, { slides: "no" }, {}, {}];
    const { stretches } = openCourse(course(...buried), lost(1), POLICY);
    expect(stretches.find(({ from_m, to_m }) => from_m < 150 && 150 < to_m)?.by_coils).toBe(null);
    expect(instead(150, ...buried)).toEqual({ kind: "legs", legs: [1] });
  });

  it("and a farther one where the nearer hole can hold none", () => {
    const given: Given[] = [{ slides: "no" }, { usable: false }, {}, {}];
    expect(instead(150, ...given)).toEqual({ kind: "legs", legs: [0] });
  });

  it("a hole close to an opening, whose near coil is all there is", () => {
    expect(instead(150, {}, { kind: "opened" }, {}, {})).toEqual({ kind: "hole", stops: [1] });
  });
});
