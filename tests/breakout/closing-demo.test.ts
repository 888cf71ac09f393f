/** A break-out of the demo campus closed again as a job: step by step, taken back, and given up half way. */
import { describe, expect, it } from "vitest";
import type { ClosingAnswer } from "../../core/breakout/answer.ts";
import type { Packet } from "../../core/jobs/packet.ts";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { Document } from "../../core/paper/document.ts";
import type { TraceAnswer } from "../../core/trace/answer.ts";
import { storyClock } from "../../samples/campus/crew.ts";
import { newSample } from "../support/made.ts";
import type { TestPlant } from "../support/plant.ts";
import { doStep, type JobStep } from "./as-done.ts";

const campus = () => newSample({ clock: storyClock() });

/** F-006 is opened in MH-07, where L-201 takes its third unit's strands to another building. */
const ASKED = { cable: "F-006", at: "MH-07" } as const;
const traced = ({ run }: TestPlant, what: string) => run<TraceAnswer>("trace.walk", { what });
const hopsOf = async (plant: TestPlant, what: string) =>
  (await traced(plant, what)).hops.map(({ record }) => record.tag);
const stepsOf = async ({ run }: TestPlant) => (await run<{ steps: JobStep[] }>("job.show", { job: "J-900" })).steps;
const strandsOf = ({ strands }: ClosingAnswer) => strands.map(({ strand }) => strand.tag);

describe("the way back from a break-out of the demo campus", () => {
  it("leads every strand through again, step by step, and is taken back to what was", async () => {
    const plant = await campus();
    const answer = await plant.run<ClosingAnswer>("breakout.closing", ASKED);
    expect(answer.closed).toBe(answer.strands.length);
    const before = await Promise.all(strandsOf(answer).map((tag) => hopsOf(plant, `${tag}#1`)));
    await plant.run("job.plan_closing", { ...ASKED, job: "J-900" });
    const steps = await stepsOf(plant);
    for (const step of steps) await doStep(plant, "J-900", step);
    for (const tag of strandsOf(answer)) {
      const hops = await hopsOf(plant, `${tag}#1`);
      expect(hops).toContain(`${tag}#2`);
      for (const { cable } of answer.laterals) expect(hops.some((hop) => hop.startsWith(`${cable.tag}:`))).toBe(false);
    }
    const again = await plant.call<ClosingAnswer>("breakout.closing", ASKED);
    expect(again).toMatchObject({ ok: false, error: { code: "not_possible" } });
    for (let n = 0; n < steps.length + 1; n += 1) await plant.run("history.undo", {});
    expect(await plant.run<ClosingAnswer>("breakout.closing", ASKED)).toEqual(answer);
    expect(await Promise.all(strandsOf(answer).map((tag) => hopsOf(plant, `${tag}#1`)))).toEqual(before);
  });

  it("names what each splice that is taken out leads to, also where the record has two at one end", async () => {
    const plant = await campus();
    const { strands, opened, steps } = await plant.run<ClosingAnswer>("breakout.closing", ASKED);
    // F-006:13 is on record as spliced twice there: one of the faults put into the demo campus on purpose.
    expect([strands[0]?.a, strands[1]?.a]).toEqual(["spliced to F-024:13 and L-201:1", "spliced to L-201:2"]);
    expect(steps[1]?.words).toBe(`Take out ${opened} splices of F-006:13-24, from F-024:13 and L-201:1-12`);
    const { summary } = await plant.rehearse<{ summary: string }>("job.plan_closing", { ...ASKED, job: "J-900" });
    expect(summary).toMatch(/^Plan job J-900: .*\w$/);
    await plant.run("job.plan_closing", { ...ASKED, job: "J-900" });
    const { steps: planned } = await plant.run<JobAnswer>("job.show", { job: "J-900" });
    expect(planned[1]?.cautions).toContainEqual(expect.stringMatching(/^Treat every end as lit/));
  });

  it("has equipment switched off for the strands in the unit that is opened, and for no other", async () => {
    const plant = await campus();
    await plant.run("job.plan_closing", { ...ASKED, job: "J-900" });
    const { light, worked } = await plant.run<Packet>("job.packet", { job: "J-900" });
    expect(worked.map(({ tag }) => tag)).toContain("F-006");
    // K-079 to K-084 shine on 1-12, which run on in a tube that stays shut.
    expect(light.equipment.filter(({ strands }) => strands.startsWith("F-006"))).toEqual([]);
    expect(light.unseen.map(({ strands }) => strands)).not.toEqual([]);
    for (const { strands } of light.unseen) expect(strands).toMatch(/F-006:(13|24|13-24)/);
    const blocks = (await plant.run<Document>("job.print", { job: "J-900" })).blocks;
    expect(blocks.filter(({ is }) => is === "line").length).toBeGreaterThan(0);
  });

  it("that is given up once the splices are out leaves the truth: cut ends, and no splice that is planned", async () => {
    const plant = await campus();
    await plant.run("job.plan_closing", { ...ASKED, job: "J-900" });
    const steps = await stepsOf(plant);
    const out = steps.findIndex(({ words }) => /^Take out \d+ splices/.test(words));
    for (const step of steps.slice(0, out + 1)) await doStep(plant, "J-900", step);
    const end = async () => {
      const { from, to } = await traced(plant, "F-006:14#1");
      return [from.words, to.words].join(" | ");
    };
    expect(await end()).toContain("its splice to the strand's other half is planned by job J-900");
    await plant.run("job.abandon", { job: "J-900" });
    expect(await end()).toContain("cut and joined to nothing");
    const { closed, opened } = await plant.run<ClosingAnswer>("breakout.closing", ASKED);
    expect([closed, opened]).toEqual([12, 0]);
  });
});
