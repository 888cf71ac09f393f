/** What a mend's steps say of coils before anything is pulled, and of seals that sheath is pulled through. */
import { describe, expect, it } from "vitest";
import { line } from "./line.ts";
import { at, carryOut, choose, planOf, rowsOf } from "./mending.ts";

describe("the steps", () => {
  it("begin with every coil that the plan rests on: those beside the break, and those that lend from farther off", async () => {
    const plant = await line();
    const job = await choose(plant, await planOf(plant, at("H-1")));
    // The remain from SCI lacks 51.4 m in H-1; H-2 lends 42 m or less of its 44, H-3 the rest.
    const lend = job.steps.flatMap(({ words }) => /^At (\S+) take/.exec(words)?.[1] ?? []);
    expect(lend).toEqual(["H-2", "H-3"]);
    expect(job.steps[0]?.words).toMatch(/^At H-1, H-2 and H-3 look at the coils of F-050;/);
  });

  it("seal what a piece was pulled through into a building, also where no seal is on record", async () => {
    const plant = await line();
    const job = await choose(plant, await planOf(plant, ({ kind }) => kind === "new_cable"));
    // DB-4 into SCI has a seal on record, DB-1 out of LIB none.
    const sealed = job.steps.filter(({ words }) => /^(Open seal|Seal what)/.test(words));
    expect(sealed.map(({ words, place }) => [words, place?.tag])).toEqual([
      [expect.stringMatching(/^Open seal DB-4\/FS-1 for F-051/), undefined],
      [expect.stringMatching(/^Seal what F-051 was pulled through at LIB\/101 by/), "LIB/101"],
    ]);
    const laid = job.steps.findIndex(({ words }) => words.startsWith("Lay F-051"));
    expect(job.steps.indexOf(sealed[1] as (typeof job.steps)[number])).toBeGreaterThan(laid);
  });

  it("open the seals of the leg that is cut for a piece from a new hole there, and none beyond where it ends", async () => {
    const plant = await line();
    await plant.add("firestop", { tag: "FS-2", pathway_id: "DB-2", made_on: "2020-01-01" });
    await plant.add("firestop", { tag: "FS-3", pathway_id: "DB-3", made_on: "2020-01-01" });
    // With 6 m left coiled in H-1 the remain from LIB reaches only a hole before the cut, and nothing is pulled.
    await plant.edit("stop", "F-050@2", { mark_out: 1109 });
    const plan = await planOf(
      plant,
      ({ kind, points }) =>
        kind === "two_points" && points[0]?.words.startsWith("a new hole") === true && points[1]?.words === "H-2",
    );
    const job = await choose(plant, plan);
    const opened = job.steps.flatMap(({ words }) => /^Open seal (\S+)/.exec(words)?.[1] ?? []);
    expect(opened).toEqual(["DB-2/FS-2"]);
  });

  it("open a seal that sheath is pulled through, and record that it was sealed again", async () => {
    const plant = await line();
    const job = await choose(plant, await planOf(plant, ({ kind }) => kind === "new_cable"));
    expect(job.steps.filter(({ words }) => words.startsWith("Open seal DB-4"))).toHaveLength(1);
    await carryOut(plant, job);
    expect(await rowsOf(plant, "select opened_on from firestop")).toEqual([{ opened_on: "2026-05-01" }]);
  });
});
