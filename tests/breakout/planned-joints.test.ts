/** What a trace says while a break-out's job is under way: cut glass whose splice is planned isn't said to be joined to nothing. */
import { describe, expect, it } from "vitest";
import type { TraceAnswer } from "../../core/trace/answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { doStep, type JobStep } from "./as-done.ts";
import { way } from "./way.ts";

const ASKED = { cable: "F-1", at: "H-2", strands: 4, side: "a", to: "NEW", type: "DR-12", lateral: "L-7" } as const;
const plain = (text: string): string => text.replace(/\s/g, " ");

async function underWay(): Promise<{ plant: CheckedPlant; upTo(words: RegExp): Promise<void> }> {
  const plant = await way();
  await plant.run("job.plan_breakout", { ...ASKED, job: "J-7" });
  const { steps } = await plant.run<{ steps: JobStep[] }>("job.show", { job: "J-7" });
  let next = 0;
  return {
    plant,
    upTo: async (words) => {
      const last = steps.findIndex((step) => words.test(step.words));
      expect(last).toBeGreaterThan(next);
      for (; next <= last; next += 1) await doStep(plant, "J-7", steps[next] as JobStep);
    },
  };
}

const trace = ({ run }: CheckedPlant, what: string) => run<TraceAnswer>("trace.walk", { what });
const saidOf = ({ from, to, hops }: TraceAnswer): string =>
  plain([from.words, to.words, ...hops.flatMap(({ how }) => how ?? [])].join(" | "));

describe("a strand that is cut and not spliced yet", () => {
  it("names the splice that is planned, once, and never says that it is joined to nothing", async () => {
    const { plant, upTo } = await underWay();
    await upTo(/^Bring the loop of F-1 out/);
    const told = saidOf(await trace(plant, "F-1:28#1"));
    expect(told).toContain("its splice to L-7:1-4 is planned by job J-7");
    expect(told).not.toContain("joined to nothing");
    expect(told.match(/is planned/g)).toHaveLength(1);
    // The glass beyond the cut is in no plan.
    expect(saidOf(await trace(plant, "F-1:28#2"))).toContain("joined to nothing");
  });
  it("names the other strand once its cable is on record, seen from either", async () => {
    const { plant, upTo } = await underWay();
    await upTo(/^Lay L-7/);
    expect(saidOf(await trace(plant, "F-1:28#1"))).toContain("its splice to L-7:3 is planned by job J-7");
    const lateral = saidOf(await trace(plant, "L-7:3"));
    expect(lateral).toContain("its splice to F-1:28 is planned by job J-7");
    expect(lateral).toContain("its landing on NEW/1/A:01-02 is planned by job J-7");
    expect(saidOf(await trace(plant, "L-7:5"))).not.toContain("is planned");
  });
  it("is joined, and says nothing of plans, when it has been spliced or the job was given up", async () => {
    const done = await underWay();
    await done.upTo(/^Splice F-1/);
    expect(saidOf(await trace(done.plant, "F-1:28#1"))).not.toMatch(/planned|joined to nothing/);
    const { plant, upTo } = await underWay();
    await upTo(/^Bring the loop of F-1 out/);
    await plant.run("job.abandon", { job: "J-7" });
    expect(saidOf(await trace(plant, "F-1:28#1"))).toContain("joined to nothing");
  });
});

describe("a splice on record as planned", () => {
  it("is named beside the glass it will join", async () => {
    const plant = await way();
    await plant.run("cable.open", { cable: "F-1", stop: "H-2", cut: "13-16", stub_a: "yes", stub_b: "yes" });
    const id = (strand: number, ordinal: number) =>
      plant.id(
        `select s.id from section s join strand t on t.id = s.strand_id join cable c on c.id = t.cable_id
         where c.tag = 'F-1' and t.number = ? and s.ordinal = ?`,
        strand,
        ordinal,
      );
    await plant.add("splice", {
      ...{ a_section_id: await id(13, 1), a_side: "B", b_section_id: await id(14, 2), b_side: "A", life: "planned" },
    });
    expect(saidOf(await trace(plant, "F-1:13#1"))).toContain("its splice to F-1:14#2 is planned");
    expect(saidOf(await trace(plant, "F-1:15#1"))).toContain("joined to nothing");
  });
});
