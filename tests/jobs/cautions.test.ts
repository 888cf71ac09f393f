/** What a planned job says people have to mind: step by step, by what each does and where, and all of it on the packet. */
import { describe, expect, it } from "vitest";
import type { Packet } from "../../core/jobs/packet.ts";
import type { JobAnswer } from "../../core/jobs/show.ts";
import { storyClock } from "../../samples/campus/crew.ts";
import { newSample } from "../support/made.ts";
import { line } from "./line.ts";
import { rowsOf } from "./mending.ts";

const LIT = /^Treat every end as lit/;
const DIG = /^Before digging have all owners mark the ground/;
const HOLE = /^A hole may hold gas/;
const POLE = /^On a pole, ladder or lift/;
const SIGNS = /two independent signs/;

describe("the steps of a mend in a duct", () => {
  it("each say what is to be minded there, and nothing of what others do", async () => {
    const plant = await line();
    await plant.run("job.plan_mend", { cable: "F-050", between: ["H-1", "H-2"], job: "J-1" });
    const { steps, cautions } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    const minded = (pick: (step: JobAnswer["steps"][number]) => boolean): string =>
      steps.find(pick)?.cautions.join("\n") ?? "no such step";
    const sever = minded(({ act }) => act === "cable.sever");
    expect(sever).toMatch(SIGNS);
    const splice = minded(({ act }) => act?.startsWith("splice.") ?? false);
    for (const one of [LIT, HOLE]) expect(splice).toMatch(new RegExp(one.source, "m"));
    expect(splice).not.toMatch(new RegExp(DIG.source, "m"));
    const dig = minded(({ words }) => words.startsWith("Dig the break free"));
    for (const one of [DIG, HOLE]) expect(dig).toMatch(new RegExp(one.source, "m"));
    expect(dig).not.toMatch(new RegExp(LIT.source, "m"));
    for (const step of steps) for (const words of step.cautions) expect(cautions).toContain(words);
  });

  it("are told apart by what is stored of them and not by their words", async () => {
    const plant = await line();
    await plant.run("job.plan_mend", { cable: "F-050", between: ["H-1", "H-2"], job: "J-1" });
    const { steps } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    const dig = steps.find(({ words }) => words.startsWith("Dig the break free"));
    const [row] = await rowsOf(plant, `select id from job_step where ordinal = ${dig?.ordinal}`);
    await plant.run("record.edit", { kind: "job_step", id: row?.id, values: { act: "Die Stelle freigraben" } });
    const { steps: other } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    expect(other.find(({ ordinal }) => ordinal === dig?.ordinal)?.cautions).toEqual(dig?.cautions);
  });
});

describe("the packet of a mend on poles", () => {
  it("opens with what climbing asks for", async () => {
    const plant = await newSample({ clock: storyClock() });
    const { plans } = await plant.run<{ plans: unknown[] }>("mend.plans", { cable: "F-025", after: "F-025@3" });
    expect(plans.length).toBeGreaterThan(0);
    await plant.run("job.plan_mend", { cable: "F-025", after: "F-025@3", job: "J-900" });
    const { cautions } = await plant.run<Packet>("job.packet", { job: "J-900" });
    expect(cautions.some((words) => POLE.test(words))).toBe(true);
    expect(cautions.some((words) => SIGNS.test(words))).toBe(true);
    for (const one of [/^Where a span hangs over a street/, /^Test for voltage/, /^A hole may hold gas/])
      expect(cautions.some((words) => one.test(words))).toBe(true);
    // It hangs: there is no pipe to wait for.
    const printed = JSON.stringify(await plant.run<object>("job.print", { job: "J-900" }));
    expect(printed).toContain("the span to be sound and its messenger to carry");
    expect(printed).not.toContain("the pipe to be mended");
  });
});
