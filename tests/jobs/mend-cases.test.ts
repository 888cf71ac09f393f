/** Mends of cuts that are on record already or left some strands shining, and mends for the time being. */
import { describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { MendAnswer, MendWhole } from "../../core/repair/answer.ts";
import type { TraceAnswer } from "../../core/trace/answer.ts";
import type { CableAnswer } from "../../core/trace/cable-answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { line } from "./line.ts";
import { at, CUT, carryOut, choose, doStep, KINDS, NUMBERS, planOf, reaches, rowsOf } from "./mending.ts";

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

describe("a cut that left strands shining", () => {
  const DARK = { ...CUT, dark: "1-12" };

  it("is mended at two points past which the others run on, and never takes them down", async () => {
    const plant = await line();
    const plan = await planOf(plant, ({ loops }) => loops.length === 2, DARK);
    await plant.run("job.plan_mend", { ...DARK, ...NUMBERS, plan, cases: ["CL-1", "CL-2"] });
    const job = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    // K-7 runs on 13-14, which shine.
    for (const step of job.steps) {
      const { ordinal } = step;
      await doStep(plant, step);
      expect([ordinal, await reaches(plant)]).toEqual([ordinal, true]);
    }
    const dark = await plant.run<object>("trace.walk", { what: "LIB/101/A:01#1" });
    expect(JSON.stringify(dark)).toContain("SCI/B01/P:01");
    const { findings } = await plant.check({ families: ["truth"] });
    // That strands run on through a sheath that was cut stays to be said: it is so, until somebody lays it anew.
    expect(findings.map(({ rule }) => rule)).toEqual(["truth.severed_uncut"]);
  });

  it.each([
    ["with the marks of its edges", {}],
    ["without", { mark_open_from: null, mark_open_to: null, marks_basis: null }],
  ] as const)("stays as long as it was for those, once the cut is on record %s", async (_, marks) => {
    const plant = await line();
    const length = async () =>
      (await plant.run<TraceAnswer>("trace.walk", { what: "LIB/101/A:07#1" })).lines[0]?.totals.length_m;
    const before = await length();
    expect(before).toBeGreaterThan(300);
    await plant.run("job.plan_mend", { ...DARK, ...NUMBERS, cases: ["CL-1", "CL-2"] });
    const { steps } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    const sever = steps.find(({ act }) => act === "cable.sever");
    // The mouth of H-1 beyond is at 1133 m: 40 m on, less and more the metre that is lost on either side.
    expect(sever?.input).toMatchObject({
      cut: "1-12",
      mark_open_from: 1172,
      mark_open_to: 1174,
      marks_basis: "computed",
    });
    await plant.run("cable.sever", { ...(sever?.input as object), ...marks });
    expect(await length()).toBeCloseTo(before ?? 0, 6);
  });

  it("with one splice severs them, which is a step of its own that says what it takes down", async () => {
    const plant = await line();
    const plan = await planOf(plant, at("a new hole at the cut"), DARK);
    await plant.run("job.plan_mend", { ...DARK, ...NUMBERS, plan, cases: ["CL-1"], sever: true });
    const job = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    const sever = job.steps.find(({ words }) => words.startsWith("Sever the strands of F-050 that still shine"));
    expect(sever?.words).toContain("takes down K-7: only when whoever answers for it has said so");
    for (const step of job.steps) {
      const { ordinal } = step;
      await doStep(plant, step);
      if (ordinal < (sever?.ordinal ?? 0)) expect(await reaches(plant)).toBe(true);
      if (ordinal === sever?.ordinal) expect(await reaches(plant)).toBe(false);
    }
    expect(await reaches(plant)).toBe(true);
  });

  it.each([
    ["a new hole", at("a new hole at the cut"), "severs"],
    ["one at a place it passes", at("H-1"), "severs"],
    ["new cable up to an end", ({ kind }: { kind: string }) => kind === "to_end", "severs"],
    ["a whole new cable", ({ kind }: { kind: string }) => kind === "new_cable", "takes off"],
  ] as const)(
    "isn't mended by %s unless that is chosen, and the choice lists what it takes down",
    async (_, wanted, does) => {
      const plant = await line();
      const plan = await planOf(plant, wanted, DARK);
      const asked = { ...DARK, job: "J-1", plan };
      const reply = await plant.call("job.plan_mend", asked);
      expect(reply).toMatchObject({
        ok: false,
        error: {
          code: "not_possible",
          message: `Way ${plan} ${does} strands 13-24 of F-050, which still shine, and takes down K-7: choose that, or a way that cuts the dark strands alone.`,
          problems: [{ field: "sever", record: "F-050:13-24" }],
        },
      });
      expect(await plant.call("job.plan_mend", { ...asked, sever: true })).toMatchObject({ ok: true });
    },
  );

  it("is carried past by the smallest make alike, its strands in the order of those that were dark", async () => {
    const plant = await line();
    const alike = { construction: "loose_tube", fibre_class: "os2", armour: "none", metal: "no", bend_radius_mm: 200 };
    await plant.add("cable_type", { tag: "LT-12", ...alike });
    await plant.add("unit_type", { cable_type_id: "LT-12", ordinal: 1, kind: "tube", repeats: 1, strands: 12 });
    await plant.run("job.plan_mend", { ...CUT, dark: "13-24", ...NUMBERS, cases: ["CL-1", "CL-2"] });
    const job = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    expect(job.steps.find(({ act }) => act === "cable.carry")?.input).toMatchObject({ strands: "13-24", onto: "1-12" });
    await carryOut(plant, job);
    expect(await reaches(plant)).toBe(true);
    const joined = await plant.run<object>("trace.walk", { what: "LIB/101/A:07#1" });
    expect(JSON.stringify(joined)).toContain('"F-051:1"');
    // K-7 has the glass it runs on, and no more: what lies dead between the windows is free again.
    const given = await rowsOf(
      plant,
      "select c.tag as cable, t.number, s.ordinal from assignment a join section s on s.id = a.section_id join strand t on t.id = s.strand_id join cable c on c.id = t.cable_id where a.until_on is null order by c.tag, t.number, s.ordinal",
    );
    expect(given.map(({ cable, number, ordinal }) => `${cable}:${number}#${ordinal}`)).toEqual([
      ...["F-050:13#1", "F-050:13#4", "F-050:14#1", "F-050:14#4", "F-051:1#1", "F-051:2#1"],
    ]);
    const { findings } = await plant.check({ families: ["truth"] });
    expect(findings.map(({ rule }) => rule)).toEqual(["truth.severed_uncut"]);
  });

  it("refuses to be carried on in another number of strands than are meant", async () => {
    const plant = await line();
    await plant.run("cable.enter", { tag: "F-051", type: "LT-24", stops: [{ space: "H-1" }, { space: "H-2" }] });
    const reply = await plant.call("cable.carry", { cable: "F-050", by: "F-051", strands: "13-14", onto: "1-3" });
    expect(reply).toMatchObject({
      ok: false,
      error: { code: "bad_input", problems: [{ field: "onto", record: "F-051" }] },
    });
  });

  it("is known from the record, where the cut is on it", async () => {
    const plant = await line();
    await plant.run("cable.sever", { cable: "F-050", after: "H-1", cut: "1-12" });
    const told = await plant.run<MendWhole>("mend.plans", { cable: "F-050" });
    expect(told).toMatchObject({ strands: 12, shining: { strands: "13-24" }, circuits: [] });
    expect(told.plans.map(({ severs }) => severs)).toContain(true);
    await plant.run("job.plan_mend", { cable: "F-050", ...NUMBERS, cases: ["CL-1", "CL-2"] });
    const job = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    await carryOut(plant, job);
    expect(await reaches(plant)).toBe(true);
    expect(job.steps.some(({ words }) => words.includes("cut strands 1-12, which are measured dark"))).toBe(true);
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

  it("is refused for a mend that stays, and at a single point", async () => {
    const plant = await line();
    for (const [wanted, more] of [
      [({ kind }: { kind: string }) => kind === "two_points", {}],
      [({ kind }: { kind: string }) => kind === "one_point", { replace_by: "2026-06-01" }],
    ] as const) {
      const plan = await planOf(plant, wanted);
      const reply = await plant.call("job.plan_mend", { ...CUT, ...NUMBERS, ...more, plan, circuits_only: true });
      expect(reply).toMatchObject({ ok: false, error: { code: "bad_input", problems: [{ field: "circuits_only" }] } });
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
