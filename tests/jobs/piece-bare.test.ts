/** A piece is as long as its way and its splices take: of the places it passes it is told that no coil is reckoned there. */
import { describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { MendAnswer, MendWhole } from "../../core/repair/answer.ts";
import { line } from "./line.ts";
import { CUT, choose } from "./mending.ts";

const flat = (words: string | null | undefined): string => (words ?? "").replace(/\s/g, " ");
const between = (a: string, b: string) => (plan: MendAnswer["plans"][number]) =>
  plan.kind === "two_points" && plan.points.map(({ words }) => words).join() === `${a},${b}`;

describe("a piece of new cable", () => {
  it("that passes a place says so, and how much more it takes with what the plant keeps coiled there", async () => {
    const plant = await line();
    const { plans } = await plant.run<MendAnswer>("mend.plans", CUT);
    const long = plans.findIndex(between("H-1", "H-3"));
    // From mouth to mouth 100 + 3 + 100 m, 10.4 m for each splice, and a tenth of waste: nothing for a coil in H-2.
    expect(plans[long]?.new_cable_m).toBeCloseTo((203 + 2 * 10.4) * 1.1, 6);
    const words =
      "no coil of it is reckoned at H-2, which it passes: with what the plant keeps in each place it takes 6 m more";
    expect(flat(plans[long]?.bare)).toBe(words);
    const { steps }: JobAnswer = await choose(plant, long + 1);
    expect(flat(steps.find(({ words: step }) => step.startsWith("Lay F-051"))?.words)).toContain(words);
    await plant.add("limit_value", { tag: "repair.keep_m", value: 0, unit: "m", reason: "no coils are kept" });
    const none = (await plant.run<MendAnswer>("mend.plans", CUT)).plans.find(between("H-1", "H-3"));
    expect(none?.bare).toBe("no coil of it is reckoned at H-2, which it passes");
  });

  it("from one hole to the next has nothing to say, nor has one over the ground, nor another way of mending", async () => {
    const { plans, temporary } = await (await line()).run<MendWhole>("mend.plans", CUT);
    expect(plans.find(between("H-1", "H-2"))?.bare).toBe(null);
    const others = plans.filter(({ kind }) => kind !== "two_points");
    expect(others.length).toBeGreaterThan(2);
    expect(others.map(({ bare }) => bare)).toEqual(others.map(() => null));
    expect(temporary.plan?.bare).toBe(null);
  });
});
