/** Circuits whose glass ended before the cut: a mend of the cut is no mend of those, and the answer says so. */
import { describe, expect, it } from "vitest";
import type { MendAnswer } from "../../core/repair/answer.ts";
import { opened } from "../jobs/opened-line.ts";

const CUT = { cable: "F-050", after: "H-2", metres: 40, lost_left_m: 1, lost_right_m: 1 };

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

  it("is not said where the glass goes on, nor of a cut that is on record and waits", async () => {
    const plant = await opened();
    expect((await plant.run<MendAnswer>("mend.plans", CUT)).not_back).toEqual([]);
    await plant.run("cable.sever", { cable: "F-050", after: "H-2" });
    const waiting = await plant.run<MendAnswer>("mend.plans", CUT);
    expect(waiting.circuits.map(({ circuit }) => circuit.tag)).toEqual(["K-7"]);
    expect(waiting.not_back).toEqual([]);
  });
});
