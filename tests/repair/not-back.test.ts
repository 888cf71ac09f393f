/** Circuits whose glass ended before the cut: a mend of the cut is no mend of those, and the answer says so. */
import { describe, expect, it } from "vitest";
import type { MendAnswer } from "../../core/repair/answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { rowsOf } from "../jobs/mending.ts";
import { opened } from "../jobs/opened-line.ts";

const CUT = { cable: "F-050", after: "H-2", metres: 40, lost_left_m: 1, lost_right_m: 1 };

async function notLanded(plant: CheckedPlant, cable: string, number: number, side: "A" | "B" = "B") {
  const [row] = await rowsOf(
    plant,
    `select x.id from termination x join section s on s.id = x.section_id join strand t on t.id = s.strand_id
       join cable c on c.id = t.cable_id where c.tag = '${cable}' and t.number = ${number} and x.side = '${side}'`,
  );
  await plant.edit("termination", Number(row?.id), { life: "removed" });
}

describe("a cut of glass that was joined to nothing at its other end", () => {
  it("is told with the circuits that no way brings back, and where their glass ends", async () => {
    const plant = await opened();
    await plant.run("splice.reopen", { strands: "F-050:13-14", stop: "H-2" });
    const { circuits, not_back, sentence } = await plant.run<MendAnswer>("mend.plans", CUT);
    expect(circuits.map(({ circuit }) => circuit.tag)).toEqual(["K-7"]);
    expect(not_back).toMatchObject([
      { circuit: { tag: "K-7" }, words: "F-050:13 is joined to nothing at H-2 on record" },
    ]);
    expect(sentence).toContain("No way brings back K-7, for F-050:13 is joined to nothing at H-2 on record.");
  });

  it("is told wherever along its way the glass ends, and stands on the job's paper", async () => {
    const plant = await opened();
    await plant.run("circuit.enter", { tag: "K-8", strands: 1, state: "in_service" });
    await plant.run("circuit.assign", { circuit: "K-8", what: ["F-050:1#2"] });
    await notLanded(plant, "L-9", 1);
    const words = "L-9:1 is joined to nothing at LIB/101 on record";
    const { not_back } = await plant.run<MendAnswer>("mend.plans", CUT);
    expect(not_back).toMatchObject([{ circuit: { tag: "K-8" }, words }]);
    await plant.run("job.plan_mend", { ...CUT, job: "J-1" });
    const paper = JSON.stringify(await plant.run<object>("job.print", { job: "J-1" }));
    expect(paper).toContain("Not brought back");
    expect(paper).toContain(`K-8: ${words}`);
  });

  it("is told on either side of a cut that is on record and waits", async () => {
    const plant = await opened();
    await notLanded(plant, "F-050", 13, "B");
    await plant.run("cable.sever", { cable: "F-050", after: "H-2" });
    const { not_back } = await plant.run<MendAnswer>("mend.plans", CUT);
    expect(not_back).toMatchObject([
      { circuit: { tag: "K-7" }, words: "F-050:13 is joined to nothing at SCI/B01 on record" },
    ]);
  });

  it("is not said where the glass goes on, nor of a cut that is on record and waits", async () => {
    const plant = await opened();
    expect((await plant.run<MendAnswer>("mend.plans", CUT)).not_back).toEqual([]);
    await plant.run("cable.sever", { cable: "F-050", after: "H-2" });
    const waiting = await plant.run<MendAnswer>("mend.plans", CUT);
    expect(waiting.circuits.map(({ circuit }) => circuit.tag)).toEqual(["K-7"]);
    expect(waiting.not_back).toEqual([]);
  });
});
