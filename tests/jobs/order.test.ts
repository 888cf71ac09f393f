/**
 * In which order a mend is done, and in which words, on the line of `line.ts`: F-050 is cut 40 m beyond H-1 and mended by a
 * piece between H-1 and H-2. That a place is made safe before anybody pulls there, and that a pipe is proven only when nothing
 * lies in it, is common practice, no source.
 */
import { describe, expect, it } from "vitest";
import { clearSteps } from "../../core/jobs/clear-steps.ts";
import { together } from "../../core/jobs/mends-job.ts";
import type { PlannedStep } from "../../core/jobs/step.ts";
import { line } from "./line.ts";
import { carryOut, choose, planOf, rowsOf } from "./mending.ts";

describe("a mend by a piece in a pipe", () => {
  it("digs the break free before dead sheath is taken out, and mends and proves the pipe when that is out", async () => {
    const plant = await line();
    const { steps } = await choose(plant, await planOf(plant, ({ kind }) => kind === "two_points"));
    const at = (begins: string): number => steps.findIndex(({ words }) => words.startsWith(begins));
    const order = ["Have every owner mark", "Dig the break free", "Take the ", "Mend the pipe", "Lay F-051"].map(at);
    expect(order).not.toContain(-1);
    expect(order).toEqual(order.toSorted((a, b) => a - b));
  });

  it("says of sheath in a stretch given up whole that it is taken out, from both sides", async () => {
    const plant = await line();
    const asked = { cable: "F-050", between: ["H-1", "H-2"] };
    const plan = await planOf(plant, ({ kind }) => kind === "two_points", asked);
    await plant.run("job.plan_mend", { ...asked, job: "J-1", plan });
    const { steps } = await plant.run<{ steps: PlannedStep[] }>("job.show", { job: "J-1" });
    const out = steps.filter(({ words }) => words.includes("take what is left of F-050 up to the break out of DB-2/1"));
    expect(out.map(({ place }) => place?.tag)).toEqual(["H-1", "H-2"]);
  });

  it("asks what became of the metal at both ends of the piece as at those of the cable, and then all of it is known", async () => {
    const plant = await line();
    await plant.edit("cable_type", "LT-24", { metal: "yes" });
    const job = await choose(plant, await planOf(plant, ({ kind }) => kind === "two_points"));
    await carryOut(plant, job);
    const known = `select c.tag, s.tag as place from stop st join cable c on c.id = st.cable_id join space s on s.id = st.space_id
      where st.metal = 'bonded' order by c.tag, s.tag`;
    expect((await rowsOf(plant, known)).map(({ tag, place }) => `${tag} ${place}`)).toEqual([
      "F-050 H-1",
      "F-050 H-2",
      "F-051 H-1",
      "F-051 H-2",
    ]);
  });

  it("tells what to fetch, by make, strands and room, when it was looked at and before anything is cut", async () => {
    const plant = await line();
    const { steps } = await choose(plant, await planOf(plant, ({ kind }) => kind === "two_points"));
    const fetch = steps.findIndex(({ words }) => words.startsWith("Have at hand"));
    const words = (steps[fetch]?.words ?? "").replaceAll("\u202f", " ");
    expect(words).toMatch(/for F-051 \d+(\.\d)? m of LT-24, 24 strands, /);
    // Cases that are alike are told once.
    expect(words).toContain(
      "for H-1/CL-1 and H-2/CL-2 a case each that takes 24 splices in 1 splice tray, with 24 places in all",
    );
    expect(words).toContain("No cable in stock would do: buy");
    expect(steps.findIndex(({ words: one }) => one.includes("look at the coils"))).toBeLessThan(fetch);
    expect(fetch).toBeLessThan(steps.findIndex(({ act }) => act === "cable.sever"));
  });

  it("names each mark that is to be read by the sheath or mouth it is on", async () => {
    const plant = await line();
    const { steps } = await choose(plant, await planOf(plant, ({ kind }) => kind === "two_points"));
    const read = steps.filter(({ words }) => /^At H-[12] read the marks of F-050 anew/.test(words));
    expect(read[0]?.words).toMatch(/\d where the sheath that comes from LIB\/101 ends/);
    expect(read[1]?.words).toMatch(/\d where the sheath that comes from SCI\/B01 ends/);
  });
});

describe("steps of several cables", () => {
  const step = (words: string, more: Partial<PlannedStep> = {}): PlannedStep => ({
    ...{ act: null, input: null, words, place: null },
    ...more,
  });
  const cable = (tag: string, rank: number, around: readonly string[]): PlannedStep[] => [
    step(`cut ${tag}`, { act: "cable.sever", input: tag }),
    ...clearSteps(around, "pipe", [step(`dead ${tag}`)]),
    step(`lay ${tag}`),
    step(`splice ${tag}`, { act: "splice.range", input: tag, rank }),
    step(`close ${tag}`),
  ];

  it("clear a break once, though cables run through it against each other", () => {
    const words = together([cable("one", 1, ["H-1", "H-2"]), cable("two", 2, ["H-2", "H-1"])], false).map(
      (one) => one.words,
    );
    expect(words.filter((one) => /^Dig the break|^Mend the pipe|^Have every/.test(one))).toHaveLength(3);
    const [dug, mended] = ["Dig the break", "Mend the pipe"].map((begins) =>
      words.findIndex((one) => one.startsWith(begins)),
    );
    for (const dead of ["dead one", "dead two"]) {
      expect(words.indexOf(dead)).toBeGreaterThan(dug ?? -1);
      expect(words.indexOf(dead)).toBeLessThan(mended ?? -1);
    }
  });

  it("splice the cable that comes first before the next is laid", () => {
    const words = together([cable("one", 1, ["H-1", "H-2"]), cable("two", 2, ["H-1", "H-2"])], false).map(
      (one) => one.words,
    );
    expect(words.filter((one) => /^(cut|lay|splice|close) /.test(one))).toEqual([
      ...["cut one", "cut two", "lay one", "splice one", "lay two", "splice two", "close one", "close two"],
    ]);
  });
});
