/** Mends of cuts that are on record already or in a hole, of cables mended before, and mends for the time being. */
import { describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { MendAnswer } from "../../core/repair/answer.ts";
import type { CableAnswer } from "../../core/trace/cable-answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { line } from "./line.ts";
import { at, CUT, carryOut, choose, KINDS, NUMBERS, planOf, reaches, rowsOf } from "./mending.ts";

describe("a cut that is on record already", () => {
  const severed = { cable: "F-050", after: "H-1", mark_open_from: 1172, mark_open_to: 1174 };

  it("has the same plans as before it was recorded, whether its place is named or not", async () => {
    const plant = await line();
    const before = await plant.run<MendAnswer>("mend.plans", CUT);
    await plant.run("cable.sever", severed);
    for (const asked of [{ cable: "F-050" }, { cable: "F-050", after: "H-1" }, { cable: "F-050", after: "F-050@3" }]) {
      const { cut, plans, circuits } = await plant.run<MendAnswer>("mend.plans", asked);
      // Stops beyond the cut are one further along by their order; all else is the same.
      const same = (all: unknown) => JSON.stringify(all).replaceAll(/F-050@\d/g, "F-050@");
      expect(JSON.parse(same(cut))).toEqual(JSON.parse(same(before.cut)));
      expect(JSON.parse(same(plans))).toEqual(JSON.parse(same(before.plans)));
      expect(circuits.map(({ circuit }) => circuit.tag)).toEqual(["K-7"]);
    }
  });

  it("makes a job without the step that records it, which joins the glass as well", async () => {
    const plant = await line();
    await plant.run("cable.sever", severed);
    expect(await reaches(plant)).toBe(false);
    for (const [, wanted] of KINDS.slice(0, 3)) {
      const plan = await planOf(plant, wanted);
      const job = await choose(plant, plan);
      expect(job.steps.filter(({ act }) => act === "cable.sever")).toEqual([]);
      await carryOut(plant, job);
      expect(await reaches(plant)).toBe(true);
      const { findings } = await plant.check({ families: ["truth"] });
      expect(findings.map(({ sentence }) => sentence).join("|")).toBe("");
      for (let undone = 0; undone <= job.steps.length; undone++) await plant.run("history.undo", {});
    }
  });

  it("leaves the plan standing when the job's own step records it", async () => {
    const plant = await line();
    const job = await choose(plant, await planOf(plant, at("H-1")));
    await carryOut(plant, job, (words) => words.startsWith("Hang case"));
    const { review } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    expect(review).toBe("Asked for again, its plan still holds.");
  });

  it("of which there are two must be named", async () => {
    const plant = await line();
    await plant.run("cable.sever", severed);
    await plant.run("cable.sever", { cable: "F-050", after: "H-3" });
    const reply = await plant.call("mend.plans", { cable: "F-050" });
    expect(reply).toMatchObject({ ok: false, error: { code: "ambiguous", problems: [{ field: "after" }] } });
    const { cut } = await plant.run<MendAnswer>("mend.plans", { cable: "F-050", after: "H-1" });
    expect(cut.mark).toBe(1173);
  });
});

describe("a cut in a hole", () => {
  it("takes what is coiled there for lost, and says so", async () => {
    const plant = await line();
    const { cut, assumed, plans } = await plant.run<MendAnswer>("mend.plans", { cable: "F-050", mark: 1110 });
    expect(cut.from_mouth_m).toBeCloseTo(101.5, 6);
    expect(assumed).toContain("it is cut in H-1: what is coiled there is taken as lost");
    for (const { sides } of plans)
      for (const { pulls } of sides) expect(pulls.map(({ place }) => place?.tag)).not.toContain("H-1");
  });
});

describe("a cable mended before", () => {
  it("by a piece between two points is mended again on either side of the gap, over what lies there", async () => {
    const plant = await line();
    const job = await choose(plant, await planOf(plant, ({ kind }) => kind === "two_points"));
    await carryOut(plant, job);
    const again = await plant.run<MendAnswer>("mend.plans", { cable: "F-050", after: "H-2", metres: 30 });
    expect(again.cut.between.map((place) => place?.tag)).toEqual(["H-2", "H-3"]);
    expect(again.plans.length).toBeGreaterThan(0);
    const left = await plant.run<MendAnswer>("mend.plans", { cable: "F-050", after: "LIB/101", metres: 30 });
    expect(left.cut.between.map((place) => place?.tag)).toEqual(["LIB/101", "H-1"]);
    const piece = await plant.call("mend.plans", { cable: "F-051", after: "H-1", metres: 30 });
    expect(piece.ok).toBe(true);
  });
});

describe("a temporary mend", () => {
  async function temporary(): Promise<CheckedPlant> {
    const plant = await line();
    const plan = await planOf(plant, ({ kind }) => kind === "two_points");
    await plant.run("job.plan_mend", { ...CUT, job: "J-1", piece: "F-051", plan, replace_by: "2026-06-01" });
    return plant;
  }

  it("lays its piece over the ground, in none of the ways, and joins the glass", async () => {
    const plant = await temporary();
    const job = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    expect([job.lasting, job.replace_by]).toEqual(["temporary", "2026-06-01"]);
    expect(
      job.steps.some(({ words }) => words.includes("over the ground") && words.includes("guard and mark it")),
    ).toBe(true);
    await carryOut(plant, job);
    // What hangs where the old cable ends now: by its marks, from the mouth to the tip.
    const { stops } = await plant.run<CableAnswer>("cable.show", { cable: "F-050" });
    const bare = stops.filter(({ kind }) => kind === "severed");
    expect(bare.length).toBe(2);
    for (const { marks, inside_m, coil_m } of bare) {
      expect(marks.length).toBe(2);
      expect(inside_m).toBeCloseTo(Math.abs((marks[1] ?? 0) - (marks[0] ?? 0)), 6);
      expect(coil_m).toBe(inside_m);
    }
    expect(await reaches(plant)).toBe(true);
    const legs = await rowsOf(
      plant,
      "select l.pathway_id, l.notes from leg l join stop s on s.id = l.from_stop_id join cable c on c.id = s.cable_id where c.tag = 'F-051'",
    );
    expect(legs).toEqual([{ pathway_id: null, notes: "Over the ground, for the time being." }]);
  });
});

describe("a cable with metal", () => {
  it("has a step for each case, which isn't done until somebody says what became of the metal", async () => {
    const plant = await line();
    await plant.edit("cable_type", "LT-24", { metal: "yes" });
    const job = await choose(plant, await planOf(plant, at("a new hole at the cut")));
    const metal = job.steps.find(({ words }) => words.startsWith("Carry the metal"));
    await carryOut(plant, job, (words) => words === metal?.words);
    const reply = await plant.call("job.do", { job: "J-1", step: metal?.ordinal });
    expect(reply, JSON.stringify(reply)).toMatchObject({
      ok: false,
      error: { code: "bad_input", problems: [{ field: "metal", reason: "must be said by whoever did it" }] },
    });
    await plant.run("job.do", { job: "J-1", step: metal?.ordinal, otherwise: { values: { metal: "bonded" } } });
    const stops = await rowsOf(plant, "select metal, metal_on from stop where metal is not null");
    expect(stops).toEqual([{ metal: "bonded", metal_on: "2026-05-01" }]);
  });
});

describe("coils at the ends of a cable", () => {
  it("are less by what was drawn from them", async () => {
    const plant = await line();
    await plant.edit("stop", "F-050@1", { slack_m: 30 });
    await plant.edit("stop", "F-050@2", { storage: "none" });
    const cut = { cable: "F-050", after: "LIB/101", metres: 60, lost_left_m: 1, lost_right_m: 1 };
    const { plans } = await plant.run<MendAnswer>("mend.plans", cut);
    const plan = plans.findIndex(({ sides }) =>
      sides.some(({ pulls }) => pulls.some(({ stop }) => stop.tag === "F-050@1")),
    );
    const pulled = plans[plan]?.sides[0]?.pulls[0]?.pulled_m ?? 0;
    expect(pulled).toBeGreaterThan(0);
    await plant.run("job.plan_mend", { ...cut, job: "J-1", plan: plan + 1 });
    await carryOut(plant, await plant.run<JobAnswer>("job.show", { job: "J-1" }));
    expect(await rowsOf(plant, "select slack_m from stop where ordinal = 1 and cable_id = 1")).toEqual([
      { slack_m: expect.closeTo(30 - pulled, 3) },
    ]);
  });
});

describe("light back first", () => {
  async function lightFirst(): Promise<CheckedPlant> {
    const plant = await line();
    const plan = await planOf(plant, ({ kind }) => kind === "two_points");
    const asked = { ...CUT, job: "J-1", piece: "F-051", plan, replace_by: "2026-06-01", circuits_only: true };
    await plant.run("job.plan_mend", asked);
    return plant;
  }

  it("splices what carries circuits alone, and leaves the dark strands in the cases", async () => {
    const plant = await lightFirst();
    const job = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    expect(
      job.steps.filter(({ act }) => act === "splice.range").map(({ words }) => /:([\d,-]+) to/.exec(words)?.[1]),
    ).toEqual(
      // K-7 runs on 13 and 14; at each of two points one splice step.
      ["13-14", "13-14"],
    );
    expect(job.steps.some(({ words }) => words.startsWith("Leave strands 1-12,15-24 of F-050 stored in"))).toBe(true);
    await carryOut(plant, job);
    expect(await reaches(plant)).toBe(true);
    const dark = await plant.run<object>("trace.walk", { what: "LIB/101/A:01#1" });
    expect(JSON.stringify(dark)).not.toContain("SCI/B01");
    const { findings } = await plant.check({ families: ["truth"], severities: ["error", "hazard"] });
    expect(findings.map(({ sentence }) => sentence).join("|")).toBe("");
  });

  it("at one point splices the rest later, by the same job", async () => {
    const plant = await line();
    const plan = await planOf(plant, ({ kind }) => kind === "one_point");
    await plant.run("job.plan_mend", { ...CUT, ...NUMBERS, job: "J-1", plan, circuits_only: true });
    const job = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    const splices = job.steps.filter(({ act }) => act === "splice.close");
    expect(splices.map(({ words }) => /strands ([\d,-]+) to themselves/.exec(words)?.[1])).toEqual([
      "13-14",
      "15-24",
      "1-12",
    ]);
    expect(splices[0]?.words).toContain("brings back K-7");
    for (const { words } of splices.slice(1)) expect(words).toContain("nothing in service waits for it");
    expect(job.steps.some(({ words }) => words.startsWith("Leave strands"))).toBe(false);
    await carryOut(plant, job);
    expect(await reaches(plant)).toBe(true);
    const dark = await plant.run<object>("trace.walk", { what: "LIB/101/A:01#1" });
    expect(JSON.stringify(dark)).toContain("SCI/B01");
  });

  it("is refused at two points for a mend that stays, and where new cable is landed, with what would do", async () => {
    const plant = await line();
    for (const [wanted, more, words] of [
      [({ kind }: { kind: string }) => kind === "two_points", {}, /say by which day it is replaced/],
      [({ kind }: { kind: string }) => kind === "to_end", {}, /lands new cable at an end.*choose one with one splice/],
    ] as const) {
      const plan = await planOf(plant, wanted);
      const cases = wanted({ kind: "two_points" }) ? ["CL-1", "CL-2"] : ["CL-1"];
      const reply = await plant.call("job.plan_mend", {
        ...CUT,
        ...NUMBERS,
        ...more,
        cases,
        plan,
        circuits_only: true,
      });
      expect(reply).toMatchObject({
        ok: false,
        error: {
          code: "bad_input",
          message: expect.stringMatching(words),
          problems: [{ field: "circuits_only" }],
        },
      });
    }
  });
});

describe("a strand that carries another circuit elsewhere on the cable", () => {
  /** F-050:1-2 are cut apart in H-3: K-9 runs on their far pieces alone, and is more urgent than K-7. */
  async function apart() {
    const plant = await line();
    await plant.run("cable.open", { cable: "F-050", stop: "H-3", cut: "1-2" });
    await plant.run("circuit.enter", { tag: "K-9", strands: 2, state: "in_service", priority: 1 });
    await plant.run("circuit.assign", { circuit: "K-9", what: ["F-050:1#2", "F-050:2#2"] });
    return plant;
  }

  it("doesn't count among those that the splice brings back, nor in their order", async () => {
    const plant = await apart();
    const { plans, circuits } = await plant.run<MendAnswer>("mend.plans", CUT);
    expect(circuits.map(({ circuit }) => circuit.tag)).toEqual(["K-7"]);
    const job = await choose(plant, plans.findIndex(({ kind }) => kind !== "new_cable") + 1);
    const words = job.steps.map((step) => step.words).filter((each) => /^Splice/.test(each));
    expect(words.join("|")).not.toContain("K-9");
    // K-7 runs in tube 2: it comes first.
    expect(words[0]).toContain("tube 2 orange");
  });
});
