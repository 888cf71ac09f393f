/** What slides is held to the tension of each leg's own pull. */
import { describe, expect, it } from "vitest";
import type { MendAnswer } from "../../core/repair/answer.ts";
import { mirrored } from "../../core/repair/course.ts";
import { holdToPulls, type LegPull, slidesBy } from "../../core/repair/pulls.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { line } from "./line.ts";

const mend = ({ run }: CheckedPlant) => run<MendAnswer>("mend.plans", { cable: "F-100", mark: 1200 });
const atCut = ({ plans }: MendAnswer) => plans.find(({ kind, new_holes }) => kind === "one_point" && new_holes === 1);

describe("a leg through which the cable is pulled", () => {
  it("slides where the record says so and the estimate is within what the cable bears", async () => {
    const answer = await mend(await line());
    expect(atCut(answer)?.to_prove.join()).not.toContain("slides");
    expect(answer.stuck).toEqual([]);
  });

  it("can't slide where a pull takes more than the cable bears, with both numbers", async () => {
    const plant = await line();
    // 12 mm of 1100 kg/m³ are 1.22 N/m; dry friction of 0.5 over 150 m makes 91.5 N: MIL-HDBK-1012/3's formula.
    await plant.edit("cable", "F-100", { differs: { max_tension_n: 91 } });
    const answer = await mend(plant);
    expect(atCut(answer)).toBe(undefined);
    expect(answer.stuck).toEqual([
      "between H-1 and H-2 it can't be pulled: that takes 92 N by estimate, and it bears 91 N",
    ]);
    expect(answer.plans[0]).toMatchObject({ kind: "two_points", pulled_m: 0 });
  });

  it("is to be proved where what the cable bears or the way's bends are not on record, naming leg and numbers", async () => {
    const plant = await line();
    await plant.edit("pathway", "W-2", { geometry: null });
    expect(atCut(await mend(plant))?.to_prove).toContain(
      "whether the cable slides between H-1 and H-2 (a pull takes at least 92 N by estimate, it bears 2700 N; not on record: its bends (a line on the map))",
    );
    await plant.edit("cable_type", "LT-24", { max_tension_n: null, environment: null });
    expect(atCut(await mend(plant))?.to_prove.join()).toMatch(/between H-1 and H-2 \(.*what it bears is not known/);
  });

  it("is not held to a pull where it is laid and not pulled", async () => {
    const plant = await line();
    await plant.edit("pathway", "W-2", { geometry: null, kind: "tunnel" });
    expect(atCut(await mend(plant))?.to_prove.join()).not.toContain("slides");
  });
});

describe("a pull that is heavier one way", () => {
  const own: LegPull = { onward_n: 500, back_n: 100, bears_n: 300, lacks: [] };
  it("is refused that way alone, and turned about with the course", () => {
    const stop = { kind: "end" as const, left_m: 0, through_m: 0, coil_left_m: 0, coil_right_m: 0, held: false };
    const ends = [0, 10].map((left_m) => ({ ...stop, left_m, keep_m: 0, work_m: 1, usable: true, inner_m: null }));
    const course = { stops: ends, legs: [{ length_m: 10, slides: "yes" as const }], coil_radius_m: null };
    const held = holdToPulls(course, [own]);
    expect(held.legs[0]).toMatchObject({ slides: "no", slides_back: "yes" });
    expect(mirrored(held).legs[0]).toMatchObject({ slides: "yes", slides_back: "no" });
    expect(mirrored(mirrored(held))).toEqual(held);
  });

  it.each([
    ["no", 1, own, "no"],
    ["yes", 300, own, "yes"],
    ["yes", 301, own, "no"],
    ["unproven", 1, own, "unproven"],
    ["yes", null, own, "unproven"],
    ["yes", 1, { ...own, bears_n: null }, "unproven"],
    ["yes", 1, { ...own, lacks: ["its bends"] }, "unproven"],
    ["yes", 301, { ...own, lacks: ["its bends"] }, "no"],
  ] as const)("a leg that slides: %s, at %s N, is held to it", (slides, newtons, by, outcome) => {
    expect(slidesBy(slides, newtons, by)).toBe(outcome);
  });
});
