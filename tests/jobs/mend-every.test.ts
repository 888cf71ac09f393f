/**
 * Every plan for cuts all over the line of `line.ts`, carried out, given up on the way, and taken back: at every moment sheath
 * balances, and trace and feeds say the same. The balance is reckoned here from marks alone, not by the program.
 */
import { describe, expect, it } from "vitest";
import type { FeedsAnswer } from "../../core/feeds/answer.ts";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { MendAnswer } from "../../core/repair/answer.ts";
import { contentOf } from "../act/campus.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { balance, stopsOf } from "./balance.ts";
import { line } from "./line.ts";
import { doStep, NUMBERS, reaches } from "./mending.ts";

/** What is found: a mark or a place, and the marks at its edges once 1 m is lost on each side. */
const CUTS = [
  ["between two holes", { after: "H-1", metres: 40 }, [1172, 1174]],
  ["just beyond a hole, in which its end lies too", { after: "H-1", metres: 1.2 }, [1133.2, 1135.2]],
  ["near the end", { after: "H-3", metres: 5 }, [1427, 1429]],
  ["in a coil", { mark: 1115 }, [1114, 1116]],
  ["in the coil in the middle", { mark: 1250 }, [1249, 1251]],
  ["in a hole just past its mouth", { mark: 1102 }, [1101, 1103]],
] as const;

/** Whether the feeds of both buildings have a strand of K-7 in service up to the other's port. */
async function feeds(plant: CheckedPlant): Promise<boolean> {
  const upTo = async (what: string, port: string): Promise<boolean> => {
    const { cables } = await plant.run<FeedsAnswer>("feeds.of", { what });
    const strands = cables.flatMap((cable) => cable.strands).filter(({ number }) => number === 13);
    return strands.some(({ state, far }) => state === "in_service" && JSON.stringify(far).includes(port));
  };
  return (await upTo("SCI", "LIB/101/A:07")) && (await upTo("LIB", "SCI/B01/P:07"));
}

describe.each(CUTS)("a cut %s", (_, where, edges) => {
  const cut = { cable: "F-050", lost_left_m: 1, lost_right_m: 1, ...where };
  const planned = async (plant: CheckedPlant, plan: number, points: number): Promise<JobAnswer> => {
    await plant.run("job.plan_mend", { ...cut, ...NUMBERS, plan, cases: ["CL-1", "CL-2"].slice(0, points) });
    return plant.run<JobAnswer>("job.show", { job: "J-1" });
  };
  const isJoint = ({ act }: JobAnswer["steps"][number]) =>
    act?.startsWith("splice.") || act === "cable.replace" || act === "cable.replace_end";

  it("is mended by each of its plans", async () => {
    const plant = await line();
    const before = await contentOf(plant.store);
    const { plans } = await plant.run<MendAnswer>("mend.plans", cut);
    expect(plans.length).toBeGreaterThan(5);
    for (const [index, { points }] of plans.entries()) {
      const { steps } = await planned(plant, index + 1, points.length);
      const severs = steps.find(({ act }) => act === "cable.sever")?.ordinal ?? 0;
      const joints = steps.filter(isJoint).filter(({ words }) => !/[ :]1-12\b/.test(words));
      for (const step of steps) {
        await doStep(plant, step);
        const lit = step.ordinal < severs || joints.every(({ ordinal }) => ordinal <= step.ordinal);
        const at = `plan ${index + 1}, step ${step.ordinal}`;
        expect([at, await reaches(plant)]).toEqual([at, lit]);
        if (isJoint(step) || step.act === "cable.sever") expect([at, await feeds(plant)]).toEqual([at, lit]);
        if (step.act === "cable.sever") {
          const { review } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
          expect([at, review]).toEqual([at, "Asked for again, its plan still holds."]);
        }
        if (step.act?.startsWith("cable.")) balance(await stopsOf(plant), edges);
      }
      const found = await plant.check({ families: ["truth"] });
      expect(found.findings.map(({ sentence }) => sentence).join("|")).toBe("");
      for (let undone = 0; undone <= steps.length; undone++) await plant.run("history.undo", {});
      expect(await contentOf(plant.store)).toEqual(before);
    }
  });

  it("is as far as it got when a job is given up on the way", async () => {
    const plant = await line();
    const before = await contentOf(plant.store);
    const { plans } = await plant.run<MendAnswer>("mend.plans", cut);
    for (const [index, { points }] of plans.entries()) {
      const { steps } = await planned(plant, index + 1, points.length);
      const done = steps.slice(0, 3 + ((index * 5) % (steps.length - 4)));
      for (const step of done) await doStep(plant, step);
      const [lit, fed, stops] = [await reaches(plant), await feeds(plant), await stopsOf(plant)];
      await plant.run("job.abandon", { job: "J-1" });
      expect([await reaches(plant), await feeds(plant), await stopsOf(plant)]).toEqual([lit, fed, stops]);
      expect((await plant.run<JobAnswer>("job.show", { job: "J-1" })).planned).toEqual([]);
      balance(stops, edges);
      for (let undone = 0; undone <= done.length + 1; undone++) await plant.run("history.undo", {});
      expect(await contentOf(plant.store)).toEqual(before);
    }
  });
});
