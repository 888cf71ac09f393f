/** A cable that was mended up to a hole on one side of it and is cut on the other side: the piece goes on for what was cut now. */
import { expect, it } from "vitest";
import type { Packet } from "../../core/jobs/packet.ts";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { MendAnswer } from "../../core/repair/answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { carryOut, planOf, reaches } from "./mending.ts";
import { opened } from "./opened-line.ts";

const FIRST = { cable: "F-050", after: "LIB/101", metres: 40 };
const SECOND = { cable: "F-050", between: ["H-1", "H-2"], metres: 40 };

async function mend(plant: CheckedPlant, cut: object, plan: number, job: string): Promise<void> {
  await plant.run("job.plan_mend", { ...cut, plan, job });
  await carryOut(plant, await plant.run<JobAnswer>("job.show", { job }), undefined, job);
}

async function mendedUpToIt(): Promise<CheckedPlant> {
  const plant = await opened();
  const toTheHole = ({ kind, points }: MendAnswer["plans"][number]) =>
    kind === "two_points" && points[1]?.words === "H-1";
  await mend(plant, FIRST, await planOf(plant, toTheHole, FIRST), "J-1");
  return plant;
}

it("each way of the second mend leaves every circuit the glass it runs on, and no other", async () => {
  const { plans } = await (await mendedUpToIt()).run<MendAnswer>("mend.plans", SECOND);
  expect(plans.some(({ sentence }) => sentence.includes("landed in the place of the old"))).toBe(true);
  for (const [index, { sentence }] of plans.entries()) {
    const plant = await mendedUpToIt();
    await mend(plant, SECOND, index + 1, "J-2");
    const truth = (await plant.check({ families: ["truth"] })).findings.map((found) => found.sentence);
    expect([sentence, truth, await reaches(plant)]).toEqual([sentence, [], true]);
    await plant.close();
  }
});

/** What the packet says is joined where one cable takes another's place, by the strand of the new one. */
async function landed(plant: CheckedPlant): Promise<Map<string, string>> {
  const { sheets } = await plant.run<Packet>("job.packet", { job: "J-2" });
  const rows = sheets.filter(({ tray }) => tray.includes(" in the place of ")).flatMap(({ rows: all }) => all);
  return new Map(rows.map(({ step, from, to }) => [`${step} ${from.strand.tag}`, to.strand.tag]));
}

it("the packet names beforehand what is joined once it is done", async () => {
  const { plans } = await (await mendedUpToIt()).run<MendAnswer>("mend.plans", SECOND);
  let compared = 0;
  for (const [index, { sentence }] of plans.entries()) {
    const plant = await mendedUpToIt();
    await plant.run("job.plan_mend", { ...SECOND, plan: index + 1, job: "J-2" });
    const before = await landed(plant);
    await carryOut(plant, await plant.run<JobAnswer>("job.show", { job: "J-2" }), undefined, "J-2");
    const after = await landed(plant);
    expect([sentence, before]).toEqual([sentence, after]);
    compared += after.size;
    await plant.close();
  }
  expect(compared).toBeGreaterThan(0);
});
