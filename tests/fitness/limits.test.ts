/** The plant's own limits that can't be: the published one stands and says so, or nothing can be told. */

import { describe, expect, it } from "vitest";
import type { RuleName } from "../../core/fitness/answer.ts";
import { slip } from "../support/slip.ts";
import { GOOD, ground } from "./ground.ts";

const TYPE = { ...GOOD, environment: "outdoor", fire_marking: null };
const BARE = { ...TYPE, bend_radius_mm: null, max_tension_n: null };

describe("a limit of the plant's own that can't be", () => {
  it.each([
    ["unlisted.indoor_m", -1, "unlisted", 15, /in place of the plant's own -1 x, which can't be: NEC 770.*second-hand/],
    ["fill.one", -1, "fill", 53, /in place of the plant's own -1 x, which can't be: NEC chapter 9/],
    ["fill.one", 0, "fill", 53, /own 0 x, which can't be/],
    ["fill.one", 53, "fill", 53, /own 53 x, which can't be/],
    ["bend.rest", -10, "coil", 120, /own -10 x, which can't be/],
    ["pull.friction.dry", -0.5, "tension", 0.5, /own -0.5 x, which can't be/],
    ["pull.tension.outdoor", 0, "tension", 2700, /own 0 x, which can't be/],
  ] as const)("%s of %s is not used", async (tag, value, rule, used, source) => {
    const plant = await ground();
    await plant.add("limit_value", { tag, value: 1, unit: "x", source: "A slip of the pen" });
    slip(plant, tag, value);
    await plant.lay("F-1", BARE, "MH-2 EN-2/1 SCI/ER", {
      stops: { 1: { storage: "coil", coil_diameter_mm: 500 }, 2: { slack_m: 2 } },
    });
    const [one] = await plant.of("F-1", rule as RuleName);
    expect(one?.verdict).toBe(rule === "tension" ? "cannot_tell" : "fits");
    const figure = one?.figures.find((figure) => figure.value === used);
    expect(figure?.source).toMatch(source);
  });

  it("below zero leaves cover and weight to be told by something else, or not at all", async () => {
    const plant = await ground();
    await plant.add("limit_value", { tag: "depth.least", value: 1, unit: "m" });
    slip(plant, "depth.least", -1);
    await plant.add("limit_value", { tag: "weight.T-F-1", value: 200, unit: "kg/km" });
    slip(plant, "weight.T-F-1", -200);
    await plant.lay("F-1", GOOD, "MH-1 DB-1/1 MH-2");
    const [depth] = await plant.of("F-1", "depth");
    expect(depth?.verdict).toBe("cannot_tell");
    expect(depth?.lacks).toContain("a least depth that can be, not -1 m, of `depth.least`");
    const [pull] = await plant.of("F-1", "tension");
    expect(pull?.figures.find(({ words }) => words === "weight of the cable")).toMatchObject({
      basis: "typical",
      source: expect.stringMatching(/^the plant's own -200 kg\/km can't be; 1100 kg/),
    });
  });

  it("of none is used where none can be", async () => {
    const plant = await ground();
    await plant.add("limit_value", { tag: "unlisted.indoor_m", value: 0, unit: "m", source: "Island code" });
    await plant.lay("F-1", TYPE, "MH-2 EN-2/1 SCI/ER", { stops: { 2: { slack_m: 2 } } });
    expect((await plant.of("F-1", "unlisted"))[0]).toMatchObject({
      verdict: "does_not",
      source: expect.stringMatching(/the plant's own: Island code/),
    });
  });
});
