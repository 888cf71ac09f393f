/** A digger cuts all that lies in a way: each cable has its plans, the one with the most at stake comes first. */
import { describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { MendWhole } from "../../core/repair/answer.ts";
import { type InHole, roomTogether } from "../../core/repair/in-hole.ts";
import { byStake } from "../../core/repair/several.ts";
import type { MendSeveralAnswer } from "../../core/repair/several-answer.ts";
import { storyClock } from "../../samples/campus/crew.ts";
import { doStep } from "../jobs/mending.ts";
import { newSample } from "../support/made.ts";
import { line } from "./line.ts";

const tags = (all: readonly { readonly tag: string }[]): string[] => all.map(({ tag }) => tag);

describe("a way that is cut with all its cables", () => {
  it("has a plan for each, the cable with the most urgent circuits first", async () => {
    const plant = await line();
    const answer = await plant.run<MendSeveralAnswer>("mend.several", { of: ["W-2"], metres: 30 });
    expect(tags(answer.cuts.map(({ cable }) => cable))).toEqual(["F-100", "F-101"]);
    expect(tags(answer.circuits.map(({ circuit }) => circuit))).toEqual(["K-2", "K-1"]);
    expect(answer.cuts.map(({ cut }) => cut.from_mouth_m)).toEqual([30, 30]);
    expect(answer.cuts[0]?.cut.mark).toBe(1160);
    expect(answer.strands).toBe(48);
    expect(answer.sentence).toMatch(/^With W-2, 2 cables are cut and 2 circuits are down\. Begin with F-100: /);
  });

  it("is one pipe, where only that is named", async () => {
    const plant = await line();
    const answer = await plant.run<MendSeveralAnswer>("mend.several", { of: ["W-2/2"] });
    expect(tags(answer.cuts.map(({ cable }) => cable))).toEqual(["F-101"]);
    expect(answer.cuts[0]?.assumed[0]).toMatch(/somewhere between H-1 and H-2/);
  });

  it("is given up from place to place where nobody said the metres, and no more once they are said", async () => {
    const plant = await line();
    const answer = await plant.run<MendSeveralAnswer>("mend.several", { of: ["W-2"] });
    expect(answer.sentence).toContain(
      "Where is not known: each cable is given up from place to place, so that every way told holds wherever it is cut; less may do once the break is found.",
    );
    for (const { cable, cut, plans } of answer.cuts) {
      expect(cut).toMatchObject({ stretch_m: 150, from_mouth_m: null, mark: null });
      const alone = await plant.run<MendWhole>("mend.plans", { cable: cable.tag, between: ["H-1", "H-2"] });
      expect(plans.map(({ sentence }) => sentence)).toEqual(alone.plans.map(({ sentence }) => sentence));
    }
    const said = await plant.run<MendSeveralAnswer>("mend.several", { of: ["W-2"], metres: 30 });
    expect(said.sentence).not.toContain("Where is not known");
    expect(said.cuts.map(({ cut }) => cut.stretch_m)).toEqual([null, null]);
  });

  it("turns metres and losses about for a cable that runs against it", async () => {
    const plant = await line();
    await plant.run("cable.enter", {
      tag: "F-102",
      type: "LT-24",
      stops: [{ space: "H-2", way: { conduit: "W-2/2" } }, { space: "H-1" }],
    });
    const answer = await plant.run<MendSeveralAnswer>("mend.several", {
      of: ["W-2"],
      metres: 30,
      lost_from_m: 3,
      lost_to_m: 1,
    });
    const cut = (tag: string) => answer.cuts.find(({ cable }) => cable.tag === tag)?.cut;
    expect(cut("F-101")).toMatchObject({ from_mouth_m: 30, lost_left_m: 3, lost_right_m: 1 });
    expect(cut("F-102")).toMatchObject({ from_mouth_m: 120, lost_left_m: 1, lost_right_m: 3 });
  });

  it("tells what cannot be planned and goes on with the rest", async () => {
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
    const answer = await plant.run<MendSeveralAnswer>("mend.several", { of: ["W-2"] });
    expect(answer.cuts).toHaveLength(2);
    expect(answer.refused).toMatchObject([
      { cable: { tag: "F-103" }, reason: "lies in it more than once: plan it by its own mark" },
    ]);
    expect(answer.sentence).toContain("No plan yet for F-103.");
  });
});

describe("what lies in a way and isn't mended with it", () => {
  it("is what is dead on record, but not what is out of use by the record and carries a circuit", async () => {
    const plant = await line();
    await plant.run("cable.enter", {
      tag: "F-106",
      type: "LT-24",
      stops: [{ space: "H-1", way: { conduit: "W-2/3" } }, { space: "H-2" }],
    });
    const cut = async (asked: object) => {
      const { cuts, refused, sentence } = await plant.run<MendSeveralAnswer>("mend.several", asked);
      return { cables: tags([...cuts, ...refused].map(({ cable }) => cable)).toSorted(), sentence };
    };
    expect((await cut({ of: ["W-2"] })).cables).toEqual(["F-100", "F-101", "F-106"]);
    await plant.edit("cable", "F-106", { life: "out_of_use" });
    await plant.edit("cable", "F-100", { life: "out_of_use" });
    for (const asked of [{ of: ["W-2"] }, { between: ["H-1", "H-2"] }]) {
      const { cables, sentence } = await cut(asked);
      expect(cables).toEqual(["F-100", "F-101"]);
      expect(sentence).toContain("2 cables are cut");
    }
  });
});

describe("two places between which cables are cut", () => {
  it("are every cable that runs straight from one to the other, whichever way", async () => {
    const plant = await line();
    const there = await plant.run<MendSeveralAnswer>("mend.several", { between: ["H-1", "H-2"], metres: 40 });
    const back = await plant.run<MendSeveralAnswer>("mend.several", { between: ["H-2", "H-1"], metres: 110 });
    for (const { cuts } of [there, back]) {
      expect(tags(cuts.map(({ cable }) => cable))).toEqual(["F-100", "F-101"]);
      expect(cuts.map(({ cut }) => cut.from_mouth_m)).toEqual([40, 40]);
    }
    expect(there.sentence).toMatch(/^Between H-1 and H-2, 2 cables are cut and /);
    const one = await plant.run<MendSeveralAnswer>("mend.several", { of: ["F-101"], between: ["H-1", "H-2"] });
    expect(one.sentence).toMatch(/^With F-101 between H-1 and H-2, 1 cable is cut and /);
    expect(tags(one.cuts.map(({ cable }) => cable))).toEqual(["F-101"]);
  });
});

describe("a hole that several mends want", () => {
  it("is told with the room for all cases, and that there is too little", async () => {
    const plant = await line();
    const shared = async () =>
      (await plant.run<MendSeveralAnswer>("mend.several", { of: ["W-2"], metres: 75 })).shared.find(
        ({ place }) => place?.tag === "H-1",
      );
    // F-101 has no coil: two points, H-1 and H-2. F-100 is brought there as well: in a new hole nobody wants to dig.
    await plant.edit("stop", "F-100@2", { mark_out: 1102 });
    await plant.edit("stop", "F-100@3", { mark_in: 1252, mark_out: 1254 });
    await plant.edit("stop", "F-100@4", { mark_in: 1354, mark_open_to: 1354 });
    await plant.edit("stop", "F-100@1", { mark_open_from: 1000 });
    // 14.8 m are 10 turns of 0.24 m, a bundle of 4 by 4 cables of 12 mm: 2 × (0.24 + 0.048) + 0.048 + 2 × 0.5.
    expect(await shared()).toMatchObject({
      fits: true,
      cables: [{ tag: "F-100" }, { tag: "F-101" }],
      words: expect.stringMatching(
        /^H-1 takes 2 cases, of F-100, F-101; it is 3.m long, and with coils at their radius they need 1\.6.m: there is room\.$/,
      ),
    });
    await plant.edit("space", "H-1", { inner_length_m: 1.5, inner_width_m: 1.2 });
    expect(await shared()).toMatchObject({ fits: false, words: expect.stringContaining("there is no room for all") });
    await plant.edit("space", "H-1", { inner_width_m: null });
    await plant.edit("space", "H-2", { inner_width_m: null });
    expect(await shared()).toMatchObject({ fits: null, words: expect.stringContaining("is not known") });
  });
});

describe("room for several mends in one hole", () => {
  const mend = (cable_id: number, there: InHole["there"], cases = 0): InHole => ({
    ...{ radius_m: 0.2, thick_m: 0.05, cases, cable_id, there },
  });
  const third = { cable: 3, thick_m: 0.3 };

  it("counts the coil of a cable that is not mended there, and that of one that is only once", () => {
    const alone = roomTogether([mend(1, []), mend(2, [])], 0.5);
    // Twice radius and thickness of one, the other before it, two cases.
    expect(alone).toBeCloseTo(2 * 0.25 + 0.05 + 2 * 0.5, 9);
    const beside = [mend(1, [{ cable: 2, thick_m: 0.2 }, third]), mend(2, [{ cable: 1, thick_m: 0.1 }, third])];
    expect(roomTogether(beside, 0.5)).toBeCloseTo(alone + 0.3, 9);
  });
});

describe("what is at stake", () => {
  const stake = (strands: number, ...priorities: (number | null)[]) => ({
    strands,
    circuits: priorities.map((priority, id) => ({ circuit: { kind: "circuit" as const, id, tag: "" }, priority })),
  });
  it("is the most urgent circuit, then how many, then how many strands", () => {
    const all = [stake(900), stake(1, 2, 2), stake(1, null, 1), stake(9, 2), stake(1, 2, null), stake(12)];
    expect(all.toSorted(byStake)).toEqual([all[2], all[1], all[4], all[3], all[0], all[5]]);
  });
});

describe("a cable that lies in the way only by a pipe that belongs to another way than its leg", () => {
  it("is looked at first: its cut isn't planned, and the answer and the job's paper say the doubt", async () => {
    // On the demo campus F-008's leg is in EN-03, and its pipe is EN-04/2: one of the faults put there on purpose.
    const plant = await newSample({ clock: storyClock() });
    const answer = await plant.run<MendSeveralAnswer>("mend.several", { of: ["EN-04"] });
    expect(answer.cuts.map(({ cable }) => cable.tag)).not.toContain("F-008");
    expect(answer.sentence).toContain("Whether F-008 lies there is in doubt");
    expect(answer.unknown.join("\n")).toMatch(/F-008 is in doubt there: its leg from \S+ lies in EN-03.*EN-04\/2/);
    await plant.run("job.plan_mends", { of: ["EN-04"], job: "J-9" });
    const { steps } = await plant.run<{ steps: { words: string }[] }>("job.show", { job: "J-9" });
    expect(steps.filter(({ words }) => words.includes("F-008 is cut") || words.startsWith("Lay F-008"))).toEqual([]);
    expect(steps.filter(({ words }) => words.startsWith("Dig the break"))).toHaveLength(1);
    const paper = JSON.stringify(await plant.run<object>("job.print", { job: "J-9" }));
    expect(paper).toContain("F-008 is not in this job and may carry light there");
    // By the way of its leg it is cut like any other.
    const { cuts } = await plant.run<MendSeveralAnswer>("mend.several", { of: ["EN-03"] });
    expect(cuts.map(({ cable }) => cable.tag)).toContain("F-008");
  });
});

describe("a cable whose leg lies in one way and whose pipe is of another", () => {
  const between: [string, string] = ["LMP/ER", "MH-01"];
  const DOUBT = "Whether F-008 lies in EN-03 or in EN-04/2 from LMP/ER on is in doubt: look before anything is cut";
  const WORDS = /^Where F-008 lies from LMP\/ER on is in doubt: .*EN-03.*EN-04\/2/;

  it("is told of by every answer about its mend, and looked at before anything is cut", async () => {
    const plant = await newSample({ clock: storyClock() });
    const one = await plant.run<MendWhole>("mend.plans", { cable: "F-008", between, losses: false });
    expect(one.sentence).toContain(DOUBT);
    expect(one.doubts).toEqual([expect.stringMatching(WORDS)]);
    // Whatever leg of it is cut: what is pulled and laid goes by the one in doubt.
    const beyond = await plant.run<MendWhole>("mend.plans", {
      cable: "F-008",
      after: "MH-01",
      metres: 20,
      losses: false,
    });
    expect(beyond.sentence).toContain(DOUBT);
    for (const asked of [{ of: ["EN-03"] }, { of: ["F-008", "F-009"], between }]) {
      const several = await plant.run<MendSeveralAnswer>("mend.several", asked);
      expect(several.sentence).toContain(DOUBT);
      expect(several.doubts).toEqual([expect.stringMatching(WORDS)]);
    }
    // One that lies there without doubt says nothing of it.
    const sure = await plant.run<MendWhole>("mend.plans", { cable: "F-009", between, losses: false });
    expect(sure.doubts).toEqual([]);
  });

  it("is looked at by a step of every job that mends it", async () => {
    const plant = await newSample({ clock: storyClock() });
    await plant.run("job.plan_mend", { cable: "F-008", between, job: "J-1" });
    await plant.run("job.plan_mends", { of: ["EN-03"], job: "J-2" });
    for (const job of ["J-1", "J-2"]) {
      const { steps } = await plant.run<{ steps: { words: string }[] }>("job.show", { job });
      const at = (words: string): number => steps.findIndex((step) => step.words.startsWith(words));
      const look = at("Look at LMP/ER in which way F-008 lies from there on");
      expect(look).toBeGreaterThan(0);
      expect(look).toBeLessThan(at("Record that F-008 is cut"));
      expect(JSON.stringify(await plant.run<object>("job.print", { job }))).toContain("F-008 lies from LMP/ER on");
    }
  });

  it("has its piece laid in the way that joins the places, and nothing new in the pipe of the other", async () => {
    const plant = await newSample({ clock: storyClock() });
    const inPipe = (cable: string) =>
      plant.store.read((reader) =>
        reader.rows<{ way: string | null; pipe: string | null }>(
          `select p.tag as way, o.tag as pipe from cable c join stop s on s.cable_id = c.id join leg l on l.from_stop_id = s.id
             left join pathway p on p.id = l.pathway_id left join conduit d on d.id = l.conduit_id
             left join pathway o on o.id = d.pathway_id
           where c.tag = ? order by s.ordinal`,
          [cable],
        ),
      );
    expect((await inPipe("F-008"))[0]).toEqual({ way: "EN-03", pipe: "EN-04" });
    await plant.run("job.plan_mend", { cable: "F-008", between, job: "J-1" });
    expect((await inPipe("J-1-P"))[0]).toEqual({ way: "EN-03", pipe: null });
    const { steps } = await plant.run<{ steps: { words: string; input: object | null }[] }>("job.show", { job: "J-1" });
    const others = steps.filter(({ words }) => !words.startsWith("Look at LMP/ER in which way"));
    // What lies dead there lies in either, and no step says in which.
    const told = others.flatMap(({ words }) => (/EN-0[34]/.test(words) && /of F-008/.test(words) ? [words] : []));
    expect(told.length).toBeGreaterThan(1);
    for (const words of told) expect(words).toContain("EN-03 or EN-04/2 (which of the two is in doubt)");
    expect(others.filter(({ words }) => words.includes("EN-04/2")).map(({ words }) => words)).toEqual(told);
    expect(JSON.stringify(others.map(({ input }) => input))).not.toContain("EN-04/2");
    // For the time being over the ground, the lasting piece is laid by the same rule, and the doubt is told again.
    await plant.run("job.abandon", { job: "J-1" });
    const { plans } = await plant.run<MendWhole>("mend.plans", { cable: "F-008", between, losses: false });
    const plan = plans.findIndex(({ kind }) => kind === "two_points") + 1;
    await plant.run("job.plan_mend", { cable: "F-008", between, job: "T-1", plan, replace_by: "2027-12-01" });
    for (const step of (await plant.run<JobAnswer>("job.show", { job: "T-1" })).steps) await doStep(plant, step, "T-1");
    await plant.run("job.plan_lasting", { follows: "T-1", job: "L-1" });
    expect((await inPipe("L-1-P"))[0]).toEqual({ way: "EN-03", pipe: null });
    const lasting = await plant.run<{ steps: { words: string }[] }>("job.show", { job: "L-1" });
    expect(lasting.steps.map(({ words }) => words).join("\n")).toMatch(
      /Look at LMP\/ER in which way L-1-P lies.*EN-04\/2/,
    );
  });

  it("is told of by a break-out of its strands", async () => {
    const plant = await newSample({ clock: storyClock() });
    const answer = await plant.run<{ sentence: string; plans: { to_prove: string[] }[] }>("breakout.plans", {
      cable: "F-008",
      at: "MH-01",
      strands: 2,
      side: "z",
      to: "MH-09",
    });
    expect(answer.sentence).toContain(DOUBT);
    expect(answer.plans[0]?.to_prove).toContainEqual(expect.stringMatching(WORDS));
  });
});

describe("two places with others between", () => {
  it("have every cable that comes by both given up between them, and ask in which leg it is cut", async () => {
    const plant = await line();
    const answer = await plant.run<MendSeveralAnswer>("mend.several", { between: ["LIB/101", "H-2"] });
    expect(tags(answer.cuts.map(({ cable }) => cable))).toEqual(["F-100", "F-101"]);
    for (const { cut } of answer.cuts) {
      expect(tags(cut.between.flatMap((place) => place ?? []))).toEqual(["LIB/101", "H-2"]);
      expect(cut.passes).toEqual(["H-1"]);
    }
    expect(answer.sentence).toContain("In which leg? Look at H-1 on which side F-100, F-101 are cut");
    // The same as each by itself.
    const alone = await plant.run<MendWhole>("mend.plans", {
      cable: "F-100",
      between: ["LIB/101", "H-2"],
      losses: false,
    });
    expect(answer.cuts[0]?.plans.map(({ sentence }) => sentence)).toEqual(alone.plans.map(({ sentence }) => sentence));
  });

  it("take metres and losses from the first that is named, whichever way a cable runs", async () => {
    const plant = await line();
    const cutOf = async (input: object) => (await plant.run<MendSeveralAnswer>("mend.several", input)).cuts[0]?.cut;
    const there = { lost_from_m: 3, lost_to_m: 1, metres: 110 };
    // 100 m of W-1, 2 m through H-1, and 8 m beyond.
    expect(await cutOf({ between: ["LIB/101", "H-2"], ...there })).toMatchObject({
      ...{ after: { tag: "F-100@2" }, from_mouth_m: 8, lost_left_m: 3, lost_right_m: 1 },
    });
    // From H-2 back 110 m of W-2's 150 m.
    expect(await cutOf({ between: ["H-2", "LIB/101"], ...there })).toMatchObject({
      ...{ after: { tag: "F-100@2" }, from_mouth_m: 40, lost_left_m: 1, lost_right_m: 3 },
    });
  });

  it("make no job before the leg is known, and say which to name", async () => {
    const plant = await line();
    const reply = await plant.call("job.plan_mends", { between: ["LIB/101", "H-2"], job: "J-1" });
    expect(reply).toMatchObject({ ok: false, error: { code: "not_possible" } });
    expect(JSON.stringify(reply)).toContain("look at H-1, and say LIB/101..H-1 or H-1..H-2");
  });

  it("are refused where no cable, or not the one that is named, comes by both", async () => {
    const plant = await line();
    await plant.add("space", { tag: "H-9", kind: "hand_hole" });
    const refused = (input: object) => plant.call("mend.several", { between: ["LIB/101", "H-9"], ...input });
    expect(await refused({})).toMatchObject({
      error: { code: "not_possible", message: expect.stringContaining("have no cable that comes by both") },
    });
    expect(await refused({ of: ["F-101"] })).toMatchObject({
      error: { code: "bad_input", message: expect.stringContaining("F-101 doesn't come by both LIB/101 and H-9") },
    });
  });
});

describe("what can't be cut so", () => {
  it.each([
    ["nothing", {}, "bad_input", /Name a pathway or pipe, or two places/],
    ["a cable without places", { of: ["F-100"] }, "bad_input", /F-100 is a cable: say between which two places/],
    ["a way and places", { of: ["W-2"], between: ["H-1", "H-2"] }, "bad_input", /W-2 says by itself between which/],
    ["a way that isn't there", { of: ["W-9"] }, "not_found", /W-9/],
    [
      "beyond the way's end",
      { of: ["W-2"], metres: 150 },
      "bad_input",
      /150 m must lie below 150 m, where the way ends/,
    ],
    ["before the way's end", { of: ["W-2"], metres: -5 }, "bad_input", /^W-2: -5 m must not be less than 0/],
    ["less than nothing", { between: ["H-1", "H-2"], metres: -5 }, "bad_input", /^F-10\d: -5 m from the mouth must be/],
    [
      "beyond every leg between the two",
      { between: ["H-1", "H-2"], metres: 200 },
      "bad_input",
      /200.m from the mouth must be more than 0, where the mouth is, and less than 150.m, where the other place begins/,
    ],
    ["one place twice", { between: ["H-1", "H-1"] }, "bad_input", /H-1 is named twice/],
    ["an empty pipe", { of: ["W-1/3"] }, "not_possible", /W-1\/3 holds no cable on record/],
  ])("%s is refused in words", async (_, input, code, words) => {
    const plant = await line();
    const reply = await plant.call("mend.several", input);
    expect(reply).toMatchObject({ ok: false, error: { code, message: expect.stringMatching(words) } });
  });
});
