import { describe, expect, it } from "vitest";
import type { FitnessVerdict } from "../../core/fitness/answer.ts";
import { GOOD, type Ground, ground, type Values } from "./ground.ts";

const ARMOURED = { ...GOOD, armour: "metallic" };
const UNITS = { units: [{ kind: "tube", repeats: 1, strands: 2, coating_um: "250" }] };

const told = (verdicts: readonly FitnessVerdict[]) =>
  verdicts.map(({ verdict, fact, lacks }) => `${verdict}: ${fact} ${lacks.join()}`.trim());

/** Two armoured cables spliced to each other in a tray of MH-1, of whose case their stops say nothing. */
async function spliced(metal: Values = {}): Promise<Ground> {
  const plant = await ground();
  await plant.lay("F-1", ARMOURED, "LIB/ER EN-1/1 MH-1", { cable: UNITS });
  await plant.lay("F-2", ARMOURED, "MH-1 DB-1/1 MH-2", { cable: UNITS });
  await plant.run("closure.enter", { tag: "CL-1", space: "MH-1", trays: [{ numbers: "T1..T1", capacity: 12 }] });
  await plant.run("splice.range", { from: "F-1:1-2", to: "F-2:1-2", tray: "MH-1/CL-1/T1", first_place: 1 });
  await plant.edit("stop", "F-1@2", { closure_id: null, ...metal });
  return plant;
}

describe("armour at a case that the stop doesn't name", () => {
  it("is judged by the case in which its joints lie", async () => {
    const plant = await spliced();
    expect(told(await plant.of("F-1", "armour_at_case"))).toEqual([
      "does_not: At `MH-1/CL-1` the armour is neither carried through nor bonded on record (`F-1@2`).",
    ]);
    const carried = await spliced({ metal: "carried_through" });
    expect(told(await carried.of("F-1", "armour_at_case"))).toEqual([
      "fits: At `MH-1/CL-1` the armour is carried through.",
    ]);
  });

  it("is bonded where that case is", async () => {
    const plant = await spliced();
    await plant.add("busbar", { tag: "EB", space_id: "MH-1" });
    await plant.add("bond", { busbar_id: "MH-1/EB", closure_id: "MH-1/CL-1" });
    expect(told(await plant.of("F-1", "armour_at_case"))).toEqual(["fits: At `MH-1/CL-1` the armour is bonded."]);
  });

  it.each([
    ["whose case is said to be elsewhere", { space_id: "MH-2" }],
    ["whose case nobody placed", { space_id: null }],
  ])("can't be told of joints %s", async (_, values) => {
    const plant = await spliced();
    await plant.edit("closure", "MH-1/CL-1", values);
    expect(told(await plant.of("F-1", "armour_at_case"))).toEqual([
      "cannot_tell: The armour is cut at `F-1@2`; which case it enters there is not on record. the case it enters, of `F-1@2`",
    ]);
  });

  it("can't be told where the cable ends outdoors without joints, and is no question in a room or where it passes", async () => {
    const plant = await ground();
    await plant.lay("F-1", ARMOURED, "LIB/ER EN-1/1 MH-1 DB-1/1 MH-2");
    const found = await plant.of("F-1", "armour_at_case");
    expect(found.map(({ verdict, records }) => [verdict, records[0]?.tag])).toEqual([["cannot_tell", "F-1@3"]]);
  });
});
