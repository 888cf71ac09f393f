/** What stands against a break-out: how the cable is built, and what can't be at all. */
import { describe, expect, it } from "vitest";
import type { BreakoutAnswer } from "../../core/breakout/answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { way } from "./way.ts";

const ASKED = { cable: "F-1", at: "H-2", strands: 4, side: "a" } as const;
const asked = (plant: CheckedPlant, more: object = {}): Promise<BreakoutAnswer> =>
  plant.run<BreakoutAnswer>("breakout.plans", { ...ASKED, ...more });

describe("how the cable is built", () => {
  it.each([
    [{ construction: "central_tube" }, /central tube can be slit or shaved/],
    [{ construction: "ribbon" }, /ribbon is opened whole/],
    [{ lay: "helical" }, /lie in a helix without a reversal/],
    [{ lay: null }, /whether they reverse is not on record/],
  ])("%o is a doubt to be proved", async (type, words) => {
    const { plans } = await asked(await way({ type }));
    expect(plans[0]?.to_prove.join("; ")).toMatch(words);
  });
  it("with a reversing lay is none", async () => {
    const { plans } = await asked(await way());
    expect(plans[0]?.to_prove.join("; ")).not.toMatch(/reverse|helix|tube can/);
  });
});

describe("what can't be", () => {
  it.each([
    ["an end of the cable", { at: "ALD/1" }, "not_possible", /ends there/],
    [
      "a place it doesn't come by",
      { at: "NEW/1" },
      "not_found",
      /has no stop at NEW\/1; its stops are ALD\/1, H-1, H-2/,
    ],
    ["a cable nobody knows", { cable: "F-9" }, "not_found", /F-9/],
    ["more strands than it has", { strands: 60 }, "not_possible", /60 strands are wanted; F-1 has 48 at H-2/],
    ["more strands than are free", { strands: 45 }, "not_possible", /44 strands are free of F-1's 48 at H-2/],
    ["no strand", { strands: 0 }, "bad_input", /can't be read/],
    ["a case in another place", { closure: "ALD/1/X" }, "not_found", /ALD\/1\/X/],
    [
      "a lateral type with too few strands",
      { strands: 13, type: "DR-12" },
      "not_possible",
      /DR-12 has 12 strands; 13 are wanted/,
    ],
    ["a lateral number that is taken", { lateral: "F-1" }, "duplicate", /There is a cable F-1 already/],
    ["a lateral that ends where it begins", { to: "H-2" }, "bad_input", /would end where it begins/],
    ["an application nobody knows", { application: "10GBASE-XX" }, "bad_input", /No limits of an application/],
    ["a lateral of no length", { length_m: 0 }, "bad_input", /can't be read/],
  ])("%s is refused in words", async (_, more, code, words) => {
    const plant = await way();
    const reply = await plant.call("breakout.plans", { ...ASKED, ...more });
    expect(reply).toMatchObject({ ok: false, error: { code, message: expect.stringMatching(words) } });
    if (!reply.ok) expect(reply.error.problems.length).toBeGreaterThan(0);
  });
  it("too few free strands are told unit by unit, with the reason", async () => {
    const reply = await (await way()).call("breakout.plans", { ...ASKED, strands: 46 });
    expect(reply).toMatchObject({
      ok: false,
      error: {
        problems: [
          { reason: "tube 1 blue has 10 free of 12: 2 given to a circuit" },
          { reason: "tube 2 orange has 12 free of 12" },
          { reason: "tube 3 green has 11 free of 12: 1 broken" },
          { reason: "tube 4 brown has 11 free of 12: 1 given to a circuit" },
        ],
      },
    });
  });
  it("a cable of another owner, out of use, or that can't be touched there", async () => {
    const plant = await way();
    await plant.edit("stop", "F-1@3", { reachable: "no" });
    expect(await plant.call("breakout.plans", ASKED)).toMatchObject({ error: { message: /can't be reached there/ } });
    await plant.edit("stop", "F-1@3", { reachable: "yes" });
    await plant.edit("cable", "F-1", { life: "out_of_use" });
    expect(await plant.call("breakout.plans", ASKED)).toMatchObject({ error: { message: /is out of use/ } });
    await plant.edit("cable", "F-1", { life: "in_place" });
    await plant.add("party", { tag: "OUT", role: "carrier" });
    await plant.edit("cable", "F-1", { owner_id: "OUT" });
    expect(await plant.call("breakout.plans", ASKED)).toMatchObject({ error: { message: /belongs to OUT/ } });
  });
});
