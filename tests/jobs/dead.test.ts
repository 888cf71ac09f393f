/**
 * Dead sheath that a mend leaves, on the line of `line.ts`: F-050 is cut 40 m beyond H-1, 1 m lost on each side, and mended by
 * a piece between H-1 and H-2. What lies in DB-2/1 from H-1 to the break, and from the break to H-2, is dead.
 */
import { describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { PathwayAnswer } from "../../core/pathway/answer.ts";
import type { MendAnswer } from "../../core/repair/answer.ts";
import { contentOf } from "../act/campus.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { line } from "./line.ts";
import { CUT, choose, doStep, NUMBERS, planOf, reaches, rowsOf } from "./mending.ts";

type Became = "left" | "pulled_out";

const dead = ({ steps }: JobAnswer) => steps.filter(({ act }) => act === "cable.dead_length");

async function thick(): Promise<CheckedPlant> {
  const plant = await line();
  await plant.edit("cable_type", "LT-24", { outer_diameter_mm: 10 });
  await plant.edit("conduit", "DB-2/1", { inner_diameter_mm: 40 });
  return plant;
}

async function mended(plant: CheckedPlant, became: Became): Promise<JobAnswer> {
  const job = await choose(plant, await planOf(plant, ({ kind }) => kind === "two_points"));
  for (const step of job.steps) {
    if (step.act === "cable.dead_length")
      await plant.run("job.do", { job: "J-1", step: step.ordinal, otherwise: { became } });
    else await doStep(plant, step);
  }
  return job;
}

async function pipe(plant: CheckedPlant) {
  const { pipes } = await plant.run<PathwayAnswer>("pathway.show", { what: "DB-2" });
  const own = pipes.find(({ conduit }) => conduit.tag === "DB-2/1");
  return { cables: own?.occupants.map(({ cable }) => cable.tag), fill: own?.fill };
}

describe("dead sheath of a mend", () => {
  it("is told of length by length once light is back, and the step isn't done until somebody says what became of it", async () => {
    const plant = await line();
    const job = await choose(plant, await planOf(plant, ({ kind }) => kind === "two_points"));
    const [first, second] = dead(job);
    expect(first?.words).toMatch(
      /^Say what became of the 39\S*\sm of dead sheath of F-050 in DB-2\/1: pulled out, or left/,
    );
    // H-1 to H-2 are 100 m: 40 to the cut, of which 1 m is lost on either side.
    expect(second?.words).toMatch(/^Say what became of the 59\S*\sm /);
    const splices = job.steps.filter(({ act }) => act === "splice.range").map(({ ordinal }) => ordinal);
    expect(first?.ordinal).toBeGreaterThan(Math.max(...splices));
    for (const step of job.steps) if (step.ordinal < (first?.ordinal ?? 0)) await doStep(plant, step);
    expect(await reaches(plant)).toBe(true);
    expect(await plant.call("job.do", { job: "J-1", step: first?.ordinal })).toMatchObject({
      ok: false,
      error: { code: "bad_input", problems: [{ field: "became" }] },
    });
  });

  it("left in its pipe is a cable out of use with its marks, and takes room there", async () => {
    const plant = await thick();
    const before = await pipe(plant);
    await mended(plant, "left");
    const after = await pipe(plant);
    expect(after.cables).toEqual(["F-050-D1", "F-050-D2", "F-051"]);
    // Three sheaths of one thickness where there was one. They end in the pipe, and no metre of it is known to hold fewer.
    expect(after.fill).toBeCloseTo(3 * (before.fill ?? Number.NaN), 6);
    const lies = await rowsOf(
      plant,
      `select c.tag, c.life, s.tag as place, st.kind, st.mark_in, st.mark_out from stop st join cable c on c.id = st.cable_id
         left join space s on s.id = st.space_id where c.tag like 'F-050-D%' order by c.tag, st.ordinal`,
    );
    expect(lies).toEqual([
      { tag: "F-050-D1", life: "out_of_use", place: "H-1", kind: "end", mark_in: null, mark_out: 1133 },
      { tag: "F-050-D1", life: "out_of_use", place: null, kind: "severed", mark_in: 1172, mark_out: null },
      { tag: "F-050-D2", life: "out_of_use", place: null, kind: "severed", mark_in: null, mark_out: 1174 },
      { tag: "F-050-D2", life: "out_of_use", place: "H-2", kind: "end", mark_in: 1233, mark_out: null },
    ]);
  });

  it("pulled out takes no room, and stays on record as gone", async () => {
    const plant = await thick();
    await mended(plant, "pulled_out");
    expect((await pipe(plant)).cables).toEqual(["F-051"]);
    const gone = await rowsOf(plant, "select tag, life from cable where tag like 'F-050-D%' order by tag");
    expect(gone.map(({ tag, life }) => `${tag} ${life}`)).toEqual(["F-050-D1 removed", "F-050-D2 removed"]);
  });

  it.each(["left", "pulled_out"] as const)(
    "%s changes no trace, no loss of service and no truth, and is undone",
    async (became) => {
      const plant = await thick();
      const before = await contentOf(plant.store);
      const { steps } = await mended(plant, became);
      expect(await reaches(plant)).toBe(true);
      const lost = await plant.run<{ readonly strands: number; readonly circuits: readonly unknown[] }>("impact.of", {
        what: ["DB-2"],
      });
      expect([lost.strands, lost.circuits.length]).toEqual([24, 1]);
      const { findings } = await plant.check({ families: ["truth"] });
      expect(findings.map(({ sentence }) => sentence).join("|")).toBe("");
      for (let undone = 0; undone <= steps.length; undone++) await plant.run("history.undo", {});
      expect(await contentOf(plant.store)).toEqual(before);
    },
  );

  it("left once is pulled out later, and only once", async () => {
    const plant = await thick();
    await mended(plant, "left");
    const out = { cable: "F-050", tag: "F-050-D1", became: "pulled_out" };
    await plant.run("cable.dead_length", out);
    expect((await pipe(plant)).cables).toEqual(["F-050-D2", "F-051"]);
    expect(await plant.call("cable.dead_length", out)).toMatchObject({ ok: false, error: { code: "not_possible" } });
    await plant.run("history.undo", {});
    expect((await pipe(plant)).cables).toEqual(["F-050-D1", "F-050-D2", "F-051"]);
  });

  it("is no cable in use, and no length nobody says where", async () => {
    const plant = await line();
    const say = (more: object) => plant.call("cable.dead_length", { cable: "F-050", became: "left", ...more });
    expect(await say({ tag: "F-050-D1" })).toMatchObject({ ok: false, error: { problems: [{ field: "stops" }] } });
    expect(await say({ tag: "F-050" })).toMatchObject({
      ok: false,
      error: { code: "not_possible", problems: [{ field: "tag", reason: "has 24 strands on record" }] },
    });
  });
});

describe("a piece up to an end", () => {
  it("leaves the old one from the break to that end, which is told of as one length through the holes it passes", async () => {
    const plant = await line();
    const plan = await planOf(plant, ({ kind, landed }) => kind === "to_end" && landed?.words === "SCI/B01");
    const { steps } = await choose(plant, plan);
    const [own] = steps.filter(({ act, place }) => act === "cable.dead_length" && place?.tag === "SCI/B01");
    expect(own?.input).toMatchObject({
      stops: [
        { space: null, mark_out: 1174, way: { conduit: "DB-2/1" } },
        { space: "H-2", mark_in: 1233, mark_out: 1280, way: { conduit: "DB-3/1" } },
        { space: "H-3", mark_in: 1380, mark_out: 1423, way: { conduit: "DB-4/1" } },
        { space: "SCI/B01", mark_in: 1523 },
      ],
    });
    for (const step of steps) await doStep(plant, step);
    const { findings } = await plant.check({ families: ["truth"] });
    expect(findings.map(({ sentence }) => sentence).join("|")).toBe("");
  });
});

describe("a temporary mend", () => {
  it("leaves the dead stretch on record in its pipe, and the lasting one takes it out", async () => {
    const plant = await thick();
    const plan = await planOf(plant, ({ kind }) => kind === "two_points");
    const asked = { ...CUT, ...NUMBERS, plan, cases: ["CL-1", "CL-2"], replace_by: "2026-06-01" };
    await plant.run("job.plan_mend", asked);
    for (const step of (await plant.run<JobAnswer>("job.show", { job: "J-1" })).steps) await doStep(plant, step);
    // The piece lies over the ground; what it mends is still in the pipe.
    expect((await pipe(plant)).cables).toEqual(["F-050-D1", "F-050-D2"]);
    await plant.run("job.plan_lasting", { follows: "J-1", job: "J-2" });
    const lasting = await plant.run<JobAnswer>("job.show", { job: "J-2" });
    const out = dead(lasting);
    expect(out.map(({ input }) => (input as { readonly tag: string }).tag)).toEqual(["F-050-D1", "F-050-D2"]);
    const lay = lasting.steps.find(({ words }) => words.startsWith("Lay "))?.ordinal ?? 0;
    expect(Math.max(...out.map(({ ordinal }) => ordinal))).toBeLessThan(lay);
    for (const step of lasting.steps) {
      if (step.act === "cable.dead_length")
        await plant.run("job.do", { job: "J-2", step: step.ordinal, otherwise: { became: "pulled_out" } });
      else await doStep(plant, step, "J-2");
    }
    expect((await pipe(plant)).cables).toEqual(["J-2-P"]);
  });
});

describe("a piece from a new hole", () => {
  const holed =
    (to: string) =>
    ({ kind, points }: MendAnswer["plans"][number]): boolean =>
      kind === "two_points" && points.some(({ place }) => place === null) && points.some(({ words }) => words === to);

  for (const [to, way, index] of [
    ["H-1", "DB-2/1", 0],
    ["H-2", "DB-2b/1", 1],
  ] as const)
    it(`to ${to} leaves what lies between them dead in that part of the divided way, and it is told of like any other`, async () => {
      const plant = await line();
      const { steps } = await choose(plant, await planOf(plant, holed(to)));
      const own = steps.filter(({ act }) => act === "cable.dead_length");
      expect(own.map(({ place }) => place?.tag)).toEqual([to]);
      const { stops } = (own[0] as JobAnswer["steps"][number]).input as {
        readonly stops: readonly { readonly space: string | null; readonly way?: object }[];
      };
      expect(stops.map(({ space }) => space)).toEqual(index === 0 ? ["H-1", null] : [null, "H-2"]);
      expect(stops[0]?.way).toEqual({ conduit: way });
      expect(steps.map(({ words }) => words).join("\n")).not.toContain("enter it as a cable out of use");
      for (const step of steps) await doStep(plant, step);
      const lies = await rowsOf(
        plant,
        `select p.tag as way, l.life from leg l join stop s on s.id = l.from_stop_id join cable c on c.id = s.cable_id
           join pathway p on p.id = l.pathway_id where c.tag like 'F-050-D%'`,
      );
      expect(lies).toEqual([{ way: way.slice(0, -2), life: "out_of_use" }]);
      const { findings } = await plant.check({ families: ["truth"] });
      expect(findings.map(({ sentence }) => sentence).join("|")).toBe("");
    });
});

describe("a cut that nobody has found", () => {
  it("leaves two lengths of the leg that is given up, up to a break without a mark, and no metres are told of them", async () => {
    const plant = await thick();
    await plant.run("job.plan_mend", { cable: "F-050", between: ["H-1", "H-2"], job: "J-1", replace_by: "2026-06-01" });
    const { steps } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    const own = steps.filter(({ act }) => act === "cable.dead_length");
    expect(own.map(({ words }) => words)).toEqual([
      expect.stringMatching(
        /^Record as F-050-D1 that what is left of F-050 from H-1 up to the break stays in DB-2\/1, /,
      ),
      expect.stringMatching(
        /^Record as F-050-D2 that what is left of F-050 from H-2 up to the break stays in DB-2\/1, /,
      ),
    ]);
    expect(own.map(({ input }) => (input as { readonly stops: unknown }).stops)).toMatchObject([
      [
        { space: "H-1", mark_out: 1133 },
        { space: null, mark_in: null },
      ],
      [
        { space: null, mark_out: null },
        { space: "H-2", mark_in: 1233 },
      ],
    ]);
    for (const step of steps) await doStep(plant, step);
    expect((await pipe(plant)).cables).toEqual(["F-050-D1", "F-050-D2"]);
  });
});

describe("metres lost past a hole", () => {
  it("leave dead sheath that begins beyond a hole that is destroyed with all that lies in it, and such a cut is carried out and recorded too", async () => {
    const plant = await line();
    // 95 m beyond H-1 and 8 m more: H-2, 100 m beyond H-1 and crossed in 3 m, goes with its coil.
    const wide = { ...CUT, metres: 95, lost_right_m: 8 };
    const plan = await planOf(
      plant,
      ({ kind, points }) => kind === "two_points" && points[0]?.words === "H-1" && points[1]?.words === "H-3",
      wide,
    );
    await plant.run("job.plan_mend", { ...wide, ...NUMBERS, plan, cases: ["CL-1", "CL-2"] });
    const job = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    const beyond = dead(job).at(-1)?.input as { stops: { space: string | null; mark_out?: number; way?: unknown }[] };
    expect(beyond.stops).toEqual([
      { space: null, kind: "severed", mark_out: 1280, way: { conduit: "DB-3/1" } },
      { space: "H-3", kind: "end", mark_in: 1380 },
    ]);
    const sever = job.steps.find(({ act }) => act === "cable.sever");
    expect(sever?.input).toMatchObject({ mark_open_from: 1227, mark_open_to: 1233 });
    for (const step of job.steps) {
      if (step.act === "cable.dead_length")
        await plant.run("job.do", { job: "J-1", step: step.ordinal, otherwise: { became: "left" } });
      else await doStep(plant, step);
    }
    expect(await reaches(plant)).toBe(true);
    expect((await plant.check({ families: ["truth"] })).findings.map(({ sentence }) => sentence)).toEqual([]);
  });
});
