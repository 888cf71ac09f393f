/** A splice case that was wrecked with all glass in it: what is said of it, and the job that renews it. */
import { describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { LostCaseAnswer } from "../../core/repair/lost-case-told.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { carryOut, reaches, rowsOf } from "./mending.ts";
import { opened } from "./opened-line.ts";

const CASE = "H-2/CL-9";
const asked = (plant: CheckedPlant, lost_m: number) =>
  plant.run<LostCaseAnswer>("mend.case", { closure: CASE, lost_m });

/** L-9 ends in the case with so many metres behind its mouth; how thick it is and that it slides is known. */
async function wrecked(coil_m = 12): Promise<CheckedPlant> {
  const plant = await opened();
  await plant.edit("stop", "L-9@1", { slack_m: coil_m });
  await plant.edit("cable_type", "LT-24", { outer_diameter_mm: 12 });
  const [first, last] = await rowsOf(
    plant,
    "select l.id from leg l join stop s on s.id = l.from_stop_id join cable c on c.id = s.cable_id where c.tag = 'L-9' order by s.ordinal",
  );
  for (const leg of [first, last]) await plant.edit("leg", Number(leg?.id), { slides: "yes" });
  return plant;
}

/** Both ends of every splice that lies in a case in place, strand by strand. */
const joined = async (plant: CheckedPlant): Promise<string[]> =>
  (
    await rowsOf(
      plant,
      `select ca.tag || ':' || ta.number || ' ' || cb.tag || ':' || tb.number as pair from splice p
       join section a on a.id = p.a_section_id join strand ta on ta.id = a.strand_id join cable ca on ca.id = ta.cable_id
       join section b on b.id = p.b_section_id join strand tb on tb.id = b.strand_id join cable cb on cb.id = tb.cable_id
       where p.life = 'in_place' order by 1`,
    )
  ).map(({ pair }) => String(pair));

async function planned(plant: CheckedPlant): Promise<JobAnswer> {
  await plant.run("job.plan_case", { closure: CASE, lost_m: 1, job: "J-1", case: "CL-10" });
  return plant.run<JobAnswer>("job.show", { job: "J-1" });
}

describe("a splice case that was wrecked", () => {
  it("takes down what is joined in it and what runs through it uncut", async () => {
    const answer = await asked(await wrecked(), 1);
    expect(answer).toMatchObject({ splices: 4, express: 20, possible: true, place: { tag: "H-2" } });
    expect(answer.circuits.map(({ circuit }) => circuit.tag)).toEqual(["K-7"]);
    expect(answer.sentence).toContain("H-2/CL-9 is wrecked: 1 circuit is down.");
    expect(answer.sentence).toContain("A new case at H-2: 3 sheath ends cut back and brought into it");
  });

  it("gives each sheath what lies there less what is destroyed, and draws the rest from the coil behind it", async () => {
    // 44 m coiled and 3 m through: with no edge on record half of it on each side; a splice takes 8 m and 2.4 m to prepare.
    const near = (await asked(await wrecked(), 1)).arms;
    expect(near.map(({ cable, from, has_m }) => [cable.tag, from, has_m])).toEqual([
      ["F-050", "LIB/101", 22.5],
      ["F-050", "SCI/B01", 22.5],
      ["L-9", "LIB/101", 11],
    ]);
    expect(near.flatMap(({ pulls }) => pulls)).toEqual([]);
    const far = (await asked(await wrecked(26), 15)).arms;
    expect(far.map(({ has_m, needs_m, short_m }) => [has_m, needs_m, short_m]).slice(0, 2)).toEqual([
      [8.5, 10.4, 0],
      [8.5, 10.4, 0],
    ]);
    // 30 m hang in H-1 and 40 m in H-3.
    expect(far[0]?.pulls).toMatchObject([{ place: { tag: "H-1" }, pulled_m: 1.9, left_m: 28.1 }]);
    expect(far[1]?.pulls).toMatchObject([{ place: { tag: "H-3" }, pulled_m: 1.9, left_m: 38.1 }]);
  });

  it("says which sheath nothing on its way helps and by how much it lacks, and then makes no job", async () => {
    const plant = await wrecked(5);
    await plant.edit("space", "H-1", { inner_length_m: 0.3, inner_width_m: 0.3 });
    await plant.edit("stop", "L-9@3", { reachable: "no" });
    const answer = await asked(plant, 1);
    expect(answer.possible).toBe(false);
    expect(answer.refused).toEqual([
      expect.stringMatching(
        /^L-9 from LIB\/101 lacks 6\.4\sm at H-2, where a splice takes 10\.4\sm of it, and no place from H-1 on .* LIB\/101 can't be reached$/,
      ),
    ]);
    expect(answer.sentence).toMatch(/LIB\/101 can't be reached\. Measure what lies there, and ask again/);
    const failure = await plant.call("job.plan_case", { closure: CASE, lost_m: 1, job: "J-1" });
    expect(failure).toMatchObject({ ok: false, error: { code: "not_possible", problems: [{ record: CASE }] } });
  });

  it("is held against a cable that is spliced in it and on record stops in another place: that is said first", async () => {
    const plant = await wrecked();
    await plant.edit("stop", "L-9@1", { space_id: "H-3" });
    const { refused } = await asked(plant, 1);
    expect(refused).toEqual([
      "L-9 is spliced in H-2/CL-9 and stops at H-3 on record, which is another place: say first which is right",
    ]);
  });

  it("leaves a sheath of which nothing is joined in it where it lies, if that doesn't reach", async () => {
    const plant = await wrecked();
    // What comes from the library was given up when an earlier case was lost.
    await plant.edit("circuit", "K-7", { state: "retired" });
    await plant.run("closure.lost", { closure: CASE });
    await plant.run("closure.enter", { tag: "CL-11", space: "H-2", trays: [{ numbers: "T1", capacity: 24 }] });
    for (const stop of ["F-050@3", "L-9@1"]) await plant.edit("stop", stop, { closure_id: "H-2/CL-11" });
    await plant.run("splice.range", {
      from: "F-050:1-2#2",
      to: "L-9:1-2",
      tray: "H-2/CL-11/T1",
      from_end: "A",
      to_end: "A",
    });
    const given = { closure: "H-2/CL-11", lost_m: 60 };
    const { arms, possible } = await plant.run<LostCaseAnswer>("mend.case", given);
    expect(arms.map(({ cable, from, left_lying, piece }) => [cable.tag, from, left_lying, piece?.name])).toEqual([
      ["F-050", "LIB/101", true, undefined],
      ["F-050", "SCI/B01", false, "H-3"],
      ["L-9", "LIB/101", false, "H-1"],
    ]);
    expect(possible).toBe(true);
    await plant.run("job.plan_case", { ...given, job: "J-1" });
    const job = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    expect(job.steps.map(({ words }) => words)).toContainEqual(
      expect.stringMatching(/^Cap the end of F-050 that comes from LIB\/101 where it lies/),
    );
    await carryOut(plant, job);
    const trace = JSON.stringify(await plant.run<object>("trace.walk", { what: "LIB/101/L:01#1" }));
    expect(trace).toContain("SCI/B01/P:01");
    const { findings } = await plant.check({ families: ["truth"] });
    expect(findings.map(({ sentence }) => sentence).join("|")).toBe("");
  });

  it("is renewed strand by strand as it was, and the light comes back", async () => {
    const plant = await wrecked();
    const before = await joined(plant);
    const job = await planned(plant);
    expect(await reaches(plant)).toBe(true);
    await carryOut(plant, job, (words) => words.startsWith("Hang case"));
    expect(await reaches(plant)).toBe(false);
    expect(await joined(plant)).toEqual([]);
    const rest = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    await carryOut(plant, { ...rest, steps: rest.steps.filter(({ state }) => state === "open") });
    expect(await reaches(plant)).toBe(true);
    const express = Array.from({ length: 24 }, (_, index) => index + 1)
      .filter((number) => ![1, 2, 13, 14].includes(number))
      .map((number) => `F-050:${number} F-050:${number}`);
    expect(await joined(plant)).toEqual([...before, ...express].sort());
    const { findings } = await plant.check({ families: ["truth"] });
    expect(findings.map(({ sentence }) => sentence).join("|")).toBe("");
  });

  it("is renewed as well where only its trays say which cables enter it", async () => {
    const plant = await wrecked();
    for (const stop of ["F-050@3", "L-9@1"]) await plant.edit("stop", stop, { closure_id: null });
    expect(await asked(plant, 1)).toMatchObject({ splices: 4, express: 20, possible: true });
    await carryOut(plant, await planned(plant));
    expect(await reaches(plant)).toBe(true);
  });

  it("is as it was when all of the job is undone", async () => {
    const plant = await wrecked();
    const state = async () => [
      await joined(plant),
      await rowsOf(plant, "select id, kind, closure_id, mark_in, mark_open_from, mark_open_to, mark_out from stop"),
      await rowsOf(plant, "select id, a_stop_id, b_stop_id, a_stub, b_stub from section order by id"),
    ];
    const before = await state();
    const job = await planned(plant);
    await carryOut(plant, job);
    for (let undone = 0; undone <= job.steps.length; undone++) await plant.run("history.undo", {});
    expect(await state()).toEqual(before);
  });

  it("has sheath and metal of every cable brought into the new case, and what slid read again", async () => {
    const plant = await wrecked(26);
    await plant.run("job.plan_case", { closure: CASE, lost_m: 15, job: "J-1", case: "CL-10" });
    const job = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    const words = job.steps.map((step) => step.words);
    expect(words).toContainEqual(expect.stringMatching(/^At H-1 take 1\.9\sm from the coil of F-050/));
    // The sheath of 8.5 m ends at 1233 + 8.5 and enters 1.9 m earlier.
    expect(words).toContainEqual(expect.stringMatching(/^At H-2 read the marks of F-050 anew.*1,?231\.1/));
    await carryOut(plant, job);
    const stops = await rowsOf(
      plant,
      "select c.tag, st.kind, cl.tag as closure from stop st join cable c on c.id = st.cable_id join closure cl on cl.id = st.closure_id order by c.tag",
    );
    expect(stops).toEqual([
      { tag: "F-050", kind: "severed", closure: "CL-10" },
      { tag: "L-9", kind: "end", closure: "CL-10" },
    ]);
  });
});

/** By cable the number of splices in the place, `cable:n` to `cable:n`. */
const splicesAt = async (plant: CheckedPlant): Promise<string[]> =>
  (
    await rowsOf(
      plant,
      `select sp.tag || ' ' || ca.tag || ' ' || cb.tag || ' ' || count(*) as told from splice p
       join tray y on y.id = p.tray_id join closure c on c.id = y.closure_id join space sp on sp.id = c.space_id
       join section a on a.id = p.a_section_id join strand ta on ta.id = a.strand_id join cable ca on ca.id = ta.cable_id
       join section b on b.id = p.b_section_id join strand tb on tb.id = b.strand_id join cable cb on cb.id = tb.cable_id
       where p.life = 'in_place' group by sp.tag, ca.tag, cb.tag order by 1`,
    )
  ).map(({ told }) => String(told));

const circuitsOf = async (plant: CheckedPlant): Promise<string[]> =>
  (
    await rowsOf(
      plant,
      `select distinct c.tag || ':' || t.number || ' ' || k.tag as told from assignment a join circuit k on k.id = a.circuit_id
       join section s on s.id = a.section_id join strand t on t.id = s.strand_id join cable c on c.id = t.cable_id
       where a.until_on is null order by 1`,
    )
  ).map(({ told }) => String(told));

describe("a sheath that doesn't reach into the new case", () => {
  it("gets new cable from the nearest place that it reaches, as long as the way and what both splices take", async () => {
    const { arms, possible, sentence } = await asked(await wrecked(5), 1);
    expect(possible).toBe(true);
    // 100 m of way, 8 m and 2.4 m to prepare at both ends, and a tenth for waste.
    expect(arms.map(({ piece }) => piece && [piece.name, piece.work_m, piece.new_cable_m, piece.strands])).toEqual([
      null,
      null,
      ["H-1", 10.4, 132.88, 24],
    ]);
    expect(sentence).toMatch(
      /2 sheath ends cut back .* 24 splices, .*\. New cable goes into it where the old doesn't reach: 132\.9\sm for L-9 from LIB\/101, spliced to it at H-1\./,
    );
  });

  const L9 = ["H-1 J-1-P3 L-9 24", "H-2 J-1-P2 J-1-P3 2"];
  it.each([
    [1, ["H-1 J-1-P L-9 24", "H-2 F-050 F-050 22", "H-2 F-050 J-1-P 2"]],
    // 23.5 m lie on each side, and a splice takes 10.4 m: 30 m hang in H-1, which are too few, and 40 m in H-3.
    [45, ["H-1 F-050 J-1-P1 24", "H-1 J-1-P2 L-9 24", "H-2 F-050 J-1-P2 2", "H-2 J-1-P1 F-050 22"]],
    [60, ["H-1 F-050 J-1-P1 24", L9[0], "H-2 J-1-P1 J-1-P2 22", L9[1], "H-3 J-1-P2 F-050 24"]],
  ])("is renewed by it and the light comes back, %d m of each being destroyed", async (lost_m, splices) => {
    const plant = await wrecked(5);
    await plant.run("job.plan_case", { closure: CASE, lost_m, job: "J-1", case: "CL-10" });
    const job = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    await carryOut(plant, job, (words) => words.startsWith("Hang case"));
    expect(await reaches(plant)).toBe(false);
    const rest = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    await carryOut(plant, { ...rest, steps: rest.steps.filter(({ state }) => state === "open") });
    expect(await reaches(plant)).toBe(true);
    expect(await splicesAt(plant)).toEqual(splices);
    const { findings } = await plant.check({ families: ["truth"] });
    expect(findings.map(({ sentence }) => sentence).join("|")).toBe("");
  });

  it("carries on what runs on its own side of the case, and nothing of the other", async () => {
    const plant = await wrecked(5);
    await plant.run("circuit.enter", { tag: "K-8", strands: 1, state: "in_service" });
    await plant.run("circuit.assign", { circuit: "K-8", what: ["F-050:1#2"] });
    await plant.run("job.plan_case", { closure: CASE, lost_m: 60, job: "J-1" });
    await carryOut(plant, await plant.run<JobAnswer>("job.show", { job: "J-1" }));
    expect((await circuitsOf(plant)).filter((told) => told.endsWith("K-8"))).toEqual([
      "F-050:1 K-8",
      "J-1-P2:1 K-8",
      "J-1-P3:1 K-8",
      "L-9:1 K-8",
    ]);
  });

  it("leaves what lies dead on the way there on record until somebody says what became of it", async () => {
    const plant = await wrecked(5);
    await plant.run("job.plan_case", { closure: CASE, lost_m: 60, job: "J-1" });
    const { steps } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    // Of 100 m of way what is destroyed beyond the 23.5 m in the place is gone.
    expect(steps.flatMap(({ words }) => /dead sheath of F-050 in .*left there as \S+,/.exec(words) ?? [])).toEqual([
      expect.stringMatching(/F-050 in DB-2\/1: .*F-050-D1,/),
      expect.stringMatching(/F-050 in DB-3\/1: .*F-050-D2,/),
    ]);
    expect(steps.map(({ words }) => words)).toContainEqual(expect.stringMatching(/^Say what became of the 63\.5\sm/));
  });

  it("is as it was when all of the job is undone", async () => {
    const plant = await wrecked(5);
    const state = async () => [
      await joined(plant),
      await circuitsOf(plant),
      await rowsOf(
        plant,
        "select id, ordinal, kind, closure_id, mark_in, mark_open_from, mark_out from stop order by id",
      ),
      await rowsOf(plant, "select id, from_stop_id, to_stop_id, life from leg order by id"),
      await rowsOf(plant, "select id, ordinal, a_stop_id, b_stop_id, a_stub, b_stub from section order by id"),
    ];
    const before = await state();
    await plant.run("job.plan_case", { closure: CASE, lost_m: 60, job: "J-1" });
    const job = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    await carryOut(plant, job);
    for (let undone = 0; undone <= job.steps.length; undone++) await plant.run("history.undo", {});
    expect(await state()).toEqual(before);
  });

  it("is told with what each circuit loses over it afterwards", async () => {
    const loss = async (lost_m: number) => {
      const { losses } = await asked(await wrecked(5), lost_m);
      const [one] = losses;
      expect(one?.circuit.tag).toBe("K-7");
      return Math.round(((one?.loss_db ?? 0) - (one?.before_db ?? 0)) * 1000) / 1000;
    };
    // K-7 has one splice there, which is made anew, and 2 m less of glass; new cable on both sides is two splices of 0.15 dB more.
    expect([await loss(1), await loss(60)]).toEqual([-0.001, 0.299]);
  });

  it("takes the numbers given for its pieces and their cases, one for each, and refuses another number of them", async () => {
    const plant = await wrecked(5);
    const given = { closure: CASE, lost_m: 1, job: "J-1" };
    const failure = await plant.call("job.plan_case", { ...given, pieces: ["L-91", "L-92"] });
    expect(failure).toMatchObject({ ok: false, error: { code: "bad_input", problems: [{ field: "pieces" }] } });
    await plant.run("job.plan_case", { ...given, pieces: ["L-91"], piece_cases: ["CL-11"] });
    const { steps } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    const words = steps.map((step) => step.words).join("|");
    expect(words).toMatch(/Hang case CL-11 .* in H-1\|.*Lay L-91, 132\.9\sm, between H-2 and H-1/);
  });
});
