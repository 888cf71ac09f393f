/** Where a cable can't be mended from coils, against every plan for cut after cut. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { insteadOf, openCourse } from "../../core/repair/coils/open.ts";
import { anyCourse, byTrying, course, cuts, type Given, knowing, POLICY } from "./courses.ts";

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
        nearest: { at: "cut", short_left_m: 11, short_right_m: 11 },
      },
    ]);
    expect(proven.coils).toEqual([
      { stop: 0, more_m: 11 },
      { stop: 3, more_m: 11 },
    ]);
  });

  it("is open but where one remain reaches back to a hole and the only coil reaches over to it", () => {
    const { stretches } = open({}, {}, { coil_m: 41 });
    // Past the mouth at 102 m: the crossing of 2 m and 8 m of way make 10 m, and 1 m is lost; 41 m less 10 m and 1 m is 30 m.
    // Beside the panel at 0 m as well: from 10 m and 1 m on the stump is long enough, up to 41 m less 10 m and 1 m.
    expect(stretches.map(({ from_m, to_m }) => [Math.round(from_m), Math.round(to_m)])).toEqual([
      [1, 11],
      [30, 111],
      [132, 201],
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
