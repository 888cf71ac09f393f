/**
 * A cut of a piece that lies over the ground for the time being, on the line of `line.ts`: F-051 was laid by J-1 between H-1
 * and H-2 beside a cut of F-050. Nothing is dug for it: it is laid anew, or the mend is made permanent. That people and
 * vehicles are kept off what lies on the ground: common practice, no source.
 */
import { describe, expect, it } from "vitest";
import type { Packet } from "../../core/jobs/packet.ts";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { TemporaryLeft } from "../../core/jobs/temporary.ts";
import type { MendWhole } from "../../core/repair/answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { line } from "./line.ts";
import { CUT, carryOut, planOf, reaches, rowsOf } from "./mending.ts";

const AGAIN = { cable: "F-051", after: "H-1", metres: 20, lost_left_m: 1, lost_right_m: 1 };
const shown = (plant: CheckedPlant, job: string) => plant.run<JobAnswer>("job.show", { job });
const plans = (plant: CheckedPlant, asked: object = AGAIN) => plant.run<MendWhole>("mend.plans", asked);
const left = (plant: CheckedPlant, cable: string) =>
  plant.run<{ temporary: TemporaryLeft[] }>("job.temporary", { cable }).then(({ temporary }) => temporary);

async function temporary(): Promise<CheckedPlant> {
  const plant = await line();
  const plan = await planOf(plant, ({ kind }) => kind === "two_points");
  await plant.run("job.plan_mend", { ...CUT, job: "J-1", piece: "F-051", plan, replace_by: "2026-06-01" });
  await carryOut(plant, await shown(plant, "J-1"));
  return plant;
}

async function laidAnew(): Promise<CheckedPlant> {
  const plant = await temporary();
  await plant.run("job.plan_mend", { ...AGAIN, job: "J-3", piece: "F-053" });
  await carryOut(plant, await shown(plant, "J-3"), undefined, "J-3");
  return plant;
}

describe("a cut of a piece over the ground", () => {
  it("is answered by laying it anew there, for the time being, and never by a hole", async () => {
    const plant = await temporary();
    expect(
      await rowsOf(
        plant,
        "select l.held from leg l join stop s on s.id = l.from_stop_id join cable c on c.id = s.cable_id where c.tag = 'F-051'",
      ),
    ).toEqual([{ held: "on_ground" }]);
    const { plans: ways, refused, sentence, temporary: now } = await plans(plant);
    expect(ways.map(({ kind, new_holes, permanent }) => [kind, new_holes, permanent])).toEqual([
      ["new_cable", 0, false],
    ]);
    expect(ways[0]?.sentence).toMatch(
      /^For the time being 146.2.m of new cable over the ground again, from H-1 to H-2 in the place of the old, guarded, once the ground it lies on is clear\.$/,
    );
    expect(ways[0]?.laid).toEqual([]);
    expect(sentence).toContain("Best of 1 ways to mend it: For the time being");
    expect(refused.find(({ place }) => place === null)?.reason).toBe(
      "it lies on the ground there: no hole is dug for it, and a case in the open is not planned",
    );
    expect(now.plan).toBeNull();
    expect(now.words).toContain("before the lasting mend");
  });

  it("comes with cautions of its own, and none for digging", async () => {
    const { cautions } = await plans(await temporary());
    expect(cautions.join("|")).toMatch(/What lies on the ground is in the way of people and vehicles/);
    expect(cautions.join("|")).not.toMatch(/Before digging|asbestos/);
  });

  it("is known of a piece that was laid before the record said of a leg that it lies on the ground", async () => {
    const plant = await temporary();
    const [leg] = await rowsOf(
      plant,
      "select l.id from leg l join stop s on s.id = l.from_stop_id join cable c on c.id = s.cable_id where c.tag = 'F-051'",
    );
    await plant.run("record.edit", { kind: "leg", id: leg?.id, values: { held: null } });
    expect((await plans(plant)).plans.map(({ kind }) => kind)).toEqual(["new_cable"]);
  });

  it("is any cable's that is said to lie on the ground, and one that lies in a way is dug for as before", async () => {
    const plant = await line();
    await plant.run("cable.enter", {
      ...{ tag: "F-070", type: "LT-24" },
      stops: [{ space: "H-1", way: { held: "on_ground", length_m: 90 } }, { space: "H-2" }],
    });
    const { refused } = await plans(plant, { cable: "F-070", after: "H-1", metres: 20 });
    expect(refused.find(({ place }) => place === null)?.reason).toMatch(/^it lies on the ground there/);
    expect((await plans(plant, CUT)).plans.some(({ new_holes }) => new_holes > 0)).toBe(true);
  });
});

describe("a piece laid over the ground anew", () => {
  it("goes by the day of the one before and follows its job, and asks for a day where there is none", async () => {
    const plant = await temporary();
    await plant.run("job.plan_mend", { ...AGAIN, job: "J-3", piece: "F-053" });
    const job = await shown(plant, "J-3");
    expect([job.follows?.tag, job.lasting, job.replace_by]).toEqual(["J-1", "temporary", "2026-06-01"]);
    expect(await left(plant, "F-051")).toMatchObject([{ words: expect.stringContaining("J-3 is to lay it anew") }]);
    await plant.run("history.undo", {});
    await plant.edit("job", "J-1", { replace_by: null });
    expect(await plant.call("job.plan_mend", { ...AGAIN, job: "J-3" })).toMatchObject({
      ok: false,
      error: { code: "bad_input", problems: [{ field: "replace_by", record: "F-051" }] },
    });
  });

  it("is a job without digging, with people kept off the ground, at whose end light is back and the broken piece gone", async () => {
    const plant = await temporary();
    await plant.run("job.plan_mend", { ...AGAIN, job: "J-3", piece: "F-053" });
    const job = await shown(plant, "J-3");
    const words = job.steps.map((step) => step.words).join("\n");
    expect(words).toMatch(/Keep people and vehicles off the ground between H-1 and H-2/);
    expect(words).toMatch(/Lay F-053, 146.2.m by the way and more where the ground asks for it, over the ground/);
    expect(words).not.toMatch(/[Dd]ig|mark the ground|Hang case|dead sheath|see whether F-051 still lies there/);
    const { cautions } = await plant.run<Packet>("job.packet", { job: "J-3" });
    expect(cautions.join("|")).toMatch(/What lies on the ground is in the way of people/);
    expect(cautions.join("|")).not.toMatch(/Before digging/);
    await carryOut(plant, job, undefined, "J-3");
    expect(await reaches(plant)).toBe(true);
    expect(JSON.stringify(await plant.run<object>("trace.walk", { what: "LIB/101/A:07#1" }))).toContain("F-053:13");
    expect(await rowsOf(plant, "select tag, life from cable where tag in ('F-051', 'F-053') order by tag")).toEqual([
      { tag: "F-051", life: "removed" },
      { tag: "F-053", life: "in_place" },
    ]);
    expect(
      await rowsOf(
        plant,
        "select c.tag, l.held, l.length_m, l.pathway_id from leg l join stop s on s.id = l.from_stop_id join cable c on c.id = s.cable_id where c.tag = 'F-053' and l.life = 'in_place'",
      ),
    ).toEqual([{ tag: "F-053", held: "on_ground", length_m: expect.any(Number), pathway_id: null }]);
    expect((await plant.check({ families: ["truth"] })).findings.map(({ sentence }) => sentence)).toEqual([]);
    expect((await plant.found("resilience.temporary_left")).map(({ sentence }) => sentence)).toEqual([
      "`J-3` is a temporary repair to be replaced by 2026-06-01, and no job that follows it is done.",
    ]);
  });

  it("given up or undone leaves the record as it was", async () => {
    const plant = await temporary();
    const before = JSON.stringify(await plant.run<object>("trace.walk", { what: "LIB/101/A:07#1" }));
    await plant.run("job.plan_mend", { ...AGAIN, job: "J-3", piece: "F-053" });
    const job = await shown(plant, "J-3");
    await carryOut(plant, job, undefined, "J-3");
    for (let undone = 0; undone < job.steps.length; undone++) await plant.run("history.undo", {});
    expect(JSON.stringify(await plant.run<object>("trace.walk", { what: "LIB/101/A:07#1" }))).toBe(before);
    await plant.run("job.abandon", { job: "J-3" });
    expect(await rowsOf(plant, "select tag from cable where tag = 'F-053'")).toEqual([]);
    expect(await left(plant, "F-051")).toMatchObject([{ wants_lasting: true }]);
  });

  it("is made permanent in the ways that the first one left aside, and the dead sheath is taken out of them", async () => {
    const plant = await laidAnew();
    await plant.run("job.plan_lasting", { follows: "J-3", job: "J-2", piece: "F-052" });
    const job = await shown(plant, "J-2");
    expect(job.steps.filter(({ act }) => act === "cable.dead_length")).not.toEqual([]);
    await carryOut(plant, job, undefined, "J-2");
    const legs = await rowsOf(
      plant,
      "select p.tag as way from leg l join stop s on s.id = l.from_stop_id join cable c on c.id = s.cable_id left join pathway p on p.id = l.pathway_id where c.tag = 'F-052' order by s.ordinal",
    );
    expect(legs).toEqual([{ way: "DB-2" }]);
    expect(await reaches(plant)).toBe(true);
    expect(await plant.found("resilience.temporary_left")).toEqual([]);
  });
});

describe("a piece over the ground that is cut", () => {
  it("is made permanent as it lies: the lasting piece takes its joints, and light is back", async () => {
    const plant = await temporary();
    await plant.run("cable.sever", { cable: "F-051", after: "H-1" });
    expect(await reaches(plant)).toBe(false);
    await plant.run("job.plan_lasting", { follows: "J-1", job: "J-2", piece: "F-052" });
    await carryOut(plant, await shown(plant, "J-2"), undefined, "J-2");
    expect(await reaches(plant)).toBe(true);
    expect((await plant.check({ families: ["truth"] })).findings.map(({ sentence }) => sentence)).toEqual([]);
    expect(await plant.found("resilience.temporary_left")).toEqual([]);
  });
});
