/** A chosen mend as a job: planned, carried out step by step, given up; at every moment the record tells the truth. */
import { describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { MendAnswer } from "../../core/repair/answer.ts";
import type { TraceAnswer } from "../../core/trace/answer.ts";
import { contentOf } from "../act/campus.ts";
import { line } from "./line.ts";
import { at, CUT, carryOut, choose, doStep, KINDS, NUMBERS, planOf, type Row, reaches, rowsOf } from "./mending.ts";

describe.each(KINDS)("%s", (_, wanted) => {
  it("is planned as one change that moves no glass, and undone whole", async () => {
    const plant = await line();
    const plan = await planOf(plant, wanted);
    const before = await contentOf(plant.store);
    const job = await choose(plant, plan);
    expect(job.state).toBe("drafted");
    expect(job.planned.length).toBeGreaterThan(0);
    expect(job.review).toBe("Asked for again, its plan still holds.");
    expect(await reaches(plant)).toBe(true);
    await plant.run("history.undo", {});
    expect(await contentOf(plant.store)).toEqual(before);
  });

  it("is dark from the cut on, and traces from A to Z again when its last splice is made", async () => {
    const plant = await line();
    const job = await choose(plant, await planOf(plant, wanted));
    const splices = job.steps.filter(({ act }) => act?.startsWith("splice.") || act === "cable.replace");
    const sever = job.steps.find(({ act }) => act === "cable.sever")?.ordinal ?? 0;
    for (const step of job.steps) {
      const { ordinal } = step;
      await doStep(plant, step);
      const lit = ordinal < sever || splices.every((one) => one.ordinal <= ordinal || !/[ :]13-24/.test(one.words));
      expect([ordinal, await reaches(plant)]).toEqual([ordinal, lit]);
    }
    const done = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    expect([done.state, done.open, done.planned]).toEqual(["done", 0, []]);
    const found = await plant.check({ families: ["truth"] });
    expect(found.findings.map(({ sentence }) => sentence).join("|")).toBe("");
  });

  it("is undone step by step to what was", async () => {
    const plant = await line();
    const job = await choose(plant, await planOf(plant, wanted));
    const states: unknown[] = [];
    for (const step of job.steps) {
      states.push(await contentOf(plant.store));
      await doStep(plant, step);
    }
    while (states.length > 0) {
      await plant.run("history.undo", {});
      expect(await contentOf(plant.store)).toEqual(states.pop());
    }
  });

  it("given up before anything was done leaves nothing but the job", async () => {
    const plant = await line();
    const before = (await contentOf(plant.store)) as Record<string, unknown[]>;
    const job = await choose(plant, await planOf(plant, wanted));
    await plant.run("job.abandon", { job: "J-1", why: "the wrong cable" });
    const after = (await contentOf(plant.store)) as Record<string, unknown[]>;
    const { job: jobs, job_step: steps, ...rest } = after;
    const { job: _, job_step: __, ...was } = before;
    expect(rest).toEqual(was);
    expect([jobs?.length, steps?.length]).toEqual([1, job.steps.length]);
  });
});

describe("the sheath after a mend", () => {
  it("in the hole before the cut lies where a balance of its metres says", async () => {
    const plant = await line();
    const job = await choose(plant, await planOf(plant, at("H-1")));
    await carryOut(plant, job, (words) => words.includes("anew, for they are only worked out"));
    const stops = await rowsOf(
      plant,
      `select s.tag, st.kind, st.mark_in, st.mark_open_from, st.mark_open_to, st.mark_out, st.marks_basis
       from stop st join cable c on c.id = st.cable_id left join space s on s.id = st.space_id
       where c.tag = 'F-050' order by st.ordinal`,
    );
    expect(stops.map(({ tag, kind }) => [tag, kind])).toEqual([
      ["101", "end"],
      ["H-1", "severed"],
      ["H-2", "passing"],
      ["H-3", "passing"],
      ["B01", "end"],
    ]);
    const [, h1, h2, h3, b01] = stops;
    // Before: 1000 | 1100-1133 | 1233-1280 | 1380-1423 | 1523. It was cut at 1173, and 1172 to 1174 were lost.
    expect(h1?.mark_in).toBe(1100);
    // The left remain has 3 + 30 m in H-1 and 39 m beyond; 72 m come back, 10.4 m are wanted.
    expect(Number(h1?.mark_open_from)).toBeLessThanOrEqual(1172);
    expect(Number(h1?.mark_open_from) - 1100).toBeGreaterThanOrEqual(10.4);
    // The right remain begins at 1174: from there 10.4 m in H-1, then 100 m of leg to H-2.
    expect(h1?.mark_open_to).toBe(1174);
    expect(h1?.mark_out).toBeCloseTo(1174 + 10.4, 1);
    expect(h2?.mark_in).toBeCloseTo(1174 + 10.4 + 100, 1);
    // All legs are as long as before, and what is coiled is what was, less what was drawn.
    const coil = (stop: Row | undefined) => Number(stop?.mark_out) - Number(stop?.mark_in) - 3;
    expect(Number(h3?.mark_in) - Number(h2?.mark_out)).toBeCloseTo(100, 1);
    expect(Number(b01?.mark_in) - Number(h3?.mark_out)).toBeCloseTo(100, 1);
    expect(coil(h2) + coil(h3)).toBeCloseTo(44 + 40 - (10.4 + 40 + 1), 1);
    expect([h2?.marks_basis, b01?.marks_basis]).toEqual(["computed", "read"]);
  });

  it("is worked out until somebody reads it, and the step that reads it takes what was read", async () => {
    const plant = await line();
    const job = await choose(plant, await planOf(plant, at("a new hole at the cut")));
    const reading = job.steps.find(({ words, place }) => words.includes("anew, for") && place?.tag === "H-2");
    await carryOut(plant, job, (words) => words === reading?.words);
    const mark =
      "select mark_in, mark_out, marks_basis from stop st join space s on s.id = st.space_id where s.tag = 'H-2'";
    expect(await rowsOf(plant, mark)).toMatchObject([{ marks_basis: "computed" }]);
    if (!reading) throw new Error("there is no such step");
    const reply = await plant.call("job.do", { job: "J-1", step: reading.ordinal });
    expect(reply).toMatchObject({
      ok: false,
      error: { code: "bad_input", problems: [{ field: "mark_in" }] },
    });
    const values = { mark_in: 1258.5 };
    await plant.run("job.do", { job: "J-1", step: reading.ordinal, otherwise: { values } });
    expect(await rowsOf(plant, mark)).toEqual([{ mark_in: 1258.5, mark_out: 1280, marks_basis: "read" }]);
  });
});

describe("a mark that was worked out", () => {
  const ofHole = `select mark_in, mark_open_from, mark_open_to, mark_out, marks_basis from stop st
    join space s on s.id = st.space_id join cable c on c.id = st.cable_id where c.tag = 'F-050' and s.tag = 'H-1'`;

  it("is never called read: the ends of the sheath in the case are asked with the mouths", async () => {
    const plant = await line();
    const job = await choose(plant, await planOf(plant, at("H-1")));
    const reading = job.steps.find(({ words, place }) => words.includes("anew, for") && place?.tag === "H-1");
    if (!reading) throw new Error("there is no such step");
    await carryOut(plant, job, (words) => words === reading.words);
    expect(await rowsOf(plant, ofHole)).toMatchObject([{ mark_open_to: 1174, marks_basis: "computed" }]);
    const mouths = { otherwise: { values: { mark_out: 1184.4 } } };
    expect(await plant.call("job.do", { job: "J-1", step: reading.ordinal, ...mouths })).toMatchObject({
      ok: false,
      error: { problems: [{ field: "mark_open_from" }, { field: "mark_open_to" }] },
    });
    const read = { mark_open_from: 1110.2, mark_open_to: 1174.3, mark_out: 1184.6 };
    await plant.run("job.do", { job: "J-1", step: reading.ordinal, otherwise: { values: read } });
    expect(await rowsOf(plant, ofHole)).toEqual([{ mark_in: 1100, ...read, marks_basis: "read" }]);
  });

  it("isn't asked at a mouth past which nothing slid, and where none slid the label stays", async () => {
    const plant = await line();
    const { steps } = await choose(plant, await planOf(plant, ({ kind }) => kind === "two_points"));
    const reading = steps.filter(({ words }) => words.includes("anew, for"));
    const first = reading.find(({ place }) => place?.tag === "H-1");
    expect(first?.input).toMatchObject({ values: { mark_open_from: "$asked", marks_basis: "read" } });
    expect(first?.input).not.toHaveProperty("values.mark_in");
    expect(first?.words).not.toContain("label");
  });
});

describe("what is printed on a new piece", () => {
  it("is asked at its ends and mouths once it is spliced, and no such step is done with nothing said", async () => {
    const plant = await line();
    const job = await choose(plant, await planOf(plant, ({ kind }) => kind === "two_points"));
    const own = job.steps.filter(({ words }) => /the marks (?:on|of) F-051/.test(words));
    expect(own.map(({ place }) => place?.tag)).toEqual(["H-1", "H-1", "H-2"]);
    const splices = job.steps.filter(({ act }) => act === "splice.range").map(({ ordinal }) => ordinal);
    expect(own[0]?.ordinal).toBeGreaterThan(Math.max(...splices));
    await carryOut(plant, job, (words) => words === own[0]?.words);
    const say = async (step: number, values: object) =>
      plant.call("job.do", { job: "J-1", step: own[step]?.ordinal, otherwise: { values } });
    expect(await say(0, {})).toMatchObject({ ok: false, error: { problems: [{ field: "mark_unit" }] } });
    expect(await say(0, { mark_unit: "m" })).toMatchObject({ ok: true });
    expect(await say(1, { mark_out: 5012 })).toMatchObject({
      ok: false,
      error: { problems: [{ field: "mark_open_to" }] },
    });
    expect(await say(1, { mark_open_to: 5001, mark_out: 5012 })).toMatchObject({ ok: true });
    expect(await say(2, { mark_in: 5112, mark_open_from: 5123 })).toMatchObject({ ok: true });
    const walk = await plant.run<TraceAnswer>("trace.walk", { what: "F-051:13" });
    const piece = walk.hops.find(({ kind, record }) => kind === "strand" && record?.tag.startsWith("F-051"));
    // From end to end by its own marks, no longer as planned.
    expect(piece).toMatchObject({ length_m: expect.closeTo(122, 3) });
  });
});

describe("dead sheath", () => {
  it("is taken out of its pipe, or goes on record, before anything else is pulled through it", async () => {
    const plant = await line();
    const { steps } = await choose(plant, await planOf(plant, ({ kind }) => kind === "two_points"));
    // 40 m beyond H-1 it was cut and 1 m is lost: 39 m lie beyond the hole, whose coil is enough for the splice.
    const dead = steps.findIndex(({ words }) =>
      /^Take the 39\S*\sm of dead sheath of F-050 out of DB-2\/1/.test(words),
    );
    expect(dead, steps.map(({ words }) => words).join("\n")).toBeGreaterThan(0);
    expect(steps[dead]?.words).toContain("what became of it is said at a step of its own");
    expect(steps[dead]?.place?.tag).toBe("H-1");
    // A pipe in which it lies can't be proven.
    expect(steps.findIndex(({ words }) => words.includes("mandrel"))).toBeGreaterThan(dead);
    expect(steps.findIndex(({ words }) => words.startsWith("Lay F-051"))).toBeGreaterThan(dead);
  });

  it("stays where it lies while a piece lies over the ground, and the crew is told so", async () => {
    const plant = await line();
    const plan = await planOf(plant, ({ kind }) => kind === "two_points");
    await plant.run("job.plan_mend", { ...CUT, ...NUMBERS, plan, cases: ["CL-1", "CL-2"], replace_by: "2026-06-01" });
    const { steps } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    const words = steps.map((step) => step.words).join("\n");
    expect(words).toMatch(/Leave the 39\S*\sm of dead sheath of F-050 in DB-2\/1/);
    expect(words).not.toContain("Take the 39");
  });
});

describe("the ends of a piece", () => {
  it("are on record as long as planned until marks are read, so that the trace counts them", async () => {
    const plant = await line();
    const { plans } = await plant.run<MendAnswer>("mend.plans", CUT);
    const plan = plans.findIndex(({ kind }) => kind === "two_points");
    const job = await choose(plant, plan + 1);
    const ends = plans[plan]?.points.map(({ work_m }) => Math.round(work_m * 100) / 100) ?? [];
    expect(ends.every((length) => length > 0)).toBe(true);
    const sql = `select st.slack_m from stop st join cable c on c.id = st.cable_id where c.tag = 'F-051'
      and st.kind = 'end' order by st.ordinal`;
    expect((await rowsOf(plant, sql)).map(({ slack_m }) => slack_m)).toEqual(ends);
    await carryOut(plant, job);
    const walk = await plant.run<TraceAnswer>("trace.walk", { what: "F-051:13" });
    const piece = walk.hops.find(({ kind, record }) => kind === "strand" && record?.tag.startsWith("F-051"));
    // 100 m of way between the holes, and both ends.
    expect(piece).toMatchObject({ length_m: expect.closeTo(100 + (ends[0] ?? 0) + (ends[1] ?? 0), 1) });
  });
});

describe("the steps", () => {
  it("splice the tube with the more urgent circuit first, and say what it brings back", async () => {
    const plant = await line();
    const { steps } = await choose(plant, await planOf(plant, at("a new hole at the cut")));
    const splices = steps.filter(({ act }) => act === "splice.close").map(({ words }) => words);
    expect(splices.map((words) => /strands (\S+) to/.exec(words)?.[1])).toEqual(["13-24", "1-12"]);
    expect(splices[0]).toContain("brings back K-7");
    expect(splices[1]).not.toContain("brings back");
  });

  it("take measured losses, a name and a remark", async () => {
    const plant = await line();
    const job = await choose(plant, await planOf(plant, at("a new hole at the cut")));
    const splice = job.steps.find(({ act }) => act === "splice.close");
    await carryOut(plant, job, (words) => words === splice?.words);
    const loss_ab_db = Array.from({ length: 12 }, (_, index) => 0.02 + index / 1000);
    const made = { otherwise: { loss_ab_db, loss_basis: "estimate" }, done_by: "Ana", notes: "rain" };
    const done = await plant.run<{ notices: string[] }>("job.do", { job: "J-1", step: splice?.ordinal, ...made });
    expect(done.notices.join()).not.toContain("not said");
    const losses = await rowsOf(plant, "select loss_ab_db, made_by, made_on from splice order by id");
    expect(losses.map((row) => row.loss_ab_db)).toEqual(loss_ab_db);
    expect(losses[0]).toMatchObject({ made_by: "Ana", made_on: "2026-05-01" });
    const { steps } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    expect(steps.find(({ ordinal }) => ordinal === splice?.ordinal)).toMatchObject({
      state: "done",
      done_by: "Ana",
      notes: "rain",
      words: splice?.words,
    });
  });

  it("of splices say how many losses were not told, and no other step does", async () => {
    const plant = await line();
    const job = await choose(plant, await planOf(plant, at("a new hole at the cut")));
    const [first, second] = job.steps.filter(({ act }) => act === "splice.close");
    const told = async (step: number, otherwise = {}) =>
      (await plant.run<{ notices: string[] }>("job.do", { job: "J-1", step, otherwise })).notices.filter((words) =>
        words.includes("not said"),
      );
    for (const { ordinal } of job.steps.slice(0, (first?.ordinal ?? 1) - 1)) expect(await told(ordinal)).toEqual([]);
    // Two of twelve could not be measured.
    const some = Array.from({ length: 12 }, (_, nth) => (nth < 2 ? null : 0.05));
    const words = "not said: it is not known until it is measured.";
    expect(await told(first?.ordinal ?? 0, { loss_ab_db: some, loss_basis: "estimate" })).toEqual([
      `What 2 new joints lose is ${words}`,
    ]);
    expect(await told(second?.ordinal ?? 0)).toEqual([`What 12 new joints lose is ${words}`]);
  });

  it("that change the record are done in turn, splices among themselves in any order, and what others rest on isn't left out", async () => {
    const plant = await line();
    const { steps } = await choose(plant, await planOf(plant, at("a new hole at the cut")));
    const of = (act: string) => steps.filter((step) => step.act === act).map(({ ordinal }) => ordinal);
    const [sever = 0] = of("cable.sever");
    const [first = 0, second = 0] = of("splice.close");
    const early = await plant.call("job.do", { job: "J-1", step: second });
    expect(early).toMatchObject({
      ok: false,
      error: { message: expect.stringContaining(`comes after step ${sever}`) },
    });
    const left = await plant.call("job.do", { job: "J-1", step: sever, skip: true });
    expect(left).toMatchObject({ ok: false, error: { message: expect.stringContaining("rests on it") } });
    for (const step of steps) if (step.ordinal < first) await doStep(plant, step);
    await plant.run("job.do", { job: "J-1", step: second });
    await plant.run("job.do", { job: "J-1", step: first });
  });

  it("that are done can't be done again, and those of no job or number are refused", async () => {
    const plant = await line();
    await choose(plant, await planOf(plant, at("a new hole at the cut")));
    await plant.run("job.do", { job: "J-1", step: 1 });
    const code = async (input: object) => {
      const reply = await plant.call("job.do", input);
      return reply.ok ? "done" : reply.error.code;
    };
    expect(await code({ job: "J-1", step: 1 })).toBe("not_possible");
    expect(await code({ job: "J-1", step: 99 })).toBe("not_found");
    expect(await code({ job: "J-404", step: 1 })).toBe("not_found");
    // The case hangs in a hole that is only planned; the cut is not on record: nothing can be moved yet.
    const { steps } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    const move = steps.find(({ act }) => act === "cable.move_cut");
    expect(await code({ job: "J-1", step: move?.ordinal })).not.toBe("done");
  });
});

describe("several jobs", () => {
  it("that want the same glass are told of each other", async () => {
    const plant = await line();
    await choose(plant, await planOf(plant, at("a new hole at the cut")));
    const steps = [
      { act: "cable.open", input: { cable: "F-050", stop: "H-3", cut: "1-6" }, words: "Open F-050 at H-3" },
    ];
    await plant.run("job.enter", { job: "J-2", steps });
    const { clashes, sentence } = await plant.run<JobAnswer>("job.show", { job: "J-2" });
    expect(clashes).toMatchObject([{ job: { tag: "J-1" }, count: 6, words: "6 strands" }]);
    expect(sentence).toContain("J-1 wants the same 6 strands");
    const other = steps.map((step) => ({ ...step, input: { ...step.input, cut: "7" } }));
    await plant.run("job.enter", { job: "J-3", steps: other });
    expect((await plant.run<JobAnswer>("job.show", { job: "J-3" })).sentence).toContain("J-1 wants the same strand.");
    for (const job of ["J-1", "J-3"]) await plant.run("job.abandon", { job });
    expect((await plant.run<JobAnswer>("job.show", { job: "J-2" })).clashes).toEqual([]);
  });

  it("whose plan no longer holds say so before anything is done", async () => {
    const plant = await line();
    await choose(plant, await planOf(plant, at("H-1")));
    await plant.edit("stop", "F-050@3", { mark_out: 1250 });
    const { review } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    expect(review).toMatch(/^What is on record of F-050 has changed since|^Its plan can't be made again/);
    // Whoever does a step all the same is told; whoever leaves it out does nothing by that plan.
    const done = (more: object) => plant.run<{ notices: string[] }>("job.do", { job: "J-1", ...more });
    expect((await done({ step: 1, skip: true })).notices).not.toContain(review);
    expect((await done({ step: 2 })).notices).toContain(review);
  });

  it("whose plan still holds are carried out without a word of it", async () => {
    const plant = await line();
    await choose(plant, await planOf(plant, at("H-1")));
    const { notices } = await plant.run<{ notices: string[] }>("job.do", { job: "J-1", step: 1 });
    expect(notices).toEqual([]);
  });
});

describe("what a job needs and lacks", () => {
  it.each([
    ["no case", { cases: [] }, "cases"],
    ["a case too many", { cases: ["CL-1", "CL-2"] }, "cases"],
    ["a plan that isn't there", { plan: 99 }, "plan"],
  ])("%s is refused, naming the field", async (_, more, field) => {
    const plant = await line();
    const plan = await planOf(plant, at("a new hole at the cut"));
    const reply = await plant.call("job.plan_mend", { ...CUT, ...NUMBERS, plan, cases: ["CL-1"], ...more });
    expect(reply).toMatchObject({ ok: false, error: { problems: [{ field }] } });
  });

  it("numbers that are left out follow from the job's", async () => {
    const plant = await line();
    const plan = await planOf(plant, ({ kind }) => kind === "two_points");
    await plant.run("job.plan_mend", { ...CUT, job: "J-1", plan });
    const { planned } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    const tags = planned.map(({ tag }) => tag);
    expect(tags).toEqual(expect.arrayContaining(["J-1-P", "H-1/J-1-C1", "H-2/J-1-C2"]));
  });

  it("a case without room is refused with both numbers", async () => {
    const plant = await line();
    await plant.run("closure.enter", { tag: "CL-8", space: "H-1", trays: [{ numbers: "T1", capacity: 12 }] });
    const plan = await planOf(plant, at("H-1"));
    const reply = await plant.call("job.plan_mend", { ...CUT, ...NUMBERS, plan, cases: ["CL-8"] });
    expect(reply, JSON.stringify(reply)).toMatchObject({
      ok: false,
      error: {
        code: "not_possible",
        problems: [
          {
            field: "case",
            record: "H-1/CL-8",
            reason: expect.stringContaining("12 free places in 1 tray, and 24 splices"),
          },
        ],
      },
    });
  });

  it("a job that is given up can't go on", async () => {
    const plant = await line();
    await choose(plant, await planOf(plant, at("a new hole at the cut")));
    await plant.run("job.abandon", { job: "J-1" });
    expect(await plant.call("job.do", { job: "J-1", step: 1 })).toMatchObject({ ok: false });
    expect(await plant.call("job.abandon", { job: "J-1" })).toMatchObject({ ok: false });
  });
});
