/** What the record tells of a building once a piece was spliced beside its panel: neither glass nor a way in twice. */
import { describe, expect, it } from "vitest";
import type { FeedsAnswer } from "../../core/feeds/answer.ts";
import type { WaysInAnswer } from "../../core/impact/answer.ts";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { MendAnswer } from "../../core/repair/answer.ts";
import { line } from "./line.ts";
import { carryOut, choose, planOf, reaches } from "./mending.ts";

const besidePanel = ({ kind, points }: MendAnswer["plans"][number]): boolean =>
  kind === "two_points" && points[0]?.words.startsWith("LIB/101") === true && points[1]?.words === "H-2";

describe("a building in which a piece was spliced beside the panel", () => {
  it("is fed by as many strands as before, over the piece, and has the one way in that it had", async () => {
    const plant = await line();
    const fed = (): Promise<FeedsAnswer> => plant.run("feeds.of", { what: "LIB" });
    const ways = async () => {
      const { buildings } = await plant.run<WaysInAnswer>("impact.ways_in", {});
      const { single_points, unknown } = buildings.find(({ building }) => building.tag === "LIB") ?? {};
      return { through: single_points?.map(({ tag }) => tag), unknown };
    };
    const [before, through] = [await fed(), await ways()];
    expect(through.through).toContain("DB-2");
    await carryOut(plant, await choose(plant, await planOf(plant, besidePanel)));
    const after = await fed();
    expect(after.cables.map(({ cable }) => cable.tag)).toEqual(["F-051"]);
    expect([after.total, after.counts, after.inside]).toEqual([before.total, before.counts, before.inside + 1]);
    // The piece is one more thing that all glass lies in.
    const now = await ways();
    expect({ ...now, through: now.through?.filter((tag) => tag !== "F-051") }).toEqual(through);
  });

  it("is told of a sheath that still runs between two severed stops, though its way isn't on record", async () => {
    const plant = await line();
    await carryOut(plant, await choose(plant, await planOf(plant, besidePanel)));
    // One strand runs on through what was thought to be gone: there is a way, and nobody knows which.
    const [section] = await plant.store.read((reader) =>
      reader.rows<{ id: number; b: number }>(
        `select s.id, (select id from stop where cable_id = t.cable_id order by ordinal desc limit 1) as b
         from section s join strand t on t.id = s.strand_id join cable c on c.id = t.cable_id
         where c.tag = 'F-050' and t.number = 24 and s.ordinal = 1`,
      ),
    );
    await plant.edit("section", section?.id ?? 0, { b_stop_id: section?.b ?? 0 });
    const { buildings } = await plant.run<WaysInAnswer>("impact.ways_in", {});
    expect(buildings.find(({ building }) => building.tag === "LIB")?.unknown.join()).toMatch(/The way of F-050/);
  });
});

describe("what became of a dead length", () => {
  it("can be left out by whoever doesn't know, and the marks be entered", async () => {
    const plant = await line();
    const job = await choose(plant, await planOf(plant, besidePanel));
    const dead = job.steps.filter(({ act }) => act === "cable.dead_length");
    expect(dead.length).toBeGreaterThan(0);
    await carryOut(plant, job, (words) => words === dead[0]?.words);
    for (const { ordinal } of dead) await plant.run("job.do", { job: "J-1", step: ordinal, skip: true });
    await carryOut(plant, { ...job, steps: job.steps.filter(({ ordinal }) => ordinal > (dead.at(-1)?.ordinal ?? 0)) });
    expect(await plant.run("job.show", { job: "J-1" })).toMatchObject({
      state: "done",
      left_out: { steps: dead.map(({ ordinal }) => ordinal) },
    });
  });
});

describe("a mend that is given up after its ends were brought to their cases", () => {
  it("says what stays down and how it goes on, and so does who asks for another; undone, it is carried to its end", async () => {
    const plant = await line();
    const job = await choose(plant, await planOf(plant, besidePanel));
    await carryOut(plant, job, (words) => words.startsWith("Splice "));
    const { notices } = await plant.run<{ notices: string[] }>("job.abandon", { job: "J-1" });
    expect(notices).toEqual([
      expect.stringMatching(/^\d+ steps were done/),
      "K-7 stays down: its glass ends at a cut.",
      "The ends of F-050 were brought to where they are to be spliced, and no other mend is planned from there: undo this, and carry J-1 on.",
    ]);
    for (const asked of [{}, { after: "F-050@2" }]) {
      const message = expect.stringMatching(/^F-050 is parted between .*: J-1 brought its ends there .* carry it on\./);
      expect(await plant.call("mend.plans", { cable: "F-050", ...asked })).toMatchObject({ error: { message } });
    }
    await plant.run("history.undo", {});
    const { steps } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    await carryOut(plant, { ...job, steps: steps.filter(({ state }) => state === "open") });
    expect(await reaches(plant)).toBe(true);
  });

  it("says nothing of that where nothing was done but looking", async () => {
    const plant = await line();
    const job = await choose(plant, await planOf(plant, besidePanel));
    await carryOut(plant, job, (words) => words.startsWith("Record that "));
    const { notices } = await plant.run<{ notices: string[] }>("job.abandon", { job: "J-1" });
    expect(notices).toEqual([expect.stringMatching(/ steps were done/)]);
  });
});
