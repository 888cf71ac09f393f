/** What the strands of a break-out are spliced to: how long it is, which reel it comes from, and what it loses. */
import { describe, expect, it } from "vitest";
import type { BreakoutAnswer } from "../../core/breakout/answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { TODAY } from "../check/campus.ts";
import { carryOut } from "./as-done.ts";
import { way } from "./way.ts";

const ASKED = { cable: "F-1", at: "H-2", strands: 4, side: "a" } as const;
const asked = (plant: CheckedPlant, more: object = {}): Promise<BreakoutAnswer> =>
  plant.run<BreakoutAnswer>("breakout.plans", { ...ASKED, ...more });

describe("the lateral", () => {
  it("takes its strands and colours from its type, its length and way from the pathway", async () => {
    const { lateral, plans } = await asked(await way(), { to: "NEW", type: "DR-12" });
    expect(lateral).toMatchObject({ strands: 12, used: 4, way_m: 60, length_from: "pathway" });
    expect([lateral.to?.tag, lateral.pathways.map(({ tag }) => tag), lateral.type?.tag]).toEqual([
      "NEW/1",
      ["W-5"],
      "DR-12",
    ]);
    // TIA-598: blue, orange, green, brown come first.
    expect(plans[0]?.splices.map(({ strand, lateral: end }) => [strand.words, end.words])[3]).toEqual([
      "tube 3 green, strand 5 slate",
      "tube 1 blue, strand 4 brown",
    ]);
    expect(lateral.to_prove).toEqual(["which panel A is to be: 12 LC duplex ports are taken"]);
  });
  it("is as long as its way, the reach and the preparation at both ends; waste is ordered beyond", async () => {
    const plant = await way();
    // H-2 has a reach of 5 m on record, NEW/1 none: 6 m indoors, and 2.4 m of preparation each, a tenth of waste: the
    // plant's policies, whose sources are beside them (core/standards/limits/repair.ts).
    const { lateral, limits } = await asked(plant, { to: "NEW", type: "DR-12" });
    expect(lateral).toMatchObject({ way_m: 60, near_m: 7.4, far_m: 8.4, length_m: 75.8, waste: 0.1, order_m: 83.38 });
    expect(limits.map(({ tag }) => tag)).toEqual(
      expect.arrayContaining(["repair.preparation_m", "repair.waste", "repair.reach_indoors_m"]),
    );
    await plant.edit("space", "NEW/1", { reach_m: 10 });
    await plant.add("limit_value", { tag: "repair.waste", value: 0, unit: "ratio", reason: "we cut to measure" });
    const own = (await asked(plant, { to: "NEW", type: "DR-12", length_m: 100 })).lateral;
    expect(own).toMatchObject({ length_from: "asked", far_m: 12.4, length_m: 119.8, order_m: 119.8 });
  });
  it("takes a way from hole to hole where no pathway leads straight there, crossings included", async () => {
    const plant = await way();
    await plant.edit("pathway", "W-5", { from_space_id: "H-3" });
    const { lateral, plans } = await asked(plant, { to: "NEW", type: "DR-12" });
    // W-3 is 300 m, H-3 has a crossing of 4 m, W-5 is 60 m.
    expect(lateral).toMatchObject({ way_m: 364, passed: [{ tag: "H-3" }], pathways: [{ tag: "W-3" }, { tag: "W-5" }] });
    await carryOut(plant, plans[0]?.steps ?? [], TODAY);
    const { stops, legs } = await plant.run<{
      stops: { place: { space: { tag: string } } }[];
      legs: { length_m: number }[];
    }>("cable.show", { cable: "F-1-L1" });
    expect(stops.map(({ place }) => place.space.tag)).toEqual(["H-2", "H-3", "NEW/1"]);
    expect(legs.map(({ length_m }) => length_m)).toEqual([300, 60]);
  });
  it("doesn't take an unknown length on its way for none, and says whose it is", async () => {
    const plant = await way();
    await plant.edit("pathway", "W-5", { length_m: null });
    const { lateral } = await asked(plant, { to: "NEW", type: "DR-12" });
    expect(lateral).toMatchObject({ way_m: null, length_m: null, order_m: null, reel: null });
    expect(lateral.to_prove.join()).toContain("how long the lateral is: the length of W-5 is not on record");
  });
  it("takes in each way the emptiest pipe with room, says how full it becomes, and lies in it once it is laid", async () => {
    const plant = await way();
    for (const [tag, inner_diameter_mm] of [
      ["1", 50],
      ["2", 12],
      ["3", 40],
    ])
      await plant.add("conduit", { tag, pathway_id: "W-5", inner_diameter_mm, state: "free" });
    await plant.edit("cable_type", "DR-12", { outer_diameter_mm: 10 });
    const { lateral, plans } = await asked(plant, { to: "NEW", type: "DR-12" });
    // (10 / 40)² of 0.53 that one cable may fill; pipe 2 would be 0.69 full, and pipe 1 is wider than need be.
    expect(lateral.pipes).toMatchObject([{ pipe: { tag: "W-5/3" }, beside: [], fill: 0.0625, fill_limit: 0.53 }]);
    expect(plans[0]?.steps.find(({ act }) => act === "cable.enter")?.words).toContain(
      "through W-5/3 (6 % full then, of 53 % at most); enter it",
    );
    expect(JSON.stringify(plans[0]?.steps.find(({ act }) => act === "cable.enter")?.input)).toContain(
      '"way":{"conduit":"W-5/3"}',
    );
  });
  it("says where no pipe of a way has room by the record", async () => {
    const plant = await way();
    await plant.add("conduit", { tag: "1", pathway_id: "W-5", inner_diameter_mm: 12, state: "free" });
    await plant.add("conduit", { tag: "2", pathway_id: "W-5", inner_diameter_mm: 90, state: "blocked" });
    await plant.edit("cable_type", "DR-12", { outer_diameter_mm: 10 });
    const { lateral } = await asked(plant, { to: "NEW", type: "DR-12" });
    expect(lateral.pipes).toMatchObject([{ pathway: { tag: "W-5" }, pipe: null }]);
    expect(lateral.to_prove).toContain(
      "which pipe of W-5 has room: by the record none of its 2 has; W-5/1 takes up to 8.7 mm",
    );
  });
  it("takes its pipe by the size of the reel in stock that suits, and passes over one that is too thick", async () => {
    const plant = await way();
    await plant.add("conduit", { tag: "1", pathway_id: "W-5", inner_diameter_mm: 20, state: "free" });
    await plant.add("conduit", { tag: "2", pathway_id: "W-5", inner_diameter_mm: 15, state: "free" });
    await plant.edit("cable_type", "DR-12", { outer_diameter_mm: 10 });
    const reel = (tag: string, type: string, metres: number) =>
      plant.run("cable.enter", {
        ...{ tag, type, life: "in_stock", mark_unit: "m" },
        stops: [{ mark_out: 0 }, { mark_in: metres }],
      });
    await plant.add("cable_type", { tag: "FAT-12", construction: "loose_tube", outer_diameter_mm: 18 });
    await plant.add("unit_type", { cable_type_id: "FAT-12", ordinal: 1, kind: "tube", repeats: 1, strands: 12 });
    // 18 mm fill 81 % of the wider pipe, of 53 % that one cable may: the shorter reel is the worse one.
    await reel("R-1", "FAT-12", 90);
    await reel("R-2", "DR-12", 200);
    const { lateral } = await asked(plant, { to: "NEW" });
    expect([lateral.reel?.tag, lateral.type?.tag]).toEqual(["R-2", "DR-12"]);
    expect(lateral.stock.map(({ tag }) => tag)).toEqual(["R-2"]);
    expect(lateral.stock_words).toContain("R-1 doesn't suit the way: no pipe of W-5 has room for it.");
    // (10 / 20)² of the bore; the narrower pipe takes at most 0.53^½ × 15 = 10.9 mm, so it does as well and is kept to.
    expect(lateral.pipes).toMatchObject([{ pipe: { tag: "W-5/2" }, fill: 0.4444, takes_mm: 10.9 }]);
  });
  it("doesn't take a reel that fitness says doesn't belong in the way", async () => {
    const plant = await way();
    await plant.edit("cable_type", "DR-12", { environment: "indoor" });
    await plant.run("cable.enter", {
      ...{ tag: "R-1", type: "DR-12", life: "in_stock", mark_unit: "m" },
      stops: [{ mark_out: 0 }, { mark_in: 500 }],
    });
    const { lateral } = await asked(plant, { to: "NEW" });
    expect(lateral).toMatchObject({ reel: null, stock: [], type: null });
    expect(lateral.stock_words).toMatch(/R-1 doesn't suit the way: .*outdoors/);
    // Whoever asks for that type gets it, and is told.
    const own = (await asked(plant, { to: "NEW", type: "DR-12" })).lateral;
    expect(own.reel?.tag).toBe("R-1");
    expect(own.to_prove.join()).toMatch(/whether DR-12 may lie there: .*outdoors/);
  });
  it("takes its pipe by a reel of unknown length, and says that it does", async () => {
    const plant = await way();
    await plant.add("conduit", { tag: "1", pathway_id: "W-5", inner_diameter_mm: 20, state: "free" });
    await plant.add("conduit", { tag: "2", pathway_id: "W-5", inner_diameter_mm: 40, state: "free" });
    await plant.edit("cable_type", "DR-12", { outer_diameter_mm: 10 });
    await plant.run("cable.enter", { tag: "R-1", type: "DR-12", life: "in_stock" });
    const { lateral } = await asked(plant, { to: "NEW" });
    expect(lateral.pipes).toMatchObject([{ pipe: { tag: "W-5/1" }, fill: 0.25 }]);
    expect(lateral.to_prove).toContain("whether R-1 is taken: the pipes of the way are chosen by its 10 mm");
  });
  it("tells what thickness has room where no reel says how thick it is, an empty pipe before a used one", async () => {
    const plant = await way();
    await plant.add("conduit", { tag: "1", pathway_id: "W-5", inner_diameter_mm: 100, state: "in_use" });
    await plant.add("conduit", { tag: "2", pathway_id: "W-5", inner_diameter_mm: 40, state: "free" });
    await plant.run("cable.enter", {
      ...{ tag: "F-9", type: "LT-48" },
      stops: [{ space: "H-2", way: { conduit: "W-5/1" } }, { space: "NEW/1" }],
    });
    const { lateral, plans } = await asked(plant, { to: "NEW" });
    // One cable may fill 53 %: 0.53^½ × 40 mm.
    expect(lateral.pipes).toMatchObject([{ pipe: { tag: "W-5/2" }, fill: null, takes_mm: 29.1 }]);
    expect(lateral.to_prove.join()).toContain("how thick it is, is not on record, and up to 29.1 mm fit");
    expect(plans[0]?.steps.find(({ act }) => act === "cable.enter")?.words).toContain("W-5/2 (up to 29.1 mm thick)");
    // Only the used one left: two may fill 31 %, of which F-9 takes 12²: (0.31 × 100² − 12²)^½.
    await plant.edit("conduit", "W-5/2", { state: "blocked" });
    const [pipe] = (await asked(plant, { to: "NEW" })).lateral.pipes;
    expect(pipe).toMatchObject({ pipe: { tag: "W-5/1" }, beside: [{ tag: "F-9" }], takes_mm: 54.3 });
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
    expect(loss?.length_m).toBeCloseTo(326 * 1.02 + 75.8 * 1.004, 2);
    expect(loss?.applications).toMatchObject([{ application: "10GBASE-LR", wanted: true, runs: "yes" }]);
  });
  it("is cut from the shortest reel in stock that is long enough, or none is said to do", async () => {
    const plant = await way();
    const reel = (tag: string, metres: number, more: object = { type: "DR-12" }) =>
      plant.run("cable.enter", {
        ...{ tag, life: "in_stock", mark_unit: "m", ...more },
        stops: [{ mark_out: 0 }, { mark_in: metres }],
      });
    const lateral = async (more: object = {}) => (await asked(plant, { to: "NEW", ...more })).lateral;
    expect((await lateral()).stock_words).toMatch(/^No reel in stock does for 4 strands and 83\.4\sm\.$/);
    await reel("R-1", 83);
    // 83.38 m are wanted.
    expect(await lateral()).toMatchObject({ reel: null, stock: [], type: null });
    expect((await lateral()).stock_words).toMatch(/R-1 has 83\sm/);
    await reel("R-2", 500);
    await reel("R-3", 84);
    const own = await lateral();
    expect([own.reel?.tag, own.stock.map(({ tag }) => tag), own.type?.tag]).toEqual(["R-3", ["R-3", "R-2"], "DR-12"]);
    // F-1 is single-mode.
    await reel("R-0", 83.5, { units: [{ kind: "tube", repeats: 1, strands: 12, fibre_class: "om3" }] });
    expect((await lateral()).reel?.tag).toBe("R-3");
  });
  it("may come from a reel whose length nobody knows, which is to be looked at", async () => {
    const plant = await way();
    await plant.run("cable.enter", { tag: "R-1", type: "DR-12", life: "in_stock" });
    await plant.run("cable.enter", { tag: "R-2", life: "in_stock", units: [{ kind: "tube", repeats: 1, strands: 2 }] });
    const stock = async (more: object) => (await asked(plant, { to: "NEW", ...more })).lateral;
    expect(await stock({})).toMatchObject({ reel: null, stock: [{ tag: "R-1" }] });
    expect((await stock({ strands: 2 })).stock.map(({ tag }) => tag)).toEqual(["R-1", "R-2"]);
    expect((await stock({ strands: 2, type: "DR-12" })).stock.map(({ tag }) => tag)).toEqual(["R-1"]);
    expect((await stock({})).stock_words).toContain("how long it is, is not on record");
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
