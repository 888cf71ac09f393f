/**
 * Where the marks at both mouths of a hole differ by its crossing alone, nothing is coiled there: from the record, through
 * the question a crew asks, no way to mend may draw a metre from it.
 */
import { describe, expect, it } from "vitest";
import type { MendAnswer } from "../../core/repair/answer.ts";
import { CROSSING_M, line } from "../jobs/line.ts";

const CUT = { cable: "F-050", after: "H-1", metres: 40, lost_left_m: 1, lost_right_m: 1 };

describe("a cable that crosses every hole and is coiled in none", () => {
  it("lends nothing to any way of mending it, though its marks differ in each", async () => {
    const plant = await line();
    // Where nothing must stay coiled, a crossing taken for a coil would be drawn on.
    await plant.add("limit_value", { tag: "repair.keep_m", value: 0, unit: "m", reason: "no coils are kept" });
    const across = [1100, 1100 + CROSSING_M, 1200 + CROSSING_M, 1200 + 2 * CROSSING_M, 1300 + 2 * CROSSING_M];
    await plant.edit("stop", "F-050@2", { mark_out: across[1] });
    await plant.edit("stop", "F-050@3", { mark_in: across[2], mark_out: across[3] });
    await plant.edit("stop", "F-050@4", { mark_in: across[4], mark_out: 1300 + 3 * CROSSING_M });
    await plant.edit("stop", "F-050@5", { mark_in: 1400 + 3 * CROSSING_M });
    const { plans } = await plant.run<MendAnswer>("mend.plans", CUT);
    expect(plans.length).toBeGreaterThan(0);
    expect(plans.map(({ pulled_m }) => pulled_m)).toEqual(plans.map(() => 0));
    // One coil more, and a way draws on it.
    await plant.edit("stop", "F-050@4", { mark_out: 1300 + 3 * CROSSING_M + 40 });
    await plant.edit("stop", "F-050@5", { mark_in: 1400 + 3 * CROSSING_M + 40 });
    const coiled = await plant.run<MendAnswer>("mend.plans", CUT);
    expect(Math.max(...coiled.plans.map(({ pulled_m }) => pulled_m))).toBeGreaterThan(0);
  });
});
