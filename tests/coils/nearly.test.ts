/** Fewer coils that cure nearly all: by hand, and that what is told to stay open is what stays open. */
import { describe, expect, it } from "vitest";
import type { CoilsAnswer } from "../../core/repair/coils/answer.ts";
import { openCourse } from "../../core/repair/coils/open.ts";
import type { Course } from "../../core/repair/course.ts";
import { newSample } from "../support/made.ts";
import { course, type Given, POLICY, withMore } from "./courses.ts";
import { coiled } from "./plant.ts";

// Two rooms and three holes. 6 m stay in every coil, 3 m are lost on each side; a room holds 15 m at most, a hole 30 m.
const room: Given = { coil_m: 8, keep_m: 6, work_m: 4.4, coil_most_m: 15 };
const hole: Given = { coil_m: 15, keep_m: 6, work_m: 6.4, coil_most_m: 30, through_m: 5 };
const line = course(
  { ...room, leg_m: 49 },
  { ...hole, leg_m: 93 },
  { ...hole, coil_m: 0, leg_m: 102 },
  { ...hole, leg_m: 47 },
  room,
);
const open = (one: Course, lost_m = 3) => openCourse(one, { left_m: lost_m, right_m: lost_m }, POLICY);

describe("fewer coils than cure all", () => {
  it("are told where they leave little open, and leave open what is told", () => {
    const { proven, nearly } = open(line);
    expect(proven.coils).toHaveLength(5);
    const few = nearly(false);
    // A room filled up gives 9 m. A splice in the first hole, its mouth at 49 m, takes 6.4 m and the 3 m lost: it is reached
    // for cuts from 49 + 6.4 + 3 - 9 = 49.4 m on. A new hole serves up to the mouth. The same from the other end, 47 m
    // from the last hole.
    expect(few?.coils.map(({ stop, more_m }) => [stop, Math.round(more_m * 1000) / 1000])).toEqual([
      [0, 7],
      [4, 7],
    ]);
    const end_m = 49 + 93 + 102 + 47 + 3 * 5;
    const stays = [
      { from_m: 49, to_m: 49.4 },
      { from_m: end_m - 47.4, to_m: end_m - 47 },
    ];
    const near = (list: readonly { from_m: number; to_m: number }[] | undefined) =>
      list?.map(({ from_m, to_m }) => [Math.round(from_m * 100) / 100, Math.round(to_m * 100) / 100]);
    expect(near(few?.open)).toEqual(near(stays));
    const then = withMore(line, new Map(few?.coils.map(({ stop, more_m }) => [stop, more_m])));
    expect(near(open(then).stretches)).toEqual(near(stays));
  });

  it("aren't told where each coil of the smallest set cures much, nor where one coil is all", () => {
    // Both sides want 22 m together, and no place holds more than 15 m.
    const bound: Given = { coil_most_m: 15 };
    expect(open(course(bound, bound, bound, bound), 1).proven.coils).toHaveLength(2);
    expect(open(course(bound, bound, bound, bound), 1).nearly(false)).toBe(null);
    expect(open(course({ coil_m: 3 }, {}, { coil_m: 11 }), 1).nearly(false)).toBe(null);
    expect(open(course({ coil_m: 11 }, {}, { coil_m: 11 }), 1).nearly(false)).toBe(null);
  });
});

describe("the study of coils", () => {
  it("says so of the cable that is asked about, and works it out for no other", async () => {
    const plant = await newSample();
    const { cables } = await plant.run<CoilsAnswer>("coils.study", { of: "F-030" });
    expect(cables[0]?.cure.coils).toHaveLength(5);
    expect(cables[0]?.cure.nearly).toMatchObject({
      coils: [
        { words: "WAV/ER", more_m: 7 },
        { words: "SLT/ER", more_m: 7 },
      ],
      more_m: 14,
    });
    expect(cables[0]?.cure.nearly?.words.replace(/\s/g, " ")).toBe(
      "Nearly as much is cured by fewer: WAV/ER +7 m and SLT/ER +7 m, 14 m in all, leave 0.8 m of way open.",
    );
    const all = await plant.run<CoilsAnswer>("coils.study", {});
    expect(all.cables.map(({ cure }) => cure.nearly)).toEqual(all.cables.map(() => null));
    expect((await (await coiled()).run<CoilsAnswer>("coils.study", { of: "F-1" })).cables[0]?.cure.nearly).toBe(null);
  });
});
