/**
 * A digger cuts what isn't ours too. In W-2 of `line.ts` F-101 belongs to the Outer Isles Exchange; F-100 is the plant's own.
 */
import { describe, expect, it } from "vitest";
import type { MendWhole } from "../../core/repair/answer.ts";
import type { MendSeveralAnswer } from "../../core/repair/several-answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { line } from "./line.ts";

const CALL = { contact_day: "ext. 7", contact_night: "harbour watch" };

async function shared(owner: object = CALL): Promise<CheckedPlant> {
  const plant = await line();
  await plant.add("party", { tag: "ISLES", name: "Outer Isles Exchange", role: "carrier", ...owner });
  await plant.edit("cable", "F-101", { owner_id: "ISLES" });
  return plant;
}
const mendOf = (plant: CheckedPlant) => plant.run<MendWhole>("mend.plans", { cable: "F-101", after: "H-1" });
const several = (plant: CheckedPlant) => plant.run<MendSeveralAnswer>("mend.several", { of: ["W-2"] });
const tags = (all: readonly { readonly cable: { readonly tag: string } }[]): string[] =>
  all.map(({ cable }) => cable.tag);

describe("another's cable that is cut", () => {
  it("has no ways: whom to call stands first, with day and night", async () => {
    const answer = await mendOf(await shared());
    expect(answer.plans).toEqual([]);
    expect(answer.theirs).toMatchObject({ party: { tag: "ISLES" }, day: "ext. 7", night: "harbour watch" });
    expect(answer.sentence).toBe(
      "F-101 belongs to Outer Isles Exchange (ISLES): they mend it, and nobody else opens it without their leave; call them first: by day ext. 7, by night harbour watch. F-101 is cut somewhere on the 150\u202fm between H-1 and H-2: no circuit is on it.",
    );
    expect(answer.temporary).toMatchObject({ plan: null, way: null });
  });

  it("says that nobody recorded how they are reached", async () => {
    const { sentence } = await mendOf(await shared({}));
    expect(sentence).toContain("call them first, though how to reach them is not on record.");
  });

  it("still names them where a length lacks without which nothing could be planned", async () => {
    const plant = await shared();
    for (const stop of [1, 2, 3, 4])
      await plant.edit("stop", `F-101@${stop}`, {
        mark_in: null,
        mark_open_from: null,
        mark_open_to: null,
        mark_out: null,
      });
    await plant.edit("pathway", "W-3", { length_m: null });
    const reply = await plant.call("mend.plans", { cable: "F-101", after: "H-1" });
    expect(reply).toMatchObject({
      ok: false,
      error: { message: expect.stringMatching(/^F-101 belongs to Outer Isles/) },
    });
    expect(tags((await several(plant)).theirs)).toEqual(["F-101"]);
  });

  it("is ours to mend where the plant itself keeps it, and another's where that one does", async () => {
    const plant = await shared();
    await plant.add("party", { tag: "US", role: "self" });
    await plant.edit("cable", "F-101", { kept_by_id: "US" });
    const ours = await mendOf(plant);
    expect([ours.theirs, ours.plans.length > 0]).toEqual([null, true]);
    await plant.add("party", { tag: "KEEPERS", role: "contractor", contact_night: "slip 4" });
    await plant.edit("cable", "F-101", { kept_by_id: "KEEPERS" });
    expect((await mendOf(plant)).sentence).toMatch(
      /^F-101 belongs to ISLES and is kept by KEEPERS: they mend it.*: by day not on record, by night slip 4\./,
    );
  });

  it("makes no job", async () => {
    const plant = await shared();
    const reply = await plant.call("job.plan_mend", { cable: "F-101", after: "H-1", job: "J-1" });
    expect(reply).toMatchObject({
      ok: false,
      error: { code: "not_possible", problems: [{ field: "cable", record: "F-101", reason: "is not ours to mend" }] },
    });
  });
});

describe("a way in which another's cable is cut with ours", () => {
  it("tells it first and ranks ours alone, whatever is at stake on it", async () => {
    const plant = await shared();
    await plant.run("circuit.enter", { tag: "K-9", strands: 2, state: "in_service", priority: 1 });
    await plant.run("circuit.assign", { circuit: "K-9", what: ["F-101:1-2"] });
    const answer = await several(plant);
    expect([tags(answer.cuts), tags(answer.theirs), answer.refused]).toEqual([["F-100"], ["F-101"], []]);
    expect(answer.theirs[0]?.circuits.map(({ circuit }) => circuit.tag)).toEqual(["K-9"]);
    expect(answer.circuits.map(({ circuit }) => circuit.tag)).toContain("K-9");
    expect(answer.sentence).toMatch(
      /^With W-2, 2 cables are cut and 3 circuits are down\. F-101 belongs to .*harbour watch\. Where is not known: .*\. Of ours begin with F-100: /,
    );
    expect(tags(answer.together)).toEqual(["F-100"]);
    expect(answer.shared).toEqual([]);
  });

  it("leaves it out of the job for all, and refuses one for it alone", async () => {
    const plant = await shared();
    await plant.run("job.plan_mends", { of: ["W-2"], job: "J-1" });
    const packet = await plant.run<{ left_out: { cable: { tag: string }; reason: string }[]; mends: unknown[] }>(
      "job.packet",
      { job: "J-1" },
    );
    expect(tags(packet.left_out)).toEqual(["F-101"]);
    expect(packet.left_out[0]?.reason).toContain("by night harbour watch");
    expect(packet.mends).toHaveLength(1);
    const alone = await plant.call("job.plan_mends", { of: ["W-2/2"], job: "J-2" });
    expect(alone).toMatchObject({ ok: false, error: { code: "not_possible" } });
  });
});
