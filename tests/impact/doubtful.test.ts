/** Records that contradict each other: what may be lost is told as lost. */
import { expect, it } from "vitest";
import type { ImpactAnswer } from "../../core/impact/answer.ts";
import { campus } from "../check/campus.ts";

it("a cable whose leg names one way and whose pipe lies in another is lost with either", async () => {
  const plant = await campus();
  const leg = await plant.id(
    "select l.id from leg l join stop s on s.id = l.from_stop_id join cable c on c.id = s.cable_id where c.tag = 'F-021'",
  );
  const cables = async (way: string) =>
    (await plant.run<ImpactAnswer>("impact.of", { what: [way] })).cables.map(({ cable }) => cable.tag);
  expect(await cables("DB-1")).toEqual(["F-014"]);
  await plant.edit("leg", leg, { conduit_id: "DB-1/2" });
  expect([await cables("DB-1"), await cables("BE-2")]).toEqual([["F-014", "F-021"], ["F-021"]]);
});
