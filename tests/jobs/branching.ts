/**
 * To the line of `line.ts` comes ART/1, fed by F-070 out of the case H-2/CL-5: F-050:5-6 from LIB/101 are spliced to F-070:1-2
 * there, and what goes on of F-050:6 to SCI/B01 is spliced to F-070:3. K-9 (priority 1) runs LIB to ART on strand 5, K-10 from
 * ART to SCI on what goes on of 6.
 */
import type { CheckedPlant } from "../check/campus.ts";
import { line } from "./line.ts";

export async function branching(): Promise<CheckedPlant> {
  const plant = await line();
  const { add, run } = plant;
  await add("building", { tag: "ART", name: "Arts" });
  await add("space", { tag: "1", building_id: "ART", kind: "telecom_room", reach_m: 6 });
  await add("pathway", { tag: "DB-9", from_space_id: "H-2", to_space_id: "ART/1", kind: "duct_bank", length_m: 60 });
  await run("closure.enter", { tag: "CL-5", space: "H-2", trays: [{ numbers: "T1", capacity: 24 }] });
  await run("cable.open", {
    cable: "F-050",
    stop: "H-2",
    closure: "H-2/CL-5",
    cut: "5-6",
    stub_a: "yes",
    stub_b: "yes",
  });
  await run("cable.enter", {
    tag: "F-070",
    type: "LT-24",
    stops: [{ space: "H-2", closure: "H-2/CL-5", way: { pathway: "DB-9" } }, { space: "ART/1" }],
  });
  await run("panel.enter", { tag: "Q", space: "ART/1", ports: [{ numbers: "01..02", connector: "lc_duplex" }] });
  await run("strand.land", { strands: "F-070:1-4", ports: "ART/1/Q:01-02" });
  const measured = { tray: "H-2/CL-5/T1", loss_ab_db: 0.5, loss_basis: "one_way" };
  await run("splice.range", { from: "F-050:5-6#1", to: "F-070:1-2", from_end: "B", ...measured });
  await run("splice.range", { from: "F-050:6#2", to: "F-070:3", from_end: "A", ...measured });
  for (const [tag, priority, what] of [
    ["K-9", 1, ["F-050:5#1"]],
    ["K-10", 4, ["F-050:6#2"]],
  ] as const) {
    await run("circuit.enter", { tag, strands: 1, state: "in_service", priority });
    await run("circuit.assign", { circuit: tag, what });
  }
  return plant;
}

export const reachesFrom = async (plant: CheckedPlant, from: string, to: string): Promise<boolean> =>
  JSON.stringify(await plant.run<object>("trace.walk", { what: from })).includes(to);
export const K9 = ["LIB/101/A:03#1", "ART/1/Q:01"] as const;
export const K10 = ["ART/1/Q:02#1", "SCI/B01/P:03"] as const;
