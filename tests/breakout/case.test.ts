/** Where the strands of a break-out are spliced, and the seals that are passed. */
import { describe, expect, it } from "vitest";
import type { BreakoutAnswer } from "../../core/breakout/answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { way } from "./way.ts";

const ASKED = { cable: "F-1", at: "H-2", strands: 4, side: "a" } as const;
const asked = (plant: CheckedPlant, more: object = {}): Promise<BreakoutAnswer> =>
  plant.run<BreakoutAnswer>("breakout.plans", { ...ASKED, ...more });

describe("the case", () => {
  it("is one there with room, else one from stock, else a new one", async () => {
    const plant = await way();
    expect((await asked(plant)).plans[0]?.case).toMatchObject({ how: "new", tag: "H-2/CL-1" });
    await plant.run("closure.enter", {
      tag: "S-1",
      life: "in_stock",
      entries: 6,
      trays: [{ numbers: "T1", capacity: 12 }],
    });
    expect((await asked(plant)).plans[0]?.case).toMatchObject({ how: "stock", tag: "H-2/S-1" });
    await plant.run("closure.enter", {
      tag: "CL-9",
      space: "H-2",
      entries: 6,
      trays: [{ numbers: "T1..T2", capacity: 6 }],
    });
    const here = (await asked(plant)).plans[0]?.case;
    expect(here).toMatchObject({ how: "here", tag: "H-2/CL-9", trays: [{ tray: "H-2/CL-9/T1", takes: 4 }] });
    // Eight splices of one unit go to no tray of six whole, so they are parted.
    const parted = (await asked(plant, { strands: 8 })).plans[0]?.case;
    expect(parted?.trays.map(({ takes }) => takes)).toEqual([6, 2]);
  });
  it("without room is passed over with both numbers, and refused where it was named", async () => {
    const plant = await way();
    await plant.run("closure.enter", { tag: "CL-9", space: "H-2", trays: [{ numbers: "T1", capacity: 2 }] });
    const { plans } = await asked(plant);
    expect(plans[0]?.case.how).toBe("new");
    expect(plans[0]?.case.passed_over).toMatchObject([
      { closure: { tag: "H-2/CL-9" }, reason: "has room for 2 splices in 1 tray; 4 are wanted" },
    ]);
    expect(await plant.call("breakout.plans", { ...ASKED, closure: "CL-9" })).toMatchObject({
      ok: false,
      error: { code: "not_possible", problems: [{ field: "closure", record: "H-2/CL-9" }] },
    });
  });
  it("named by its number alone, where only other places have such, is refused with those places", async () => {
    const plant = await way();
    await plant.run("closure.enter", { tag: "CL-9", space: "H-1", trays: [{ numbers: "T1", capacity: 12 }] });
    expect(await plant.call("breakout.plans", { ...ASKED, closure: "CL-9" })).toMatchObject({
      ok: false,
      error: {
        code: "not_found",
        message:
          "CL-9 is none of H-2's and none in stock; elsewhere there is H-1/CL-9: a case is named with its place.",
      },
    });
    expect(await plant.call("breakout.plans", { ...ASKED, closure: "H-1/CL-9" })).toMatchObject({
      error: { code: "not_possible", message: "H-1/CL-9 is not in H-2." },
    });
  });
  it("that holds splices already gives the trays and places that are left", async () => {
    const plant = await way();
    await plant.run("closure.enter", {
      tag: "CL-9",
      space: "H-2",
      entries: 9,
      trays: [{ numbers: "T1..T2", capacity: 6 }],
    });
    await plant.run("cable.enter", {
      tag: "F-2",
      units: [{ kind: "tube", repeats: 1, strands: 12 }],
      stops: [{ space: "H-2" }, {}],
    });
    await plant.run("splice.range", { from: "F-2:1-2", to: "F-2:3-4", tray: "H-2/CL-9/T1", first_place: 1 });
    const four = (await asked(plant)).plans[0];
    expect(four?.case.trays).toMatchObject([{ tray: "H-2/CL-9/T1", used: 2, takes: 4, first_place: 3 }]);
    const five = (await asked(plant, { strands: 5 })).plans[0];
    expect(five?.case.trays).toMatchObject([{ tray: "H-2/CL-9/T2", takes: 5, first_place: 1 }]);
    expect((await asked(plant, { strands: 11 })).plans[0]?.case).toMatchObject({ how: "new" });
  });
  it("whose entries are taken is passed over", async () => {
    const plant = await way();
    await plant.run("closure.enter", {
      tag: "CL-9",
      space: "H-2",
      entries: 1,
      trays: [{ numbers: "T1", capacity: 24 }],
    });
    expect((await asked(plant)).plans[0]?.case.passed_over[0]?.reason).toBe(
      "takes 1 cables and has 0; 2 more are to enter",
    );
  });
});

describe("a sealed penetration", () => {
  it("that the sheath or the lateral is pulled through is opened, sealed again and recorded; no other is", async () => {
    const plant = await way();
    for (const [tag, pathway_id] of [
      ["FS-2", "W-2"],
      ["FS-3", "W-3"],
      ["FS-5", "W-5"],
    ] as const)
      await plant.add("firestop", { tag, pathway_id });
    // The sheath comes from H-1 through W-2, the lateral goes through W-5.
    const { plans } = await asked(plant, { to: "NEW" });
    const words = plans[0]?.steps.map((step) => step.words).join("\n") ?? "";
    expect([...words.matchAll(/Open seal (\S*FS-\d) for (\S+),/g)].map(([, seal, cable]) => [seal, cable])).toEqual([
      ["W-2/FS-2", "F-1"],
      ["W-5/FS-5", "F-1-L1"],
    ]);
  });
});
