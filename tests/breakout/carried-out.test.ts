/**
 * A break-out carried out step by step, by the acts its plan names: the new strands trace to the lateral's far end, the
 * glass before is the glass after, and undoing every act gives back what was. And the reverse.
 */
import { describe, expect, it } from "vitest";
import type { BreakoutAnswer, ClosingAnswer } from "../../core/breakout/answer.ts";
import type { PlannedStep } from "../../core/jobs/step.ts";
import { KIND_NAMES, type KindName } from "../../core/model/dictionary.ts";
import type { TraceAnswer } from "../../core/trace/answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { TODAY } from "../check/campus.ts";
import { doStep, carryOut as doSteps, type JobStep } from "./as-done.ts";
import { type WayOptions, way } from "./way.ts";

const ASKED = { cable: "F-1", at: "H-2", strands: 4, to: "NEW", type: "DR-12", lateral: "L-7" } as const;

async function planned(options: WayOptions, more: object): Promise<{ plant: CheckedPlant; answer: BreakoutAnswer }> {
  const plant = await way(options);
  return { plant, answer: await plant.run<BreakoutAnswer>("breakout.plans", { ...ASKED, side: "a", ...more }) };
}

const carryOut = (plant: CheckedPlant, steps: readonly PlannedStep[]): Promise<number> => doSteps(plant, steps, TODAY);

/** Every record as it stands, without the number of the change that wrote it last. */
async function wholeRecord({ store }: CheckedPlant): Promise<Record<string, unknown>> {
  const all: Record<string, unknown> = {};
  for (const kind of KIND_NAMES) {
    const rows = await store.read((reader) => reader.rows<{ rev: number }>(`select * from "${kind}" order by id`));
    all[kind] = rows.map(({ rev: _, ...row }) => row);
  }
  return all;
}

interface Stretch {
  readonly from: number;
  readonly to: number;
}
/** What is marked of F-1: each strand's glass as stretches of marks, and the window that lies between two of them. */
async function glassOf({ store }: CheckedPlant, number: number): Promise<{ stretches: Stretch[]; window: number }> {
  return store.read(async (reader) => {
    const rows = await reader.rows<{ from: number; to: number; opened_m: number | null }>(
      `select coalesce(case when a.kind = 'end' then a.mark_open_from else a.mark_open_to end, a.mark_out) as "from",
         case when b.kind = 'end' then b.mark_open_to else b.mark_open_from end as "to",
         case when b.kind = 'opened' then b.mark_open_to - b.mark_open_from end as opened_m
       from section s join strand t on t.id = s.strand_id join cable c on c.id = t.cable_id
         join stop a on a.id = s.a_stop_id join stop b on b.id = s.b_stop_id
       where c.tag = 'F-1' and t.number = ? order by s.ordinal`,
      [number],
    );
    return { stretches: rows, window: rows.reduce((sum, { opened_m }) => sum + (opened_m ?? 0), 0) };
  });
}

const traceOf = ({ run }: CheckedPlant, what: string): Promise<TraceAnswer> => run<TraceAnswer>("trace.walk", { what });
const places = (trace: TraceAnswer): (string | undefined)[] =>
  [trace.from, trace.to].map(({ place }) => place?.space?.tag).sort();

describe("a break-out towards A that is carried out", () => {
  it("leads each new strand from A to the lateral's far end, and the others run on", async () => {
    const { plant, answer } = await planned({}, {});
    const [plan] = answer.plans;
    await carryOut(plant, plan?.steps ?? []);
    for (const { strand, lateral } of plan?.splices ?? []) {
      const trace = await traceOf(plant, lateral.tag);
      expect(places(trace)).toEqual(["ALD/1", "NEW/1"]);
      expect(trace.hops.map(({ record }) => record.tag)).toContain(strand.tag);
      // What lies beyond the cut is dead, and has no stub to be used from.
      expect((await traceOf(plant, `F-1:${strand.number}#2`)).hops.find(({ kind }) => kind === "strand")?.state).toBe(
        "dead",
      );
    }
    const express = await traceOf(plant, "F-1:13");
    expect(places(express)).toEqual(["ALD/1", "ZED/1"]);
    expect((await traceOf(plant, "K-1")).hops.filter(({ kind }) => kind === "strand")).toHaveLength(1);
  });

  it("notes each coil that is used when it is pulled, worked out, and has its marks read before the cable is opened", async () => {
    const { plant, answer } = await planned({}, {});
    await plant.edit("stop", "F-1@2", { mark_out: 1112 });
    await plant.edit("stop", "F-1@4", { mark_out: 1644 });
    // Each neighbour has 8 m coiled and keeps 6: 2 m come from each.
    const { plans, loop } = await plant.run<BreakoutAnswer>("breakout.plans", { ...ASKED, side: "a" });
    expect(answer.loop.pulls).toHaveLength(1);
    expect(loop.pulls.map(({ place, pulled_m, left_m }) => [place?.tag, pulled_m, left_m])).toEqual([
      ["H-1", 2, 6],
      ["H-3", 2, 6],
    ]);
    const steps = plans[0]?.steps ?? [];
    const at = (words: RegExp): number => steps.findIndex((step) => words.test(step.words));
    const [first, second] = [at(/^At H-1 take/), at(/^At H-3 take/)];
    const reading = [at(/^At H-1 read the marks/), at(/^At H-3 read the marks/)];
    expect([...reading, at(/open 6\sm/)].every((one) => one > Math.max(first, second))).toBe(true);
    expect(Math.max(...reading)).toBeLessThan(at(/Bring the loop of F-1 out/));
    const marks = () =>
      plant.store.read((reader) =>
        reader.rows("select mark_in, mark_out, marks_basis from stop where ordinal between 2 and 4 order by ordinal"),
      );
    await carryOut(plant, [steps[first] as PlannedStep]);
    const computed = { marks_basis: "computed" };
    const read = { marks_basis: expect.not.stringMatching("computed") };
    expect(await marks()).toMatchObject([
      { mark_in: 1100, mark_out: 1110, ...computed },
      { mark_in: 1318, mark_out: 1332, ...computed },
      { mark_in: 1632, mark_out: 1644 },
    ]);
    await carryOut(plant, [steps[second] as PlannedStep]);
    expect(await marks()).toMatchObject([
      { mark_out: 1110, ...computed },
      { mark_in: 1318, mark_out: 1334, ...computed },
      { mark_in: 1634, mark_out: 1644, ...computed },
    ]);
    await carryOut(
      plant,
      reading.map((one) => steps[one] as PlannedStep),
    );
    expect(await marks()).toMatchObject([read, computed, read]);
  });

  it("begins with every coil that it rests on, the one beyond a neighbour too", async () => {
    const plant = await way({});
    // In H-1 nothing is coiled; what H-2 lends doesn't do, so that H-3 lends as well.
    await plant.edit("stop", "F-1@2", { mark_out: 1104 });
    const { loop, plans } = await plant.run<BreakoutAnswer>("breakout.plans", { ...ASKED, at: "H-1", side: "a" });
    expect(loop.pulls.map(({ place }) => place?.tag)).toEqual(["H-2", "H-3"]);
    expect(plans[0]?.steps[0]?.words).toContain("Look at the coils of F-1 at H-1, ALD/1, H-2 and H-3; enter");
  });

  it("gives each splice the place that was planned", async () => {
    const { plant, answer } = await planned({}, {});
    await carryOut(plant, answer.plans[0]?.steps ?? []);
    const rows = await plant.store.read((reader) =>
      reader.rows<{ place: number; tray: string }>(
        "select x.place, y.tag as tray from splice x join tray y on y.id = x.tray_id order by x.place",
      ),
    );
    expect(rows).toEqual(
      (answer.plans[0]?.splices ?? []).map(({ place, tray }) => ({ place, tray: tray.split("/").at(-1) })),
    );
  });

  it("keeps every metre of glass: what the halves lack is the window, and what was pulled is missing at the neighbour", async () => {
    const { plant, answer } = await planned({}, {});
    const before = await glassOf(plant, 26);
    const length = (stretches: readonly Stretch[]) => stretches.reduce((sum, { from, to }) => sum + to - from, 0);
    expect(length(before.stretches)).toBe(1062);
    await carryOut(plant, answer.plans[0]?.steps ?? []);
    const after = await glassOf(plant, 26);
    expect(after.stretches).toHaveLength(2);
    expect(after.window).toBe(answer.loop.window_m);
    expect(length(after.stretches) + after.window).toBe(1062);
    // The coil at H-1 gave 4 m; the loop at H-2 has them now.
    const sheet = await plant.run<{ stops: { inside_m: number }[]; legs: { length_m: number }[] }>("cable.show", {
      cable: "F-1",
    });
    expect(sheet.stops.map(({ inside_m }) => inside_m)).toEqual([5, 16, 10, 20, 5]);
    expect(sheet.legs.map(({ length_m }) => length_m)).toEqual([100, 200, 300, 400]);
  });

  it.each([{ slides: "yes" }, { slides: "no" }] as const)("loses what was reckoned: %o", async (options) => {
    const { plant, answer } = await planned(options, {});
    const [plan] = answer.plans;
    await carryOut(plant, plan?.steps ?? []);
    const loss = await plant.run<{ loss_db: number; lines: { length_m: number }[] }>("light.loss", {
      what: "L-7:1",
      as: "channel",
      worst: "limit",
      wavelength_nm: 1310,
    });
    expect(loss.lines[0]?.length_m).toBeCloseTo(plan?.losses[0]?.length_m ?? 0, 1);
    expect(loss.loss_db).toBeCloseTo(plan?.losses[0]?.wavelengths[0]?.worst_loss_db ?? 0, 2);
  });

  it("is undone act by act to what was", async () => {
    const { plant, answer } = await planned({}, {});
    const before = await wholeRecord(plant);
    const done = await carryOut(plant, answer.plans[0]?.steps ?? []);
    expect(done).toBeGreaterThan(4);
    expect(await wholeRecord(plant)).not.toEqual(before);
    for (let n = 0; n < done; n += 1) await plant.run("history.undo", {});
    expect(await wholeRecord(plant)).toEqual(before);
  });
});

describe("a break-out towards both ends that is carried out", () => {
  it("leads each strand to the lateral from A and from Z", async () => {
    const { plant, answer } = await planned({}, { side: "both" });
    await carryOut(plant, answer.plans[0]?.steps ?? []);
    const ends = await Promise.all(Array.from({ length: 8 }, (_, n) => traceOf(plant, `L-7:${n + 1}`)));
    expect(ends.slice(0, 4).map(places)).toEqual(Array.from({ length: 4 }, () => ["ALD/1", "NEW/1"]));
    expect(ends.slice(4).map(places)).toEqual(Array.from({ length: 4 }, () => ["NEW/1", "ZED/1"]));
  });
});

describe("any set of any plan", () => {
  it.each([
    ["towards Z", { side: "z" }],
    ["with a new case", { new_closure: "BOX" }],
    ["of two units", { strands: 12, side: "z" }],
    ["where the lateral's way and type are not known", { to: undefined, type: undefined }],
  ])("%s can be carried out as it is", async (_, more) => {
    const { answer } = await planned({}, more);
    for (const [index, { strands }] of answer.plans.entries()) {
      const again = await planned({}, more);
      const plan = again.answer.plans[index];
      expect(plan?.strands).toBe(strands);
      await carryOut(again.plant, plan?.steps ?? []);
      for (const { strand, lateral } of plan?.splices ?? [])
        expect((await traceOf(again.plant, lateral.tag)).hops.map(({ record }) => record.tag)).toContain(strand.tag);
    }
  });
  it("takes a case from stock, and a stub that is left from before, without cutting", async () => {
    const plant = await way();
    await plant.run("closure.enter", {
      tag: "S-1",
      life: "in_stock",
      entries: 6,
      trays: [{ numbers: "T1", capacity: 12 }],
    });
    await plant.run("cable.open", { cable: "F-1", stop: "H-2", cut: "13-16", stub_a: "no", stub_b: "yes" });
    const answer = await plant.run<BreakoutAnswer>("breakout.plans", { ...ASKED, side: "z" });
    await carryOut(plant, answer.plans[0]?.steps ?? []);
    expect(places(await traceOf(plant, "L-7:1"))).toEqual(["NEW/1", "ZED/1"]);
    expect(
      await plant.id(
        "select count(*) as id from closure c join space s on s.id = c.space_id where c.tag = 'S-1' and s.tag = 'H-2' and c.life = 'in_place'",
      ),
    ).toBe(1);
  });
});

describe("closing a break-out again", () => {
  const KINDS: readonly KindName[] = ["section", "splice", "cable"];

  async function broken(more: object = {}): Promise<CheckedPlant> {
    const { plant, answer } = await planned({}, { cut: "middle", ...more });
    await carryOut(plant, answer.plans[0]?.steps ?? []);
    return plant;
  }

  it("joins both halves, puts the lateral out of use, and every strand runs through again", async () => {
    const plant = await broken();
    const answer = await plant.run<ClosingAnswer>("breakout.closing", { cable: "F-1", at: "H-2" });
    expect(answer).toMatchObject({
      opened: 4,
      closed: 4,
      circuits: [],
      laterals: [{ cable: { tag: "L-7" }, whole: true }],
    });
    await carryOut(plant, answer.steps);
    for (const { strand } of answer.strands)
      expect(places(await traceOf(plant, strand.tag))).toEqual(["ALD/1", "ZED/1"]);
    expect(await plant.id("select count(*) as id from cable where tag = 'L-7' and life = 'out_of_use'")).toBe(1);
    const again = await plant.call("breakout.closing", { cable: "F-1", at: "H-2" });
    expect(again).toMatchObject({ ok: false, error: { code: "not_possible" } });
  });

  it("names the circuits in service that go down, and leaves a lateral that still serves", async () => {
    const plant = await broken();
    await plant.run("circuit.enter", { tag: "K-9", strands: 1, state: "in_service", priority: 2 });
    await plant.run("circuit.assign", { circuit: "K-9", what: ["L-7:1"] });
    const one = await plant.run<ClosingAnswer>("breakout.closing", { cable: "F-1", at: "H-2", strands: "26" });
    expect(one.circuits.map(({ circuit, priority }) => [circuit.tag, priority])).toEqual([["K-9", 2]]);
    expect(one.laterals).toMatchObject([{ cable: { tag: "L-7" }, strands: "L-7:1", whole: false }]);
    const other = await plant.run<ClosingAnswer>("breakout.closing", { cable: "F-1", at: "H-2", strands: "27-29" });
    expect(other.circuits).toEqual([]);
  });

  it("of strands cut at an edge can't be done before more sheath is opened", async () => {
    const plant = await broken({ cut: "edge" });
    const answer = await plant.run<ClosingAnswer>("breakout.closing", { cable: "F-1", at: "H-2" });
    expect(answer).toMatchObject({ closed: 0, steps: [] });
    expect(answer.strands[0]?.refused).toBe("no stub is left on its Z side: more sheath is to be opened there first");
    const other = await broken({ cut: "edge", side: "z" });
    const { strands } = await other.run<ClosingAnswer>("breakout.closing", { cable: "F-1", at: "H-2" });
    expect(strands[0]?.refused).toContain("no stub is left on its A side");
  });

  it("is undone to what was", async () => {
    const plant = await broken();
    const before = await wholeRecord(plant);
    const { steps } = await plant.run<ClosingAnswer>("breakout.closing", { cable: "F-1", at: "H-2" });
    const done = await carryOut(plant, steps);
    const after = await wholeRecord(plant);
    for (const kind of KINDS.slice(1)) expect(after[kind]).not.toEqual(before[kind]);
    expect(after.section).toEqual(before.section);
    for (let n = 0; n < done; n += 1) await plant.run("history.undo", {});
    expect(await wholeRecord(plant)).toEqual(before);
  });

  it.each([
    ["where nothing is cut", { at: "H-1" }, "not_possible", /has no strand that is cut at H-1/],
    ["of strands that run through there", { strands: "13" }, "not_possible", /13 is not cut at H-2/],
    ["of strands of another cable", { strands: "L-7:1" }, "bad_input", /is glass of L-7, not of F-1/],
    ["in a place it doesn't come by", { at: "NEW/1" }, "not_found", /has no stop at NEW\/1/],
  ])("%s is refused in words", async (_, more, code, words) => {
    const plant = await broken();
    const reply = await plant.call("breakout.closing", { cable: "F-1", at: "H-2", ...more });
    expect(reply).toMatchObject({ ok: false, error: { code, message: expect.stringMatching(words) } });
  });
});

describe("as a job", () => {
  const JOB = { ...ASKED, side: "a", cut: "middle", job: "J-1" } as const;

  /** Does every step of a job in turn. */
  async function doAll(plant: CheckedPlant, job: string): Promise<void> {
    const { steps } = await plant.run<{ steps: readonly JobStep[] }>("job.show", { job });
    for (const step of steps) await doStep(plant, job, step);
  }

  it("it is one change, and step by step it leaves the same as its acts by themselves", async () => {
    const plant = await way();
    const before = await wholeRecord(plant);
    // What the job wants is no longer free for another, so the answer is asked before.
    const { plans } = await plant.run<BreakoutAnswer>("breakout.plans", { ...ASKED, side: "a", cut: "middle" });
    const planned = await plant.run<{ answer: { steps: string[] } }>("job.plan_breakout", JOB);
    expect(planned.answer.steps).toEqual(plans[0]?.steps.map(({ words }) => words));
    await plant.run("history.undo", {});
    expect(await wholeRecord(plant)).toEqual(before);

    await plant.run("job.plan_breakout", JOB);
    await doAll(plant, "J-1");
    const byActs = await way();
    await carryOut(byActs, plans[0]?.steps ?? []);
    const glass = ["section", "strand", "cable", "closure", "tray", "stop", "leg"] as const;
    const [one, other] = [await wholeRecord(plant), await wholeRecord(byActs)];
    for (const kind of glass) expect(one[kind]).toEqual(other[kind]);
    for (let n = 1; n <= 4; n += 1) expect(places(await traceOf(plant, `L-7:${n}`))).toEqual(["ALD/1", "NEW/1"]);
    const { state } = (await plant.run<{ state: string }>("job.show", { job: "J-1" })) as { state: string };
    expect(state).toBe("done");
  });

  it("the way back is one too, and joins what was parted", async () => {
    const plant = await way();
    await plant.run("job.plan_breakout", JOB);
    await doAll(plant, "J-1");
    await plant.run("job.plan_closing", { cable: "F-1", at: "H-2", job: "J-2" });
    await doAll(plant, "J-2");
    for (const number of [26, 27, 28, 29])
      expect(places(await traceOf(plant, `F-1:${number}`))).toEqual(["ALD/1", "ZED/1"]);
  });

  it("of a set that isn't there, or of strands that can't be joined, is refused", async () => {
    const plant = await way();
    expect(await plant.call("job.plan_breakout", { ...JOB, set: 19 })).toMatchObject({
      error: { code: "not_possible", problems: [{ field: "set", record: "19" }] },
    });
    await plant.run("job.plan_breakout", { ...JOB, cut: "edge" });
    await doAll(plant, "J-1");
    expect(await plant.call("job.plan_closing", { cable: "F-1", at: "H-2", job: "J-2" })).toMatchObject({
      error: { code: "not_possible", problems: [{ record: "F-1:26" }, {}, {}, {}] },
    });
  });
});
