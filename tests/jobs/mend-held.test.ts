/** Mends beside a case, beside a panel, up to an end and from a new hole, carried out step by step as jobs. */
import { describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { MendAnswer, MendAnswerPlan } from "../../core/repair/answer.ts";
import type { TraceAnswer } from "../../core/trace/answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { line } from "./line.ts";
import { doStep, rowsOf } from "./mending.ts";

/** The line with 1-2 cut and closed again at H-1, whose case has 12 m of coil on each side; 30 m are coiled at both ends. */
async function opened(): Promise<CheckedPlant> {
  const plant = await line();
  await plant.run("closure.enter", { tag: "CL-8", space: "H-1", trays: [{ numbers: "T1", capacity: 24 }] });
  await plant.run("cable.open", {
    cable: "F-050",
    stop: 2,
    closure: "H-1/CL-8",
    cut: "1-2",
    mark_open_from: 1113.5,
    mark_open_to: 1119.5,
  });
  await plant.run("splice.close", { strands: "F-050:1-2", stop: 2, tray: "H-1/CL-8/T1", method: "fusion" });
  await plant.edit("stop", "F-050@1", { slack_m: 30 });
  await plant.edit("stop", "F-050@5", { slack_m: 30 });
  return plant;
}

/** The ends of the traces from both tubes' first ports: 1 is spliced in H-1, 13 runs through. */
async function through(plant: CheckedPlant): Promise<readonly boolean[]> {
  const far = async (port: string) =>
    JSON.stringify(await plant.run<object>("trace.walk", { what: `LIB/101/A:${port}#1` })).includes(
      `SCI/B01/P:${port}`,
    );
  return [await far("01"), await far("07")];
}

const CUT = { cable: "F-050", lost_left_m: 1, lost_right_m: 1 };
type Wanted = (plan: MendAnswerPlan) => boolean;
const points = (kind: MendAnswerPlan["kind"], ...words: string[]): Wanted => {
  return (plan) => plan.kind === kind && words.every((one, index) => plan.points[index]?.words.startsWith(one));
};

interface Where {
  readonly after: string;
  readonly metres: number;
  /** Stops that nobody can reach any more. */
  readonly barred?: readonly string[];
}

const CASES: readonly (readonly [string, Where, Wanted])[] = [
  ["one splice beside the case of an opening", { after: "H-1", metres: 12 }, points("one_point", "H-1")],
  ["a piece from beside a case to a hole", { after: "H-1", metres: 40 }, points("two_points", "H-1", "H-2")],
  [
    "a piece from beside a panel to beside a case",
    { after: "LIB/101", metres: 50 },
    points("two_points", "LIB", "H-1"),
  ],
  ["a piece from a hole to beside a panel", { after: "H-3", metres: 60 }, points("two_points", "H-3", "SCI")],
  ["one splice beside a panel", { after: "H-3", metres: 90 }, points("one_point", "SCI")],
  ["a piece from a hole to the last end, landed anew", { after: "H-3", metres: 60 }, points("to_end", "H-3")],
  ["a piece from beside a case to the first end", { after: "LIB/101", metres: 50 }, points("to_end", "H-1")],
  [
    "a piece from a new hole to the last end",
    { after: "H-3", metres: 60, barred: ["F-050@2", "F-050@3", "F-050@4"] },
    points("to_end", "a new hole"),
  ],
  ["a piece from a new hole to a hole", { after: "H-2", metres: 60 }, points("two_points", "a new hole", "H-3")],
  ["a piece from a hole to a new hole", { after: "H-2", metres: 60 }, points("two_points", "H-2", "a new hole")],
];

describe("a mend by", () => {
  it.each(CASES)(
    "%s joins every strand again, contradicts nothing, and is undone whole",
    async (_, { barred = [], ...where }, wanted) => {
      const plant = await opened();
      for (const stop of barred) await plant.edit("stop", stop, { reachable: "no" });
      const before = await plant.check({ families: ["truth"] });
      const asked = { ...CUT, ...where };
      const { plans } = await plant.run<MendAnswer>("mend.plans", asked);
      const index = plans.findIndex(wanted);
      if (index < 0) throw new Error(plans.map(({ sentence }) => sentence).join("\n"));
      await plant.run("job.plan_mend", { ...asked, job: "J-1", hole: "H-9", piece: "F-051", plan: index + 1 });
      const job = await plant.run<JobAnswer>("job.show", { job: "J-1" });
      for (const step of job.steps) await doStep(plant, step);
      expect(await through(plant)).toEqual([true, true]);
      const { findings } = await plant.check({ families: ["truth"] });
      const said = (all: typeof findings) => all.map(({ sentence }) => sentence).join("|");
      expect(said(findings)).toBe(said(before.findings));
      // Every metre of glass has its stops, and K-7 the glass it runs on, on both cables where there are two.
      const loose = await rowsOf(plant, "select s.id from section s where s.a_stop_id is null and s.ordinal > 1");
      expect(loose).toEqual([]);
      const again = await plant.call<MendAnswer>("mend.plans", { ...CUT, after: "H-1", metres: 50 });
      expect(again.ok || again.error.code, JSON.stringify(again)).not.toBe("not_possible");
      for (const _step of job.steps) await plant.run("history.undo", {});
      expect(await through(plant)).toEqual([true, true]);
      const rest = await rowsOf(
        plant,
        "select ordinal, kind, mark_in, mark_out from stop where cable_id = 1 order by ordinal",
      );
      expect(rest.map(({ kind }) => kind)).toEqual(["end", "opened", "passing", "passing", "end"]);
      expect(rest[1]).toMatchObject({ mark_in: 1100, mark_out: 1133 });
    },
  );

  it("forgets no length on the way: the trace up to the cut says the same until its ends are brought", async () => {
    const plant = await opened();
    const asked = { ...CUT, after: "LIB/101", metres: 50 };
    const { plans } = await plant.run<MendAnswer>("mend.plans", asked);
    const plan = plans.findIndex(points("two_points", "LIB", "H-1")) + 1;
    await plant.run("job.plan_mend", { ...asked, job: "J-1", piece: "F-051", plan });
    const { steps } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    const upTo = async (port: string) => {
      const { lines } = await plant.run<TraceAnswer>("trace.walk", { what: `${port}#1` });
      const [{ totals }] = lines as [TraceAnswer["lines"][number]];
      return [totals.sheath_m, totals.lacks];
    };
    const both = async () => [await upTo("LIB/101/A:07"), await upTo("SCI/B01/P:07")];
    const [severed, brought] = ["cable.sever", "cable.move_cut"].map((act) =>
      steps.findIndex((one) => one.act === act),
    );
    let first: unknown = null;
    for (const [index, step] of steps.slice(0, brought).entries()) {
      await doStep(plant, step);
      if (index < (severed ?? 0)) continue;
      first ??= await both();
      expect([step.words, await both()]).toEqual([step.words, first]);
    }
    const excess = (strand: string) => [`${strand}: the excess of its glass is not on record`];
    expect(first).toEqual([
      [79, excess("F-050:13#1")],
      [502, excess("F-050:13#2")],
    ]);
    expect(steps.filter(({ act }) => act === "cable.add_stop")).toHaveLength(2);
  });
  it("beside a case gives the sheath a stop of its own there, and leaves the case as it was", async () => {
    const plant = await opened();
    const asked = { ...CUT, after: "H-1", metres: 40 };
    const { plans } = await plant.run<MendAnswer>("mend.plans", asked);
    const plan = plans.findIndex(points("two_points", "H-1", "H-2")) + 1;
    await plant.run("job.plan_mend", { ...asked, job: "J-1", piece: "F-051", plan });
    const { steps } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    expect(steps.map(({ words }) => words).join("|")).toContain(
      "Record that F-050 will end beside the case at H-1, in a case of its own; what stands in the case stays as it is",
    );
    for (const step of steps) await doStep(plant, step);
    const stops = await rowsOf(
      plant,
      `select st.ordinal, st.kind, s.tag, cl.tag as closure, st.mark_in, st.mark_open_from, st.mark_open_to from stop st
       left join space s on s.id = st.space_id left join closure cl on cl.id = st.closure_id
       where st.cable_id = 1 order by st.ordinal`,
    );
    expect(stops.map(({ tag, kind, closure }) => [tag, kind, closure])).toEqual([
      ["101", "end", null],
      ["H-1", "opened", "CL-8"],
      ["H-1", "severed", "J-1-C1"],
      ["H-2", "severed", "J-1-C2"],
      ["H-3", "passing", null],
      ["B01", "end", null],
    ]);
    // Half the crossing and 12 m of coil are more than the 10.4 m to work with: what lies beyond the mouth is cut off.
    expect(stops[2]).toMatchObject({ mark_in: 1133, mark_open_from: 1133 });
  });

  it("up to an end leaves the cable ending at the splice, and the ports on the new one", async () => {
    const plant = await opened();
    const asked = { ...CUT, after: "LIB/101", metres: 50 };
    const { plans } = await plant.run<MendAnswer>("mend.plans", asked);
    const plan = plans.findIndex(points("to_end", "H-1")) + 1;
    await plant.run("job.plan_mend", { ...asked, job: "J-1", piece: "F-051", plan });
    for (const step of (await plant.run<JobAnswer>("job.show", { job: "J-1" })).steps) await doStep(plant, step);
    const stops = await rowsOf(plant, "select ordinal, kind from stop where cable_id = 1 order by ordinal");
    expect(stops.map(({ kind }) => kind)).toEqual(["end", "opened", "passing", "passing", "end"]);
    const landed = await rowsOf(
      plant,
      `select c.tag, count(*) as strands from termination t join section g on g.id = t.section_id
         join strand s on s.id = g.strand_id join cable c on c.id = s.cable_id group by c.tag order by c.tag`,
    );
    expect(landed).toEqual([
      { tag: "F-050", strands: 24 },
      { tag: "F-051", strands: 24 },
    ]);
    const order = await rowsOf(plant, "select distinct ordinal from section order by ordinal");
    expect(order.map(({ ordinal }) => ordinal)).toEqual([1, 2]);
  });
});
