/** Whether the hole holds case, loop and lateral: readings 7 and 8 of the project, in numbers reckoned by hand. */
import { describe, expect, it } from "vitest";
import type { BreakoutAnswer } from "../../core/breakout/answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { way } from "./way.ts";

const ASKED = { cable: "F-1", at: "H-2", strands: 4, side: "a" } as const;
const plain = (text: string): string => text.replace(/\s/g, " ");
const room = async (plant: CheckedPlant, more: object = {}) =>
  (await plant.run<BreakoutAnswer>("breakout.plans", { ...ASKED, ...more })).plans[0]?.room;
/** F-1 is 12 mm thick (tests/breakout/way.ts) and bends to a radius of 0.2 m here. */
const sized = async (
  inner: Record<string, unknown>,
  type: Record<string, unknown> = { bend_radius_mm: 200 },
): Promise<CheckedPlant> => {
  const plant = await way({ type });
  await plant.edit("space", "H-2", inner);
  return plant;
};

describe("the hole", () => {
  // 16 m lie in H-2 once 4 m are pulled; 4 m are the crossing and 6 m the window: 6 m are stored, and 7.4 m of lateral.
  // That is 11 turns of 2 pi x 0.2 m, so 4 rows of 12 mm; the ring takes 2 x (0.2 + 0.048) m and the case 0.5 m.
  const NEEDS_M = 2 * (0.2 + 4 * 0.012) + 0.5;

  it("of known size is told with both numbers, and is refused a job where it is too small", async () => {
    expect(await room(await sized({ inner_length_m: 1, inner_width_m: 1 }))).toMatchObject({ fits: "yes", has_m: 1 });
    expect((await room(await sized({ inner_length_m: 1, inner_width_m: 1 })))?.needs_m).toBeCloseTo(NEEDS_M, 3);
    const plant = await sized({ inner_length_m: 1, inner_width_m: 0.99 });
    const small = await room(plant);
    expect(small).toMatchObject({ fits: "no", has_m: 0.99, to_prove: [] });
    expect(small?.words).toBe("H-2 is too small: it is 0.99 m wide, and case and coils at their radius need 1 m");
    expect(await plant.call("job.plan_breakout", { ...ASKED, job: "J-1" })).toMatchObject({
      error: { code: "not_possible", problems: [{ field: "at", record: "H-2" }] },
    });
    const { sentence } = await plant.run<BreakoutAnswer>("breakout.plans", ASKED);
    expect(plain(sentence)).toContain("H-2 is too small");
  });
  it("has less room beside what lies there: another case, another cable's coil", async () => {
    const plant = await sized({ inner_length_m: 1.4, inner_width_m: 1 });
    expect((await room(plant))?.fits).toBe("yes");
    await plant.run("closure.enter", { tag: "CL-9", space: "H-2", trays: [{ numbers: "T1", capacity: 1 }] });
    expect(await room(plant)).toMatchObject({ fits: "no", has_m: 1.4 });
    // The case that hangs there is the one that is used: it takes no more room than it takes now.
    await plant.run("record.add", { kind: "tray", values: { closure_id: "H-2/CL-9", tag: "T2", capacity: 12 } });
    expect((await room(plant, { closure: "CL-9" }))?.fits).toBe("yes");
  });
  it("of unknown size, or for a coil of unknown radius, is to be proved and never refused", async () => {
    for (const plant of [await sized({}), await sized({ inner_length_m: 0.5, inner_width_m: 0.5 }, {})]) {
      const { plans } = await plant.run<BreakoutAnswer>("breakout.plans", ASKED);
      expect(plans[0]?.room).toMatchObject({ fits: null, has_m: null });
      expect(plans[0]?.to_prove).toContain("whether case and coils fit in H-2");
      expect((await plant.call("job.plan_breakout", { ...ASKED, job: "J-1" })).ok).toBe(true);
    }
  });
});
