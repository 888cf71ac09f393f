/** A cable drawn along its way: to scale where lengths are on record, and never a coil that nobody recorded. */
import { describe, expect, it } from "vitest";
import type { CableAnswer } from "../../core/trace/cable-answer.ts";
import { courseLayout, isCoiled } from "../../renderer/views/cable/course-layout.ts";
import { newPlant } from "../support/plant.ts";

/** Three places joined by two ways of these lengths, 5 m through the second; `middle`: what is recorded of the cable there. */
async function course(lengths: readonly (number | null)[], middle: object = {}): Promise<CableAnswer> {
  const { run } = await newPlant();
  for (const tag of ["H-1", "H-2", "H-3"])
    await run("record.add", {
      kind: "space",
      values: { tag, kind: "hand_hole", crossing_m: tag === "H-2" ? 5 : null },
    });
  for (const [index, length_m] of lengths.entries()) {
    const values = { from_space_id: `H-${index + 1}`, to_space_id: `H-${index + 2}`, length_m };
    await run("record.add", { kind: "pathway", values: { tag: `DB-${index + 1}`, kind: "duct_bank", ...values } });
  }
  const stops = [
    { space: "H-1", way: { pathway: "DB-1" } },
    { space: "H-2", way: { pathway: "DB-2" }, ...middle },
    { space: "H-3" },
  ];
  const units = [{ kind: "tube", repeats: 1, strands: 12, coating_um: "250" }];
  await run("cable.enter", { tag: "F-1", mark_unit: "m", units, stops });
  return run<CableAnswer>("cable.show", { cable: "F-1" });
}

describe("a cable of whose ways no length is on record", () => {
  it("has no scale: its legs share the breadth, and its places take none of it", async () => {
    const { stops, legs, perMetre } = courseLayout(await course([null, null], { mark_in: 100, mark_out: 105 }), 900);
    expect(perMetre).toBeNull();
    expect(stops.map(({ width }) => width)).toEqual([0, 0, 0]);
    expect(legs.map(({ x1, x2 }) => x2 - x1)).toEqual([450, 450]);
  });
});

describe("a cable of whose ways lengths are on record", () => {
  it("is drawn to scale, stretches without one beside it", async () => {
    const { legs, perMetre } = courseLayout(await course([80, null]), 900);
    expect(legs.map(({ unscaled }) => unscaled)).toEqual([false, true]);
    expect((legs[0]?.x2 ?? 0) - (legs[0]?.x1 ?? 0)).toBeCloseTo(80 * (perMetre ?? 0), 6);
  });
});

describe("turns of a coil", () => {
  it.each([
    ["no marks, and nothing is said of a coil", {}, false],
    ["a coil of 12 m on record", { slack_m: 12 }, true],
    ["marks that leave 15 m inside", { mark_in: 100, mark_out: 115 }, true],
    ["marks that leave nothing inside", { mark_in: 100, mark_out: 100 }, false],
  ])("are drawn or not: %s", async (_, middle, drawn) => {
    const stop = (await course([80, 60], middle)).stops[1];
    expect(stop && isCoiled(stop)).toBe(drawn);
  });
});
