/** Mends of cuts that left some strands shining. */
import { describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { MendWhole } from "../../core/repair/answer.ts";
import type { TraceAnswer } from "../../core/trace/answer.ts";
import { line } from "./line.ts";
import { at, CUT, carryOut, doStep, NUMBERS, planOf, reaches, rowsOf } from "./mending.ts";

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
    [
      "new cable up to an end",
      ({ kind, loops }: { kind: string; loops: readonly object[] }) => kind === "to_end" && loops.length === 0,
      "severs",
    ],
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

describe("a cut of which the dark strands are mended and others run on", () => {
  const DARK = { ...CUT, dark: "1-12" };
  async function mended() {
    const plant = await line();
    await plant.run("job.plan_mend", { ...DARK, ...NUMBERS, cases: ["CL-1", "CL-2"] });
    await carryOut(plant, await plant.run<JobAnswer>("job.show", { job: "J-1" }));
    return plant;
  }

  it("is not offered again: what is left to do is told", async () => {
    const plant = await mended();
    expect(await plant.call("mend.plans", { cable: "F-050" })).toMatchObject({
      ok: false,
      error: {
        code: "not_possible",
        message:
          "F-050 has no cut that waits to be mended: strands 1-12, which are cut at F-050@3, go past it over F-051. Left to do: strands 13-24 still run on through the sheath that was cut there. To mend that too, name them as dark, --dark 13-24: it severs them. Where the sheath is sound, correct F-050@3.",
        problems: [{ field: "dark", record: "F-050@3" }],
      },
    });
  });

  it("leaves another cut that waits as the one that is meant", async () => {
    const plant = await mended();
    await plant.run("cable.sever", { cable: "F-050", after: "H-3" });
    const { cut } = await plant.run<MendWhole>("mend.plans", { cable: "F-050" });
    expect(cut.between.map((place) => place?.tag)).toEqual(["H-3", "SCI/B01"]);
  });

  it("offers the strands that are still dark where not all of them are mended", async () => {
    const plant = await line();
    await plant.run("cable.sever", {
      cable: "F-050",
      after: "H-1",
      cut: "1-18",
      mark_open_from: 1172,
      mark_open_to: 1174,
    });
    await plant.run("job.plan_mend", { ...DARK, ...NUMBERS, cases: ["CL-1", "CL-2"] });
    await carryOut(plant, await plant.run<JobAnswer>("job.show", { job: "J-1" }));
    const told = await plant.run<MendWhole>("mend.plans", { cable: "F-050" });
    expect(told.order.filter(({ shines }) => !shines).map(({ number }) => number)).toEqual([13, 14, 15, 16, 17, 18]);
    expect(told.order.map(({ number }) => number).sort((a, b) => a - b)).toEqual(
      Array.from({ length: 12 }, (_, index) => index + 13),
    );
    expect(told.circuits.map(({ circuit }) => circuit.tag)).toEqual(["K-7"]);
  });

  it("is mended for what runs on too, which is severed as a step and comes back, and the rest stays as it was mended", async () => {
    const plant = await mended();
    const asked = { cable: "F-050", dark: "13-24" };
    const told = await plant.run<MendWhole>("mend.plans", asked);
    expect([told.strands, told.plans.some(({ loops }) => loops.length > 0)]).toEqual([12, false]);
    const plan = told.plans.findIndex(({ kind, new_holes }) => kind === "two_points" && new_holes === 0) + 1;
    await plant.run("job.plan_mend", { ...asked, job: "J-2", plan, piece: "F-052", cases: ["CL-3", "CL-4"] });
    const job = await plant.run<JobAnswer>("job.show", { job: "J-2" });
    expect(job.steps.map(({ words }) => words)).toContainEqual(expect.stringMatching(/^Sever strands 13-24 of F-050,/));
    await carryOut(plant, job, undefined, "J-2");
    expect(await reaches(plant)).toBe(true);
    expect(JSON.stringify(await plant.run<object>("trace.walk", { what: "LIB/101/A:01#1" }))).toContain("SCI/B01/P:01");
    const spliced = await rowsOf(
      plant,
      "select count(*) as n from splice p join section s on s.id = p.a_section_id or s.id = p.b_section_id join strand t on t.id = s.strand_id join cable c on c.id = t.cable_id where c.tag = 'F-052'",
    );
    expect(spliced).toEqual([{ n: 24 }]);
    const { findings } = await plant.check({ families: ["truth"] });
    expect(findings.map(({ sentence }) => sentence)).toEqual([]);
  });
});
