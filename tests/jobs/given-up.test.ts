/**
 * A mend given up when the ends of the cable were already brought to where they were to be spliced, on the line of `line.ts`:
 * whoever is on call later learns what to do, and that works.
 */
import { describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import { Refusal } from "../../core/result.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { line } from "./line.ts";
import { at, CUT, carryOut, choose, doStep, planOf, reaches } from "./mending.ts";

interface Given {
  readonly notices: readonly string[];
}

const refusal = async (plant: CheckedPlant, asked: object): Promise<Refusal["failure"]> => {
  try {
    await plant.run("mend.plans", asked);
  } catch (error) {
    if (error instanceof Refusal) return error.failure;
    throw error;
  }
  throw new Error("a mend is planned");
};
const openOf = async (plant: CheckedPlant): Promise<JobAnswer> => {
  const job = await plant.run<JobAnswer>("job.show", { job: "J-1" });
  return { ...job, steps: job.steps.filter(({ state }) => state === "open") };
};

const WAYS = [
  ["two places, with a piece between them", "is parted between H-1 and H-2", ({ kind }) => kind === "two_points"],
  ["one place", "Both ends of F-050 lie at H-1", at("H-1")],
] as const satisfies readonly [string, string, Parameters<typeof planOf>[1]][];

for (const [where, lies, wanted] of WAYS)
  describe(`a mend given up when the ends of the cable were brought to ${where}`, () => {
    const given = async (): Promise<CheckedPlant> => {
      const plant = await line();
      await carryOut(plant, await choose(plant, await planOf(plant, wanted)), (words) => words.startsWith("Splice "));
      const { notices } = await plant.run<Given>("job.abandon", { job: "J-1", why: "the crew was called away" });
      expect(notices).toContainEqual(expect.stringMatching(/^The ends of F-050 were brought to where .* undo this/));
      return plant;
    };

    it("is told of when the cable is to be mended, with the change to undo", async () => {
      const plant = await given();
      await plant.run("job.enter", { job: "J-7", steps: [{ words: "Something else" }] });
      const { code, message } = await refusal(plant, { cable: "F-050" });
      expect(code).toBe("not_possible");
      expect(message).toContain(lies);
      const [, change] = /by undoing change (\d+), and carry it on/.exec(message) ?? [];
      await plant.run("history.undo", { change_set: Number(change) });
      for (const step of (await openOf(plant)).steps) await doStep(plant, step);
      expect(await reaches(plant)).toBe(true);
      expect((await plant.check({ families: ["truth"] })).findings).toEqual([]);
    });

    it("is still told when a mark is named at which nothing of the cable lies", async () => {
      const { code, message } = await refusal(await given(), { cable: "F-050", mark: 99_999 });
      expect(code).toBe("bad_input");
      expect(message).toMatch(/^Mark 99999 .* carry it on/);
    });

    it("keeps no one from mending the cable elsewhere", async () => {
      const plant = await given();
      await plant.run("mend.plans", { ...CUT, after: "H-2" });
    });
  });

describe.each([
  ["the other end was brought to its splice", "Lay ", /^One end of F-050 lies at H-2, and the other at its cut: J-1 /],
  [
    "it had taken the place of the old",
    "Splice ",
    /^F-050 ends at H-2, and is joined to nothing there: J-1 laid new cable/,
  ],
] as const)("a mend with a piece up to an end of the cable, given up when %s", (_, upTo, lies) => {
  it("is told of when the cable is to be mended, with the change to undo, and that works", async () => {
    const plant = await line();
    const job = await choose(plant, await planOf(plant, ({ kind }) => kind === "to_end"));
    await carryOut(plant, job, (words) => words.startsWith(upTo));
    await plant.run("job.abandon", { job: "J-1" });
    const { code, message } = await refusal(plant, { cable: "F-050" });
    expect([code, message]).toEqual(["not_possible", expect.stringMatching(lies)]);
    const [, change] = /by undoing change (\d+), and carry it on/.exec(message) ?? [];
    await plant.run("history.undo", { change_set: Number(change) });
    for (const step of (await openOf(plant)).steps) await doStep(plant, step);
    expect(await reaches(plant)).toBe(true);
  });
});

describe("a mend given up before anything was moved", () => {
  it("leaves a cut that is planned anew, and says nothing more", async () => {
    const plant = await line();
    const job = await choose(plant, await planOf(plant, ({ kind }) => kind === "two_points"));
    await carryOut(plant, job, (words) => words.startsWith("Bring the end"));
    const { notices } = await plant.run<Given>("job.abandon", { job: "J-1" });
    expect(notices.join(" ")).not.toContain("The ends of");
    await plant.run("mend.plans", { cable: "F-050" });
  });
});
