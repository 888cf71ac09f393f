/** `strandbook fitness`: a cable where it lies, and one before it is bought. */
import { describe, expect, it } from "vitest";
import type { FitnessAnswer, WouldFitAnswer } from "../../core/fitness/answer.ts";
import { GOOD, ground } from "../fitness/ground.ts";
import { cli } from "./support.ts";

async function plantFile(): Promise<string> {
  const plant = await ground();
  await plant.lay("F-1", { ...GOOD, armour: "metallic" }, "LIB/ER EN-1/1 MH-1", {
    stops: { 1: { metal: "unbonded" } },
  });
  await plant.close();
  return plant.path;
}

describe("strandbook fitness", () => {
  it("tells each verdict of a cable with source, records and what to do, as JSON and as a table", async () => {
    const file = await plantFile();
    const said = await cli(["fitness", file, "F-1", "--json"]);
    expect(said.code).toBe(0);
    const { verdicts } = said.json<FitnessAnswer>();
    expect(verdicts[0]).toMatchObject({
      rule: "metal",
      verdict: "does_not",
      fact: "The cable's metal is unbonded in `LIB`, at `F-1@1`.",
      records: [{ tag: "F-1@1" }, { tag: "LIB" }, { tag: "T-F-1" }],
      source: "NEC 770.93 and 770.100, from memory",
    });
    const { out } = await cli(["fitness", file, "F-1", "--at", "LIB"]);
    expect(out).toMatch(/does not fit +The cable's metal is unbonded in LIB, at F-1@1\./);
    expect(out).toMatch(/To do: Have it bonded or isolated there at once/);
    expect(out).toMatch(/licensed person decide/);
  });

  it("tells of a type over a chain of ways what to order", async () => {
    const file = await plantFile();
    const said = await cli(["fitness", file, "EN-1/1", "DB-1/2", "--type", "T-F-1", "--json"]);
    expect(said.json<WouldFitAnswer>()).toMatchObject({
      ways: [{ tag: "EN-1/1" }, { tag: "DB-1/2" }],
      order: { length_m: 304 },
    });
    const { out } = await cli(["fitness", file, "EN-1/1", "DB-1/2", "--type", "T-F-1"]);
    expect(out).toMatch(/; order 304\u202fm\./);
    expect(out).toMatch(/coiled in the hole +6 +MH-1/);
  });

  it("says what is wrong with the question", async () => {
    const file = await plantFile();
    expect(await cli(["fitness", file])).toMatchObject({ code: 2 });
    expect(await cli(["fitness", file, "F-1", "F-2"])).toMatchObject({ code: 2 });
    expect(await cli(["fitness", file, "EN-1", "--type", "T-F-1", "--at", "LIB"])).toMatchObject({ code: 2 });
    const unknown = await cli(["fitness", file, "F-9"]);
    expect(unknown.code).toBe(1);
    expect(unknown.notes).toMatch(/There is no cable or stop F-9; nearest/);
  });
});
