/** What a break-out answers from the record: loop, cut, units, case, lateral, losses, what is not known and what is refused. */
import { describe, expect, it } from "vitest";
import type { BreakoutAnswer } from "../../core/breakout/answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { way } from "./way.ts";

const ASKED = { cable: "F-1", at: "H-2", strands: 4, side: "a" } as const;
const asked = (plant: CheckedPlant, more: object = {}): Promise<BreakoutAnswer> =>
  plant.run<BreakoutAnswer>("breakout.plans", { ...ASKED, ...more });

describe("the loop", () => {
  // Window and twice the reach, measured from the duct mouth so that the crossing counts: reading 7 of the project.
  it("lacks what window and twice the reach take beyond crossing and coil, and neighbours lend all but what must stay", async () => {
    const { loop } = await asked(await way());
    // 12 m lie there; 6 + 2 x 5 are wanted; each neighbour has 20 - 4 m coiled and keeps 6.
    expect(loop).toMatchObject({ has_m: 12, needs_m: 16, lack_m: 4, lends_m: 20, reaches: "yes", crossing_m: 4 });
    expect(loop.pulls.map(({ place, pulled_m, left_m }) => [place?.tag, pulled_m, left_m])).toEqual([["H-1", 4, 12]]);
  });
  it("over legs that nobody has proven is to be proved, and where none slides it is opened in place only", async () => {
    const unproven = await asked(await way({ slides: "unproven" }));
    expect(unproven.loop.reaches).toBe("to_prove");
    expect(unproven.plans[0]?.to_prove.join()).toMatch(/whether F-1 slides between H-1 and H-2 \(a pull takes \d+ N/);
    const fixed = await asked(await way({ slides: "no" }));
    expect(fixed.loop).toMatchObject({ reaches: "in_place", lends_m: 0, pulls: [] });
    expect(fixed.plans[0]?.steps.map(({ words }) => words).join()).toContain("where it lies at H-2");
  });
  it("is held to what the cable bears: a leg that takes more doesn't slide, with both numbers", async () => {
    const plant = await way();
    // 12 mm of 1100 kg/m³ are 1.22 N/m; dry friction of 0.5 over 200 m makes 122 N: MIL-HDBK-1012/3's formula.
    await plant.edit("cable", "F-1", { differs: { max_tension_n: 121 } });
    const { loop } = await asked(plant);
    expect(loop).toMatchObject({ reaches: "in_place", lends_m: 0 });
    expect(loop.stuck.map((words) => words.replace(/ it can't.*/, ""))).toEqual([
      "between H-1 and H-2",
      "between H-2 and H-3",
      "between H-3 and ZED/1",
    ]);
    expect(loop.stuck[0]).toContain("takes 122 N by estimate, and it bears 121 N");
  });
  it("takes the plant's own window where it sets one", async () => {
    const plant = await way();
    await plant.add("limit_value", { tag: "breakout.window_m", value: 2, unit: "m", reason: "our cases" });
    const { loop, limits } = await asked(plant);
    expect(loop).toMatchObject({ needs_m: 12, lack_m: 0, reaches: "yes", pulls: [] });
    expect(limits.find(({ tag }) => tag === "breakout.window_m")?.source).toContain("the plant's own");
  });
  it("is not reckoned by a limit that can't be", async () => {
    const plant = await way();
    await plant.add("limit_value", { tag: "breakout.window_m", value: -2, unit: "m", reason: "a slip" });
    expect(await plant.call("breakout.plans", ASKED)).toMatchObject({
      error: { code: "bad_input", message: "The limit breakout.window_m is -2, and must be a number from 0." },
    });
  });
  it("of a cable without marks is not known, and nothing is promised", async () => {
    const { loop, plans } = await asked(await way({ marks: false }));
    expect(loop).toMatchObject({ reaches: "unknown", has_m: null, pulls: [] });
    expect(plans[0]?.to_prove.join()).toContain("what lies coiled at H-2: the slack at H-2 is not on record");
  });
});

describe("the cut", () => {
  it("is made at the edge away from the side wanted, which keeps the stub; in the middle for both", async () => {
    const plant = await way();
    expect((await asked(plant)).cut).toMatchObject({ at: "edge", edge: "z", stub_a: "yes", stub_z: "no" });
    expect((await asked(plant, { side: "z" })).cut).toMatchObject({
      at: "edge",
      edge: "a",
      stub_a: "no",
      stub_z: "yes",
    });
    const both = await asked(plant, { side: "both" });
    expect(both.cut).toMatchObject({ at: "middle", edge: null, stub_a: "yes", stub_z: "yes" });
    expect(both.plans[0]?.splices).toHaveLength(8);
    expect(both.plans[0]?.beyond).toEqual([]);
  });
  it("in the middle leaves the other side a stub, so that its glass is free from there", async () => {
    const plant = await way();
    const edge = (await asked(plant)).plans[0]?.beyond[0];
    expect(edge).toMatchObject({ stub: "no", to: { tag: "ZED/1" }, joined: 4 });
    const middle = (await asked(plant, { cut: "middle" })).plans[0]?.beyond[0];
    expect(middle?.stub).toBe("yes");
    expect(middle?.words).toContain("so free from ZED/1");
  });
  it("of a loop that stays in its place has no longer window than what lies there", async () => {
    const plant = await way({ slides: "no" });
    await plant.edit("stop", "F-1@3", { mark_out: 1324 });
    const { loop, cut, plans } = await asked(plant);
    expect(loop).toMatchObject({ reaches: "in_place", has_m: 4 });
    expect(cut.words).toMatch(/the window of 4\sm/);
    expect([(cut.marks?.to ?? 0) - (cut.marks?.from ?? 0), cut.stub_a]).toEqual([4, "yes"]);
    expect(plans[0]?.to_prove.join()).toMatch(/no more than 4\sm of it lie: the window wanted is 6\sm/);
    await plant.edit("stop", "F-1@3", { mark_out: 1321 });
    expect((await asked(plant)).cut.stub_a).toBe("no");
  });
  it("in an opening that is there goes by the marks of its edges", async () => {
    const plant = await way();
    await plant.run("cable.open", { cable: "F-1", stop: "H-2", mark_open_from: 1325, mark_open_to: 1327 });
    expect((await asked(plant)).cut).toMatchObject({ stub_a: "yes", stub_z: "no", marks: null });
    expect((await asked(plant, { side: "both" })).cut).toMatchObject({ stub_a: "no", stub_z: "no" });
    await plant.edit("stop", "F-1@3", { mark_open_from: null });
    expect((await asked(plant)).cut.stub_a).toBeNull();
  });
  it("in a window too short for two stubs is to be proved", async () => {
    const plant = await way();
    await plant.add("limit_value", { tag: "breakout.window_m", value: 2, unit: "m", reason: "our cases" });
    const { cut, plans } = await asked(plant, { side: "both" });
    expect(cut).toMatchObject({ stub_a: "no", stub_z: "no" });
    expect(plans[0]?.to_prove).toContain("whether enough glass is left at the cut to splice");
  });
});

describe("the strands", () => {
  it("come from a unit without live circuits; one with some follows, with its circuits at risk", async () => {
    const { plans } = await asked(await way());
    expect(plans[0]).toMatchObject({ at_risk: [], units: [{ words: "tube 3 green", live: 0 }] });
    const risky = plans.find(({ units }) => units.some(({ words }) => words === "tube 1 blue"));
    expect(risky?.at_risk.map(({ circuit }) => circuit.tag)).toEqual(["K-1"]);
  });
  it("are never broken ones, nor those of circuits", async () => {
    const plant = await way();
    const { plans, free, not_free } = await asked(plant, { strands: 44 });
    expect(free).toBe(44);
    expect(not_free).toEqual([
      { reason: "given to a circuit", count: 3 },
      { reason: "broken", count: 1 },
    ]);
    expect(plans[0]?.strands).toBe("F-1:3-24,26-36,38-48");
  });
  it("are never those that lead to equipment, or are promised from a later day on", async () => {
    const plant = await way();
    await plant.run("device.enter", { tag: "SW", space: "ZED/1", ports: [{ numbers: "1", connector: "lc_duplex" }] });
    await plant.run("cord.patch", { from: "ZED/1/SW:1", to: "ZED/1/P:07", tag: "C-1" });
    await plant.run("circuit.enter", { tag: "K-9", strands: 1, state: "planned" });
    await plant.run("circuit.assign", { circuit: "K-9", what: ["F-1:48"], from_on: "2031-01-01" });
    const { not_free, units } = await asked(plant);
    expect(not_free).toContainEqual({ reason: "given to a circuit, or joined to what is not free", count: 3 });
    expect(units.map(({ free }) => free)).toEqual([10, 10, 11, 10]);
  });
  it("leave what the plant keeps for repair to the last", async () => {
    const plant = await way();
    await plant.add("limit_value", { tag: "repair.keep_strands", value: 40, reason: "ours" });
    const { plans } = await asked(plant, { strands: 6 });
    expect(plans[0]).toMatchObject({ strands: "F-1:3-8", kept_for_repair: 0 });
    expect(plans.some(({ kept_for_repair }) => kept_for_repair > 0)).toBe(true);
  });
  it("that were cut here before are taken from their stub, and the unit they lie in counts as opened", async () => {
    const plant = await way();
    await plant.run("cable.open", { cable: "F-1", stop: "H-2", cut: "13-16", stub_a: "no", stub_b: "yes" });
    const z = await asked(plant, { side: "z" });
    expect(z.loop.reaches).toBe("opened");
    expect(z.plans[0]).toMatchObject({ strands: "F-1:13-16", beyond: [], units: [{ opened_before: true }] });
    expect(z.plans[0]?.steps.some(({ act }) => act === "cable.open")).toBe(false);
    // Towards A nothing is left to splice of these.
    const a = await asked(plant);
    expect(a.not_free).toContainEqual({ reason: "cut here without a stub", count: 4 });
    expect(a.plans[0]?.strands).not.toContain("13");
  });
});

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
