/** A new cable over one that is opened on the way, on the plant of `branching.ts`: what branches off there is moved by steps of its own. */
import { describe, expect, it } from "vitest";
import type { Packet } from "../../core/jobs/packet.ts";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { branching, K9, K10, reachesFrom } from "./branching.ts";
import { line } from "./line.ts";
import { CUT, carryOut, choose, doStep, planOf, rowsOf } from "./mending.ts";

const replaced = async (plant: CheckedPlant): Promise<JobAnswer> =>
  choose(plant, await planOf(plant, ({ kind }) => kind === "new_cable"), true);
describe("a new cable over one with an opening", () => {
  it("is opened in the same case, and only the strands that branch off there are cut", async () => {
    const plant = await branching();
    const { steps } = await replaced(plant);
    // Old and new lie in the same ways for a while, which is said before the new one is laid.
    const lay = steps.findIndex(({ words }) => words.startsWith("Lay "));
    expect(steps[lay - 1]?.words).toMatch(
      /^Before .+ goes into .+ see whether F-050 still lies there, and that each has room for what will lie in it/,
    );
    const opens = steps.filter(({ act }) => act === "cable.open");
    expect(opens).toMatchObject([{ place: { tag: "H-2" }, input: { closure: "H-2/CL-5", cut: "5-6", stop: 3 } }]);
    expect(steps.some(({ words }) => words.includes("dark until"))).toBe(false);
  });

  it("is joined unit by unit in the order of circuits, wherever the unit is joined to anything", async () => {
    const plant = await branching();
    const { steps } = await replaced(plant);
    const joinings = steps.filter(({ act }) => act === "cable.replace");
    expect(joinings.map(({ place, input }) => [place?.tag, (input as { readonly strands: string }).strands])).toEqual([
      // K-9 of priority 1 is in the first unit, K-7 of priority 2 in the other.
      ["LIB/101", "1-12"],
      ["H-2", "5-6"],
      ["SCI/B01", "1-12"],
      ["LIB/101", "13-24"],
      ["SCI/B01", "13-24"],
    ]);
    expect(joinings.map(({ words }) => /brings back (.+)$/.exec(words)?.[1])).toEqual([
      undefined,
      undefined,
      "K-9 and K-10",
      undefined,
      "K-7",
    ]);
  });

  it("carries each circuit again as soon as its own joints are made, and at every moment the trace tells it", async () => {
    const plant = await branching();
    const { steps } = await replaced(plant);
    const ordinal = (place: string, strands: string): number =>
      steps.find(({ act, place: at, input }) => {
        return act === "cable.replace" && at?.tag === place && (input as { strands: string }).strands === strands;
      })?.ordinal ?? 0;
    const sever = steps.find(({ act }) => act === "cable.sever")?.ordinal ?? 0;
    const branch = ordinal("H-2", "5-6");
    for (const step of steps) {
      await doStep(plant, step);
      const { ordinal: now } = step;
      // The cut is between LIB and H-2: K-10 shines on until its glass is moved.
      const k9 = now < sever || now >= branch;
      const k10 = now < branch || now >= ordinal("SCI/B01", "1-12");
      expect([now, await reachesFrom(plant, ...K9)]).toEqual([now, k9]);
      expect([now, await reachesFrom(plant, ...K10)]).toEqual([now, k10]);
    }
    const { findings } = await plant.check({ families: ["truth"] });
    expect(findings.map(({ sentence }) => sentence).join("|")).toBe("");
  });

  it("gives each stretch of its glass the circuits of the stretch it lies beside", async () => {
    const plant = await branching();
    await carryOut(plant, await replaced(plant));
    const on = await rowsOf(
      plant,
      `select c.tag as circuit, t.number, s.ordinal from assignment a join circuit c on c.id = a.circuit_id
         join section s on s.id = a.section_id join strand t on t.id = s.strand_id join cable k on k.id = t.cable_id
       where k.tag = 'F-051' and a.until_on is null order by t.number, s.ordinal`,
    );
    expect(on.map(({ circuit, number, ordinal }) => `${circuit} ${number}#${ordinal}`)).toEqual([
      "K-9 5#1",
      "K-10 6#2",
      "K-7 13#1",
      "K-7 14#1",
    ]);
    const old = await rowsOf(
      plant,
      `select a.id from assignment a join section s on s.id = a.section_id join strand t on t.id = s.strand_id
         join cable k on k.id = t.cable_id where k.tag = 'F-050' and a.until_on is null`,
    );
    expect(old).toEqual([]);
    expect(await rowsOf(plant, "select life from cable where tag = 'F-050'")).toEqual([{ life: "out_of_use" }]);
  });

  it("makes new joints: what the old ones lost is not theirs, and what was measured is", async () => {
    const plant = await branching();
    const { steps } = await replaced(plant);
    const branch = steps.find(({ act, place }) => act === "cable.replace" && place?.tag === "H-2");
    for (const step of steps.slice(0, (branch?.ordinal ?? 1) - 1)) await doStep(plant, step);
    const wrong = await plant.call("job.do", { job: "J-1", step: branch?.ordinal, otherwise: { loss_db: [0.1, 0.2] } });
    expect(wrong).toMatchObject({ ok: false, error: { code: "bad_input", problems: [{ field: "loss_db" }] } });
    const loss = { loss_db: [0.04, 0.06, null], loss_basis: "one_way" };
    const reply = await plant.call("job.do", { job: "J-1", step: branch?.ordinal, otherwise: loss });
    expect(JSON.stringify(reply)).toContain("What one new joint loses is not said");
    const splices = await rowsOf(
      plant,
      "select life, loss_ab_db, loss_basis, method, tray_id is not null as kept from splice order by id",
    );
    expect(splices.map((row) => [row.life, row.loss_ab_db, row.loss_basis])).toEqual([
      ["removed", 0.5, "one_way"],
      ["removed", 0.5, "one_way"],
      ["removed", 0.5, "one_way"],
      ["in_place", 0.04, "one_way"],
      ["in_place", 0.06, "one_way"],
      ["in_place", null, null],
    ]);
    expect(splices.slice(3).every(({ method, kept }) => method === "fusion" && kept === 1)).toBe(true);
  });

  it("has a sheet for each place, the branch's as well, which stays when its steps are done", async () => {
    const plant = await branching();
    const { steps } = await replaced(plant);
    const sheets = async () =>
      (await plant.run<Packet>("job.packet", { job: "J-1" })).sheets.map(({ tray, rows }) => [
        tray,
        rows.map(({ from, to }) => `${from.strand.tag} ${to.strand.tag}`),
      ]);
    const before = await sheets();
    expect(before.map(([tray]) => tray)).toEqual([
      "LIB/101: F-051 in the place of F-050",
      "H-2: F-051 in the place of F-050",
      "SCI/B01: F-051 in the place of F-050",
    ]);
    expect(before[1]?.[1]).toEqual(["F-051:5 F-070:1", "F-051:6 F-070:2", "F-051:6 F-070:3"]);
    for (const step of steps) await doStep(plant, step);
    expect(await sheets()).toEqual(before);
  });

  it("given up half-way keeps what was done and takes back what was only planned", async () => {
    const plant = await branching();
    const { steps } = await replaced(plant);
    const lay = steps.find(({ words }) => words.startsWith("Lay "))?.ordinal ?? 0;
    for (const step of steps.slice(0, lay - 1)) await doStep(plant, step);
    await plant.run("job.abandon", { job: "J-1" });
    expect(await rowsOf(plant, "select tag from cable where tag = 'F-051'")).toEqual([]);
    expect(await reachesFrom(plant, ...K10)).toBe(true);
    expect(await rowsOf(plant, "select life from cable where tag = 'F-050'")).toEqual([{ life: "in_place" }]);
  });
});

describe("a new cable over one of which strands still shine", () => {
  it("takes those off last, and says what that takes down", async () => {
    const plant = await line();
    const dark = { ...CUT, dark: "1-12" };
    const plan = await planOf(plant, ({ kind }) => kind === "new_cable", dark);
    await plant.run("job.plan_mend", { ...dark, job: "J-1", piece: "F-051", plan, sever: true });
    const { steps } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    const joinings = steps.filter(({ act }) => act === "cable.replace");
    expect(joinings.map(({ input }) => (input as { readonly strands: string }).strands)).toEqual([
      "1-12",
      "1-12",
      "13-24",
      "13-24",
    ]);
    expect(joinings[2]?.words).toContain("this takes down K-7: only when whoever answers for it has said so");
    for (const step of steps) {
      await doStep(plant, step);
      const lit = step.ordinal < (joinings[2]?.ordinal ?? 0) || step.ordinal >= (joinings[3]?.ordinal ?? 0);
      expect([step.ordinal, await reachesFrom(plant, "LIB/101/A:07#1", "SCI/B01/P:07")]).toEqual([step.ordinal, lit]);
    }
  });
});
