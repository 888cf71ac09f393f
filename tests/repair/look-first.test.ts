/**
 * A coil that nobody has read, where a better way hangs on it. On the line of `line.ts` F-102 lies in pipe 3, and of its
 * marks in H-2 one alone was read; elsewhere no coil hangs.
 */
import { describe, expect, it } from "vitest";
import type { MendWhole } from "../../core/repair/answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { line } from "./line.ts";

const way = (conduit: string) => ({ conduit, held: "loose", slides: "yes" });

async function unread(out: number | null): Promise<CheckedPlant> {
  const plant = await line();
  await plant.run("cable.enter", {
    tag: "F-102",
    type: "LT-24",
    mark_unit: "m",
    stops: [
      { space: "LIB/101", mark_open_from: 400, mark_out: 400, way: way("W-1/3") },
      { space: "H-1", mark_in: 500, mark_out: 502, way: way("W-2/3") },
      { space: "H-2", mark_in: 652, ...(out === null ? {} : { mark_out: out }), way: way("W-3/3") },
      { space: "SCI/B01", mark_in: out === null ? 754 : out + 100, mark_open_to: out === null ? 754 : out + 100 },
    ],
  });
  return plant;
}
const mend = (plant: CheckedPlant) =>
  plant.run<MendWhole>("mend.plans", { cable: "F-102", after: "H-1", metres: 145, losses: false });

describe("a coil that nobody has read", () => {
  it("is told before the way that does without it, with the least that would do and what it would allow", async () => {
    const { plans, look_first, sentence } = await mend(await unread(null));
    // Past H-2 the piece goes to the end: 150 m, 2 m and 100 m of way, 7.4 m at each of its ends, and a tenth of waste.
    expect(plans[0]?.new_cable_m).toBeGreaterThan(252);
    expect(look_first).toHaveLength(1);
    // A splice takes 7.4 m, and from the edge of what is lost 3 m of way and the 2 m through the hole are there.
    expect(look_first[0]).toMatchObject({ name: "H-2", coil_m: 2.4 });
    expect(look_first[0]?.way).toBe("Two splices, at H-1 and H-2, with new cable between");
    expect(sentence).toMatch(
      / Nobody knows what is coiled at H-2: 2\.4.m there would do for two splices, at H-1 and H-2, with new cable between, 181\.3.m of it\. Look there first\.$/,
    );
  });

  it("allows that way once it is read as long as that, and not where it is shorter", async () => {
    const crossing_m = 2;
    const read = async (coil_m: number) => mend(await unread(652 + crossing_m + coil_m));
    const [enough, short] = [await read(2.4), await read(2.2)];
    expect(enough.plans[0]?.points.map(({ words }) => words)).toEqual(["H-1", "H-2"]);
    expect(enough.plans[0]?.new_cable_m).toBeCloseTo(181.28, 2);
    expect(short.plans[0]?.points.map(({ words }) => words)).not.toEqual(["H-1", "H-2"]);
    for (const { look_first, sentence } of [enough, short]) {
      expect(look_first).toEqual([]);
      expect(sentence).not.toContain("Nobody knows");
    }
  });

  it("is not asked for where a longer one would be wanted than a place is to hold", async () => {
    const plant = await unread(null);
    await plant.add("limit_value", { tag: "repair.coil_most_m", value: 2, unit: "m", reason: "small holes" });
    expect((await mend(plant)).look_first).toEqual([]);
  });
});
