/**
 * Somebody cut a cable somewhere between two holes. On the line of `line.ts` that is W-2, 150 m from H-1 to H-2: a splice
 * takes 5 m of reach and 2.4 m of preparation, of which the way through the hole gives 2 m; 2 m are lost on each side.
 */
import { describe, expect, it } from "vitest";
import type { MendAnswerPlan, MendWhole } from "../../core/repair/answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { line } from "./line.ts";

const between = (plant: CheckedPlant, cable: string, more: object = {}) =>
  plant.run<MendWhole>("mend.plans", { cable, between: ["H-1", "H-2"], ...more });
const at = (plant: CheckedPlant, cable: string, metres: number) =>
  plant.run<MendWhole>("mend.plans", { cable, after: "H-1", metres, losses: false });
const pointsOf = ({ kind, points }: MendAnswerPlan): string => [kind, ...points.map(({ words }) => words)].join(" ");
const firstOf = ({ plans }: MendWhole): MendAnswerPlan => {
  const [first] = plans;
  if (!first) throw new Error("there is no way to mend it");
  return first;
};

describe("a cut somewhere between two places", () => {
  it("has ways ranked and reckoned like any other: a piece across, pieces farther, up to an end, a new cable", async () => {
    const plant = await line();
    const { plans, cut, temporary, line: drawn } = await between(plant, "F-100");
    expect(plans.map(({ kind }) => kind)).toEqual([
      ...["two_points", "two_points", "two_points", "to_end", "to_end", "new_cable"],
    ]);
    expect(plans.map(pointsOf)[0]).toBe("two_points H-1 H-2");
    // 150 m of way and 7.4 m at each end, and waste.
    expect(plans[0]?.new_cable_m).toBeGreaterThan(150 + 2 * 7.4);
    for (const plan of plans) {
      expect(plan.hours.hours).toBeGreaterThan(0);
      expect(plan.losses?.map(({ circuit }) => circuit.tag)).toEqual(["K-2", "K-1"]);
      expect(plan.stock.words.length).toBeGreaterThan(0);
    }
    expect(cut).toMatchObject({ from_mouth_m: null, stretch_m: 150, mark: null, lost_left_m: 75, lost_right_m: 75 });
    expect(temporary).toMatchObject({ way: 1, followed_by: 1 });
    expect(drawn.lost_to_m - drawn.lost_from_m).toBeCloseTo(150, 2);
  });

  it("is told only ways that hold wherever the break is found", async () => {
    const plant = await line();
    const best = firstOf(await between(plant, "F-100"));
    for (let metres = 2.5; metres < 148; metres += 12.1) {
      const { plans } = await at(plant, "F-100", metres);
      expect(plans.map(pointsOf)).toContain(pointsOf(best));
    }
  });

  it("has no splice in the holes where no coil hangs: at their mouths nothing would reach", async () => {
    const plant = await line();
    const { plans, sentence } = await between(plant, "F-101");
    expect(plans.map(({ kind }) => kind)).toEqual(["new_cable"]);
    expect(sentence).toMatch(/^F-101 is cut somewhere on the 150.m between H-1 and H-2: no circuit is on it\./);
  });

  it("tells what finding the break would allow, part by part", async () => {
    const plant = await line();
    const { narrowed, sentence } = await between(plant, "F-101");
    expect(narrowed.map(({ words }) => words)).toEqual([
      "Two splices, at LIB/101 beside the panel there and H-2, with new cable between",
      "Two splices, at H-1 and H-2, with new cable between",
      "Two splices, at H-1 and SCI/B01 beside the panel there, with new cable between",
    ]);
    // What lacks is 5.4 m on each side, once 2 m are lost: from 7.4 m on, and up to 7.4 m before the other mouth.
    expect(narrowed[1]?.from_m).toBeCloseTo(7.4, 0);
    expect(narrowed[1]?.to_m).toBeCloseTo(142.6, 0);
    expect(sentence).toMatch(
      /Find the break if time allows: 7\.\d.m to 142\.\d.m from H-1, two splices, at H-1 and H-2/,
    );
  });

  it("tells for every metre what is told when it is cut there", async () => {
    const plant = await line();
    for (const cable of ["F-100", "F-101"]) {
      const { narrowed, plans } = await between(plant, cable);
      for (let metres = 3; metres < 148; metres += 7.25) {
        const best = firstOf(await at(plant, cable, metres));
        const part = narrowed.find(({ from_m, to_m }) => from_m - 0.1 <= metres && metres <= to_m + 0.1);
        const where = best.points.map(({ words }) => words);
        for (const one of where) expect(part?.words ?? plans[0]?.sentence).toContain(one);
      }
    }
  });

  it("is the cut at a metre, counted from the place named first, where that is said", async () => {
    const plant = await line();
    const there = await at(plant, "F-100", 40);
    for (const asked of [
      { metres: 40, losses: false },
      { between: ["H-2", "H-1"], metres: 110, losses: false },
      { mark: 1170, losses: false },
    ]) {
      const { cut, plans, narrowed } = await between(plant, "F-100", asked);
      expect(cut).toEqual(there.cut);
      expect(plans.map(({ sentence }) => sentence)).toEqual(there.plans.map(({ sentence }) => sentence));
      expect(narrowed).toEqual([]);
    }
  });

  it("is where the record has it, once its edges were read", async () => {
    const plant = await line();
    await plant.run("cable.sever", { cable: "F-100", after: "H-1", mark_open_from: 1168, mark_open_to: 1172 });
    expect((await between(plant, "F-100")).cut).toMatchObject({ from_mouth_m: 40, stretch_m: null });
    await plant.edit("stop", "F-100@3", { mark_open_from: null, mark_open_to: null });
    expect((await between(plant, "F-100")).cut).toMatchObject({ from_mouth_m: null, stretch_m: 150 });
  });
});

describe("a cut somewhere between two places with others between them", () => {
  const far = (plant: CheckedPlant, more: object = {}) =>
    plant.run<MendWhole>("mend.plans", { cable: "F-100", between: ["H-1", "SCI/B01"], ...more });

  it("is all legs between them, with the place on the way and what is coiled there given up", async () => {
    const plant = await line();
    const { cut, plans, assumed, sentence, line: drawn } = await far(plant);
    // 150 m to H-2, 2 m through it, 100 m on.
    expect(cut).toMatchObject({ from_mouth_m: null, stretch_m: 252, mark: null, passes: ["H-2"] });
    expect(cut.between.map((place) => place?.tag)).toEqual(["H-1", "SCI/B01"]);
    expect(drawn.lost_to_m - drawn.lost_from_m).toBeCloseTo(252, 2);
    expect(sentence).toMatch(
      /somewhere on the 252.m between H-1 and SCI\/B01, on which it comes by H-2: 2 circuits are/,
    );
    expect(assumed).toContainEqual(expect.stringMatching(/^what is coiled on the way, at H-2, is given up too/));
    for (const { sides } of plans)
      for (const { pulls } of sides) expect(pulls.map(({ place }) => place?.tag)).not.toContain("H-2");
  });

  it("is told only ways that hold wherever the break is found, in whichever leg", async () => {
    const plant = await line();
    const best = firstOf(await far(plant));
    for (let metres = 3; metres < 250; metres += 13.7) {
      // In H-2 itself it is another question.
      if (metres > 148 && metres < 154) continue;
      const { plans } = await far(plant, { metres, losses: false });
      expect(plans.map(pointsOf)).toContain(pointsOf(best));
    }
  });

  it("tells for every metre what is told when it is cut there", async () => {
    const plant = await line();
    const { narrowed, plans } = await far(plant);
    for (let metres = 3; metres < 249; metres += 7.25) {
      if (metres > 147 && metres < 155) continue;
      const best = firstOf(await far(plant, { metres, losses: false }));
      const part = narrowed.find(({ from_m, to_m }) => from_m - 0.1 <= metres && metres <= to_m + 0.1);
      for (const { words } of best.points) expect(part?.words ?? plans[0]?.sentence).toContain(words);
    }
  });

  it("is the leg in which the metres from either place lie, or the mark does", async () => {
    const plant = await line();
    // 20 m beyond H-2: 150 + 2 + 20 m from H-1, 80 m from SCI/B01.
    const there = await plant.run<MendWhole>("mend.plans", { cable: "F-100", after: "H-2", metres: 20, losses: false });
    for (const asked of [
      { metres: 172, losses: false },
      { between: ["SCI/B01", "H-1"], metres: 80, losses: false },
      { mark: 1340, losses: false },
    ])
      expect((await far(plant, asked)).cut).toEqual(there.cut);
    const beyond = await plant.call("mend.plans", { cable: "F-100", between: ["H-1", "SCI/B01"], metres: 253 });
    expect(beyond).toMatchObject({
      ok: false,
      error: { message: expect.stringMatching(/less than 252.m, where the other place begins/) },
    });
  });

  it("is the cut on record where there is one between them", async () => {
    const plant = await line();
    await plant.run("cable.sever", { cable: "F-100", after: "H-2", mark_open_from: 1338, mark_open_to: 1342 });
    const { cut } = await far(plant);
    expect(cut).toMatchObject({ from_mouth_m: 20, stretch_m: null });
  });

  it("makes no job: that begins with the cut on record, in one leg", async () => {
    const plant = await line();
    const reply = await plant.call("job.plan_mend", { cable: "F-100", between: ["H-1", "SCI/B01"], job: "J-1" });
    expect(reply).toMatchObject({
      ok: false,
      error: {
        code: "not_possible",
        message: expect.stringContaining("look at H-2, and say H-1..H-2 or H-2..SCI/B01"),
      },
    });
  });

  it("goes over no stop at which the cable is opened", async () => {
    const plant = await line();
    await plant.run("cable.open", { cable: "F-100", stop: "H-2", cut: "1-2" });
    const reply = await plant.call("mend.plans", { cable: "F-100", between: ["H-1", "SCI/B01"] });
    expect(reply).toMatchObject({
      ok: false,
      error: {
        code: "bad_input",
        message:
          "F-100 is opened at H-2, between H-1 and SCI/B01: look there on which side it is cut, and say H-1..H-2 or H-2..SCI/B01.",
      },
    });
  });
});

describe("two places between which it can't be", () => {
  it.each([
    [["H-1", "H-1"], "H-1 is named twice: a cut lies between two places."],
    [["H-1", "LIB/999"], "There is no "],
    [["W-2", "H-2"], "W-2"],
  ])("%j is refused in words", async (places, words) => {
    const plant = await line();
    await plant.add("space", { tag: "H-9", kind: "hand_hole" });
    const reply = await plant.call("mend.plans", { cable: "F-100", between: places });
    expect(reply).toMatchObject({ ok: false, error: { message: expect.stringContaining(words) } });
  });

  it("names the places a cable comes by, where it doesn't come by that one", async () => {
    const plant = await line();
    await plant.add("space", { tag: "H-9", kind: "hand_hole" });
    const reply = await plant.call("mend.plans", { cable: "F-100", between: ["H-1", "H-9"] });
    expect(reply).toMatchObject({
      ok: false,
      error: {
        message: "H-9 is no place of F-100, which comes by LIB/101, H-1, H-2, SCI/B01.",
        problems: [{ field: "between", record: "H-9" }],
      },
    });
  });

  it("asks which, where the cable runs between them twice", async () => {
    const plant = await line();
    await plant.run("cable.enter", {
      tag: "F-103",
      type: "LT-24",
      stops: [
        { space: "H-1", way: { conduit: "W-2/2" } },
        { space: "H-2", way: { conduit: "W-2/1" } },
        { space: "H-1" },
      ],
    });
    const twice = await plant.call("mend.plans", { cable: "F-103", between: ["H-1", "H-2"] });
    expect(twice).toMatchObject({
      ok: false,
      error: { code: "ambiguous", message: expect.stringContaining("say F-103@1..F-103@2 or F-103@3..F-103@2") },
    });
    const said = await plant.run<MendWhole>("mend.plans", { cable: "F-103", between: ["F-103@3", "F-103@2"] });
    expect(said.cut.after?.tag).toBe("F-103@2");
  });
});
