/** Where the strands of a break-out are spliced, and what they are spliced to. */
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
      { closure: { tag: "H-2/CL-9" }, reason: "has room for 2 splices in 1 trays; 4 are wanted" },
    ]);
    expect(await plant.call("breakout.plans", { ...ASKED, closure: "CL-9" })).toMatchObject({
      ok: false,
      error: { code: "not_possible", problems: [{ field: "closure", record: "H-2/CL-9" }] },
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

describe("the lateral", () => {
  it("takes its strands and colours from its type, its length and way from the pathway", async () => {
    const { lateral, plans } = await asked(await way(), { to: "NEW", type: "DR-12" });
    expect(lateral).toMatchObject({ strands: 12, used: 4, length_m: 60, length_from: "pathway" });
    expect([lateral.to?.tag, lateral.pathway?.tag, lateral.type?.tag]).toEqual(["NEW/1", "W-5", "DR-12"]);
    // TIA-598: blue, orange, green, brown come first.
    expect(plans[0]?.splices.map(({ strand, lateral: end }) => [strand.words, end.words])[3]).toEqual([
      "tube 3 green, strand 5 slate",
      "tube 1 blue, strand 4 brown",
    ]);
    expect(lateral.to_prove).toEqual([]);
  });
  it("gives the loss from the far port to its own end, term by term", async () => {
    const { plans } = await asked(await way(), { to: "NEW", type: "DR-12", application: "10GBASE-LR" });
    const [loss] = plans[0]?.losses ?? [];
    expect(loss?.far_record?.tag).toMatch(/^ALD\/1\/P:13#2$/);
    const terms = loss?.terms ?? [];
    expect(terms.filter(({ lacks }) => lacks !== null)).toEqual([]);
    const sum = terms.reduce((all, { loss_db }) => all + (loss_db ?? 0), 0);
    expect(loss?.wavelengths[0]?.worst_loss_db).toBeCloseTo(sum, 3);
    // 4 m come from H-1: 16 m lie in H-2 then, of which 5 m belong to each half and 6 m are the window. So it is
    // 5 + 100 + 16 + 200 + 5 m of sheath, 2 % more of glass; and the lateral.
    expect(loss?.length_m).toBeCloseTo(326 * 1.02 + 60 * 1.004, 2);
    expect(loss?.applications).toMatchObject([{ application: "10GBASE-LR", wanted: true, runs: "yes" }]);
  });
  it("names the reels in stock that would do", async () => {
    const plant = await way();
    await plant.run("cable.enter", { tag: "R-1", type: "DR-12", life: "in_stock" });
    await plant.run("cable.enter", { tag: "R-2", life: "in_stock", units: [{ kind: "tube", repeats: 1, strands: 2 }] });
    const stock = async (more: object) => (await asked(plant, more)).lateral.stock.map(({ tag }) => tag);
    expect(await stock({})).toEqual(["R-1"]);
    expect(await stock({ strands: 2 })).toEqual(["R-1", "R-2"]);
    expect(await stock({ strands: 2, type: "DR-12" })).toEqual(["R-1"]);
  });
  it("says what is not known of it, and never takes an unknown length for none", async () => {
    const { lateral, plans } = await asked(await way());
    expect(lateral.length_m).toBeNull();
    const [loss] = plans[0]?.losses ?? [];
    expect(loss?.wavelengths[0]).toMatchObject({ complete: false });
    expect(loss?.wavelengths[0]?.unknown.join()).toContain("its length is not known");
    expect(loss?.applications.every(({ runs }) => runs !== "yes")).toBe(true);
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
