/** Words and cautions by what the cable lies in; circuits in service told apart; what failed before the cut. */
import { describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { MendWhole } from "../../core/repair/answer.ts";
import { cautionsOf } from "../../core/repair/cautions.ts";
import { formOf, type LegWay } from "../../core/repair/ways.ts";
import { type CheckedPlant, circuit } from "../check/campus.ts";
import { line } from "./line.ts";

const mend = ({ run }: CheckedPlant) =>
  run<MendWhole>("mend.plans", { cable: "F-100", mark: 1200, lost_left_m: 2, lost_right_m: 2 });

describe("what a cable lies in", () => {
  const way = (more: Partial<LegWay>): LegWay => ({ kind: null, piped: false, held: null, ...more });
  it.each<[string, Partial<LegWay>, ReturnType<typeof formOf>]>([
    ["a duct bank", { kind: "duct_bank" }, "pipe"],
    ["a pipe in a trench", { kind: "direct_buried", piped: true }, "pipe"],
    ["a trench without a pipe", { kind: "direct_buried" }, "trench"],
    ["a span, whatever is said of a pipe", { kind: "aerial", piped: true }, "aerial"],
    ["what is lashed", { held: "lashed" }, "aerial"],
    ["a riser", { kind: "riser", piped: true }, "riser"],
    ["a tray", { kind: "cable_tray" }, "tray"],
    ["what is laid on the ground", { held: "on_ground" }, "ground"],
    ["a pipe on record, whatever is said of the ground", { held: "on_ground", piped: true }, "pipe"],
    ["what nobody knows", {}, "not_known"],
  ])("is told of %s", (_, more, form) => {
    expect(formOf(way(more))).toBe(form);
  });

  it("decides the cautions: ladder and street at a span, floors and firestops in a riser, digging in the ground", () => {
    const words = (more: Partial<LegWay>) => cautionsOf([way(more)]).join("|");
    expect(words({ kind: "aerial" })).toMatch(/ladder.*walkers below/);
    expect(words({ kind: "aerial" })).not.toMatch(/asbestos|Before digging/);
    expect(words({ kind: "riser" })).toMatch(/floor sleeve.*firestop/i);
    expect(words({ kind: "duct_bank" })).toMatch(/Before digging.*asbestos/);
    const both = cautionsOf([way({ kind: "aerial" }), way({ kind: "duct_bank" })]);
    expect(new Set(both).size).toBe(both.length);
    expect(both.join("|")).toMatch(/by two independent signs.*ladder.*Before digging.*Shards/);
  });

  it("decides what a plan waits for, whether a hole can be dug, and what a crew does first", async () => {
    const plant = await line();
    const told = async () => {
      const { plans, refused } = await mend(plant);
      const two = plans.findIndex(({ kind, points }) => kind === "two_points" && points[0]?.words === "H-1");
      return { sentence: plans[two]?.sentence, at: two + 1, cut: refused.find(({ place }) => place === null)?.reason };
    };
    expect((await told()).sentence).toMatch(/once the pipe is mended\.$/);
    await plant.edit("pathway", "W-2", { kind: "aerial" });
    const span = await told();
    expect(span.sentence).toMatch(/once the span is sound and its messenger carries\.$/);
    expect(span.cut).toBe("it hangs on a span there, and no hole can be dug");
    await plant.run("job.plan_mend", {
      ...{ cable: "F-100", mark: 1200, lost_left_m: 2, lost_right_m: 2, plan: span.at, job: "J-1" },
    });
    const { steps } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    const said = steps.map(({ words }) => words).join("|");
    expect(said).toMatch(/Tell whoever owns the poles between H-1 and H-2/);
    expect(said).not.toMatch(/mend the pipe/);
  });
});

describe("the first step of a new cable", () => {
  it("proves pipes only where there are any, and otherwise looks at what the cable lies in", async () => {
    const plant = await line();
    const cut = { cable: "F-100", mark: 1200, lost_left_m: 2, lost_right_m: 2 };
    const first = async (job: string) => {
      const plan = (await mend(plant)).plans.findIndex(({ kind }) => kind === "new_cable") + 1;
      await plant.run("job.plan_mend", { ...cut, plan, job });
      return (await plant.run<JobAnswer>("job.show", { job })).steps[0]?.words;
    };
    expect(await first("J-1")).toMatch(/: prove the pipes.* and make sure that nothing of F-100 can be used$/);
    const ways = await plant.store.read((reader) => reader.rows<{ tag: string }>("select tag from pathway"));
    for (const { tag } of ways) await plant.edit("pathway", tag, { kind: "aerial" });
    expect(await first("J-2")).toMatch(/: look at the poles and the messenger and make sure that nothing/);
  });
});

describe("circuits on a cut cable", () => {
  it("are down when they are in service; planned and reserved ones are told apart, and hurry no unit", async () => {
    const plant = await line();
    const ports = (port: string) => ({ strands: 2, a_port: `LIB/101/A:${port}`, z_port: `SCI/B01/P:${port}` });
    await circuit(plant, "K-3", { priority: 1, ...ports("02"), state: "planned" });
    await plant.run("circuit.assign", { circuit: "K-3", what: ["F-100:3-4"] });
    const answer = await mend(plant);
    expect(answer.circuits.map(({ circuit }) => circuit.tag)).toEqual(["K-2", "K-1"]);
    expect(answer.not_in_service).toMatchObject([{ circuit: { tag: "K-3" }, state: "planned" }]);
    expect(answer.sentence).toContain("2 circuits are down; 1 planned or reserved would run over it");
    // K-2 (1) is in the second tube; K-3 (1) in the first would come before it by its priority and tag.
    expect(answer.order[0]?.number).toBe(13);
    expect(answer.order.find(({ number }) => number === 3)?.circuits).toMatchObject([{ circuit: { tag: "K-3" } }]);
    expect(answer.plans[0]?.losses?.map(({ circuit }) => circuit.tag)).toEqual(["K-2", "K-1", "K-3"]);
  });

  it("that fail by their loss already today are told from those that a mend would bring to fail", async () => {
    const plant = await line();
    const failing = async () => {
      const { plans } = await mend(plant);
      const two = plans.find(({ kind }) => kind === "two_points");
      const tags = (all: readonly { readonly tag: string }[] = []) => all.map(({ tag }) => tag);
      return [tags(two?.fails), tags(two?.failed_before)];
    };
    await plant.add("limit_value", { tag: "splice.limit", value: 1.1, unit: "dB", reason: "to fail with four" });
    expect(await failing()).toEqual([["K-2", "K-1"], []]);
    // K-1 was measured, far too dark, before anything was cut.
    await plant.add("measurement", {
      tag: "M-1",
      method: "source_meter",
      subject_kind: "port",
      subject_id: await plant.id(
        "select port_id as id from position where id = ?",
        await plant.position("LIB/101/A:01"),
      ),
      wavelength_nm: 1310,
      direction: "both",
      reference_method: "one_cord",
      loss_db: 40,
      measured_on: "2026-04-30",
    });
    expect(await failing()).toEqual([["K-2", "K-1"], ["K-1"]]);
  });
});
