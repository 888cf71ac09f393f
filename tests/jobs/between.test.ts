/** A cable of `line.ts` that is cut somewhere between H-1 and H-2, mended by a piece across all of it. */
import { describe, expect, it } from "vitest";
import type { Packet } from "../../core/jobs/packet.ts";
import { packetDocument } from "../../core/jobs/packet-document.ts";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { line } from "./line.ts";
import { carryOut, reaches, rowsOf } from "./mending.ts";

const CUT = { cable: "F-050", between: ["H-1", "H-2"] };
const planned = async (plant: CheckedPlant, more: object = {}, job = "J-1"): Promise<JobAnswer> => {
  await plant.run("job.plan_mend", { ...CUT, job, ...more });
  return plant.run<JobAnswer>("job.show", { job });
};

describe("a mend where nobody knows the place of the cut", () => {
  it("is carried out to the end: circuits are back, and the record contradicts nothing", async () => {
    const plant = await line();
    const job = await planned(plant);
    expect(job.review).toBe("Asked for again, its plan still holds.");
    await carryOut(plant, job);
    expect(await reaches(plant)).toBe(true);
    const { findings } = await plant.check({ families: ["truth"] });
    expect(findings.map(({ sentence }) => sentence)).toEqual([]);
  });

  it("records the cut without marks that nobody read, and the plan holds on", async () => {
    const plant = await line();
    const job = await planned(plant);
    await carryOut(plant, job, (words) => words.startsWith("Hang") || words.startsWith("Enter case"));
    const severed = job.steps.find(({ act }) => act === "cable.sever");
    expect(severed?.input).toEqual({ cable: "F-050", after: 2 });
    const [stop] = await rowsOf(plant, "select mark_open_from, mark_open_to from stop where kind = 'severed'");
    expect(stop).toEqual({ mark_open_from: null, mark_open_to: null });
    expect((await plant.run<JobAnswer>("job.show", { job: "J-1" })).review).not.toMatch(/has changed/);
  });

  it("says on the crew's paper that the place is not known, and no mark", async () => {
    const plant = await line();
    await planned(plant);
    const packet = await plant.run<Packet>("job.packet", { job: "J-1" });
    const words = JSON.stringify(packetDocument(packet, null, null));
    expect(words).toContain("not known when this was planned");
    expect(words).toMatch(/all 100.m between them/);
    expect(words).toContain('"at_m":null');
    expect(words).not.toContain("worked out from the marks beside it");
  });

  it("follows a temporary one", async () => {
    const plant = await line();
    await planned(plant, { plan: 1, replace_by: "2026-06-01" });
    const lasting = await planned(plant, { plan: 2, follows: "J-1" }, "J-2");
    expect(lasting.follows?.tag).toBe("J-1");
  });

  it("follows none that is lasting itself, was given up, or mends another cable", async () => {
    const plant = await line();
    await planned(plant, { plan: 1 });
    await planned(plant, { plan: 1, replace_by: "2026-06-01" }, "J-2");
    await plant.run("job.abandon", { job: "J-2" });
    await planned(plant, { plan: 1, replace_by: "2026-06-01" }, "J-3");
    const stops = ["LIB/101", "H-1", "H-2"].map((space, index) => ({ space, way: { conduit: `DB-${index + 1}/1` } }));
    await plant.run("cable.enter", { tag: "F-060", type: "LT-24", stops: [...stops.slice(0, 2), { space: "H-2" }] });
    const refused = (follows: string, question: object) =>
      plant.call("job.plan_mend", { ...question, job: "J-9", follows });
    const own = { cable: "F-050", after: "H-1", metres: 40 };
    for (const [follows, question, reason] of [
      ["J-1", own, "is no temporary job"],
      ["J-2", own, "was given up"],
      ["J-3", { cable: "F-060", after: "LIB/101", metres: 40 }, "mends F-050"],
    ] as const) {
      const problems = [{ field: "follows", record: follows, reason }];
      expect(await refused(follows, question)).toMatchObject({ error: { code: "not_possible", problems } });
    }
  });
});
