/** What a break-out answers from the record: its loop, its cut, and the strands it gives. */

import { describe, expect, it } from "vitest";
import type { BreakoutAnswer } from "../../core/breakout/answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { slip } from "../support/slip.ts";
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
    await plant.add("limit_value", { tag: "breakout.window_m", value: 2, unit: "m", reason: "a slip" });
    slip(plant, "breakout.window_m", -2);
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
  it("is none where less can be opened than a splice takes: what is wanted is said, no step cuts, and no job is planned", async () => {
    const plant = await way({ slides: "no" });
    await plant.edit("space", "H-2", { crossing_m: 0 });
    await plant.edit("stop", "F-1@3", { mark_out: 1320 });
    const { loop, cut, plans, sentence } = await asked(plant);
    expect(loop).toMatchObject({ reaches: "in_place", has_m: 0 });
    expect(cut).toMatchObject({ stub_a: "no", stub_z: "no", glass: "no", marks: null });
    const plain = (words: string) => words.replaceAll("\u202f", " ");
    expect(plain(cut.words)).toMatch(
      /^No strand can be cut at H-2 with what lies there: 6 m of sheath are to be opened for it, of which a splice takes 1.5 m of glass on the side of ALD\/1, and nothing of F-1 lies there to be opened, in place or brought out\./,
    );
    expect(sentence).toContain("not here. No strand can be cut at H-2");
    const words = (plans[0]?.steps ?? []).map((step) => step.words);
    expect(words).toHaveLength(3);
    expect(plain([sentence, ...words, ...(plans[0]?.to_prove ?? [])].join(" "))).not.toMatch(
      /window of 0 m|Open 0 m|than 0 m/,
    );
    expect(plans[0]?.fit.verdict).toBe("no");
    expect(await plant.call("job.plan_breakout", { ...ASKED, job: "B-1" })).toMatchObject({
      ok: false,
      error: { code: "not_possible", problems: [{ field: "at", record: "H-2" }] },
    });
    // As much as one splice takes does for one side, and not for both.
    await plant.edit("stop", "F-1@3", { mark_out: 1321.5 });
    expect((await asked(plant)).cut).toMatchObject({ glass: "yes", stub_a: "yes" });
    const both = (await asked(plant, { side: "both" })).cut;
    expect([both.glass, plain(both.words)]).toEqual([
      "no",
      expect.stringContaining("no more than 1.5 m of F-1 lie there"),
    ]);
  });
  it("is made in a window along the span where nothing lies at the pole, and how is to be proved", async () => {
    const plant = await way({ slides: "no" });
    await plant.edit("space", "H-2", { crossing_m: 0, kind: "pole" });
    await plant.edit("stop", "F-1@3", { mark_out: 1320 });
    await plant.edit("pathway", "W-3", { kind: "aerial" });
    const { loop, cut, plans, sentence } = await asked(plant);
    expect([loop.reaches, loop.along, cut.glass, cut.stub_a]).toEqual(["in_place", "the span", null, null]);
    const plain = (words: string) => words.replaceAll("\u202f", " ");
    expect(sentence).toContain("it can be opened in place only, along the span");
    const words = plain([cut.words, ...(plans[0]?.steps ?? []).map((step) => step.words)].join("\n"));
    expect(words).toContain("Open 6 m of F-1 where it lies, along the span beside H-2");
    expect(words).not.toMatch(/window of 0 m|Open 0 m/);
    expect(plain(plans[0]?.to_prove.join("\n") ?? "")).toContain("how 6 m of it are opened along the span beside H-2");
    expect(await plant.call("job.plan_breakout", { ...ASKED, job: "B-1" })).toMatchObject({ ok: true });
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
  it("that were cut on their way to the side wanted come last, and nothing is said to run on them", async () => {
    const plant = await way();
    // One hole on, tube 2 is cut and joined to nothing: what comes to H-2 of it leads nowhere.
    await plant.run("cable.open", { cable: "F-1", stop: "H-1", cut: "25-36", stub_a: "yes", stub_b: "yes" });
    await plant.run("cable.open", { cable: "F-1", stop: "H-1", cut: "13-24", stub_a: "yes", stub_b: "yes" });
    const { plans } = await asked(plant, { strands: 10, most: 9, application: "10GBASE-LR" });
    expect(plans[0]).toMatchObject({ short: [], units: [{ words: "tube 4 brown" }] });
    const leads = plans.map((one) => one.short.length === 0);
    expect(leads).toEqual(leads.toSorted((a, b) => Number(b) - Number(a)));
    const short = plans.find(({ strands }) => strands === "F-1:13-22");
    expect(short?.short).toMatchObject([{ towards: "a", reach: "cut", place: { tag: "H-1" } }]);
    expect(short?.sentence).toContain("F-1:13-22 end in H-1, cut there and joined to nothing, so ALD/1 is not reached");
    expect(short?.fit.verdict).toBe("no");
    expect(short?.losses[0]?.applications).toMatchObject([
      { application: "10GBASE-LR", runs: "no", runs_at_worst: "no" },
    ]);
    // From the other end they are whole.
    expect((await asked(plant, { strands: 10, side: "z" })).plans.every((one) => one.short.length === 0)).toBe(true);
  });
  it("that end open with their cable are told so, and what runs on them is not", async () => {
    const plant = await way({ units: [{ kind: "tube", repeats: 1, strands: 6, fibre_class: "os2" }] });
    const [plan] = (await asked(plant, { application: "10GBASE-LR" })).plans;
    expect(plan?.sentence).toContain("F-1:1-4 end open in ALD/1, landed and joined nowhere");
    expect(plan?.losses[0]?.applications).toMatchObject([{ runs: "cannot_tell", runs_at_worst: "cannot_tell" }]);
    expect(plan?.fit.open.join()).toContain("end open in ALD/1");
  });
  it("that another job wants are taken only where no others are left, and whoever takes them is told", async () => {
    const plant = await way();
    await plant.run("job.plan_breakout", { ...ASKED, lateral: "L-1", job: "B-1" });
    const { plans } = await asked(plant);
    expect(plans[0]).toMatchObject({ strands: "F-1:30-33", promised: [] });
    await plant.run("job.plan_breakout", { ...ASKED, strands: 44, lateral: "L-2", job: "B-2" });
    const [now] = (await asked(plant)).plans;
    expect(now?.promised.map(({ job }) => job.tag)).toContain("B-1");
    expect(now?.sentence).toContain("wanted by job B-1 too");
    expect(now?.fit.open.join()).toContain("wanted by job B-1 too");
    const third = await plant.call("job.plan_breakout", { ...ASKED, lateral: "L-3", job: "B-3" });
    expect(JSON.stringify(third)).toContain("wanted by job B-1 too");
    await plant.run("job.abandon", { job: "B-2" });
    expect((await asked(plant)).plans[0]?.promised).toEqual([]);
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

describe("a cable of two kinds of glass", () => {
  const units = [
    { kind: "tube", repeats: 1, strands: 6, fibre_class: "om3" },
    { kind: "tube", repeats: 1, strands: 4, fibre_class: "os2" },
  ];
  it("gives strands of one core, never of both", async () => {
    const plant = await way({ units });
    const { plans } = await asked(plant);
    expect(plans.map(({ strands }) => strands)).toEqual(["F-1:1-4", "F-1:7-10"]);
    expect(await plant.call("breakout.plans", { ...ASKED, strands: 7 })).toMatchObject({
      error: { code: "not_possible", message: "7 strands are wanted; 6 strands are free of F-1's 10 at H-2." },
    });
  });
  it("gives those that the lateral's glass goes with, and says why the others are left", async () => {
    const { plans, not_free } = await asked(await way({ units }), { type: "DR-12" });
    expect(plans.map(({ strands }) => strands)).toEqual(["F-1:7-10"]);
    expect(not_free).toEqual([{ reason: "of another core", count: 6 }]);
  });
});

describe("a cable that comes by a place twice", () => {
  it("is asked for by its stop; by the place it is ambiguous, naming both", async () => {
    const plant = await way();
    await plant.run("cable.add_stop", { cable: "F-1", after: "H-3", space: "H-2" });
    expect(await plant.call("breakout.plans", ASKED)).toMatchObject({
      error: { code: "ambiguous", problems: [{ reason: "may be F-1@3" }, { reason: "may be F-1@5" }] },
    });
    expect((await asked(plant, { at: "F-1@3" })).stop.tag).toBe("F-1@3");
  });
});

describe("the same question", () => {
  it("has the same answer whether the plant's glass is in memory or read for it", async () => {
    const plant = await way();
    await plant.run("cable.open", { cable: "F-1", stop: "H-2", cut: "13-16", stub_a: "yes", stub_b: "yes" });
    const read = await asked(plant, { side: "both", to: "NEW", type: "DR-12" });
    // A bulk question loads the glass, and it stays.
    await plant.run("free_pair.find", { from: "ALD", to: "ZED", strands: 2 });
    expect(await asked(plant, { side: "both", to: "NEW", type: "DR-12" })).toEqual(read);
  });
});
