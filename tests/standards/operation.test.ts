import { describe, expect, it } from "vitest";
import type { ColoursAnswer } from "../../core/operations/subjects/standards.ts";
import { Refusal } from "../../core/result.ts";
import { newPlant } from "../support/plant.ts";

describe("the colours of a sequence", () => {
  it("come with their words, codes and source", async () => {
    const plant = await newPlant();
    const answer = await plant.run<ColoursAnswer>("standards.colours", { sequence: "tia_598", count: 13 });
    expect(answer.label).toBe("TIA-598");
    expect(answer.colours[12]).toEqual({
      position: 13,
      name: "blue",
      code: "BL",
      mark: { kind: "stripe", count: 1, colour: "black" },
      words: "blue, one stripe",
      short: "BL+1",
    });
    expect(answer.source).toMatch(/TIA-598-C.*\(read in the source\)/);
    expect(answer.beyond).toMatch(/one black stripe more for each dozen/);
  });
  it("say where no rule beyond twelve was found", async () => {
    const plant = await newPlant();
    const french = await plant.run<ColoursAnswer>("standards.colours", { sequence: "french", count: 24 });
    expect(french.beyond).toMatch(/No rule for positions after 12 was found.*\(from memory\)/);
    const ringed = await plant.run<ColoursAnswer>("standards.colours", { sequence: "iec_60304", count: 36 });
    expect(ringed.beyond).toMatch(/; positions after 24 go on the same way \(worked out\)$/);
    const twelve = await plant.run<ColoursAnswer>("standards.colours", { sequence: "french" });
    expect(twelve.colours).toHaveLength(12);
    expect(twelve.beyond).toBeNull();
  });
  it("of a list of one's own are what it says, without a source", async () => {
    const plant = await newPlant();
    const answer = await plant.run<ColoursAnswer>("standards.colours", {
      sequence: "explicit",
      count: 3,
      explicit: ["natural", "BL"],
    });
    expect(answer.colours.map(({ words }) => words)).toEqual(["natural", "blue", null]);
    expect(answer.source).toBeNull();
  });
  it("of a list that isn't there, and of no positions, are refused", async () => {
    const plant = await newPlant();
    await expect(plant.run("standards.colours", { sequence: "explicit" })).rejects.toThrow(Refusal);
    await expect(plant.run("standards.colours", { sequence: "tia_598", count: 0 })).rejects.toThrow(Refusal);
  });
});
