/**
 * The line of `line.ts` with its cable opened in H-2: F-050:13-14 are cut and spliced to themselves there, and 1-2 beyond it go
 * on in L-9, which begins in that case and ends at a panel of LIB/101.
 */
import type { CheckedPlant } from "../check/campus.ts";
import { line } from "./line.ts";

/** @param tray_capacity splices that each of the case's two trays takes */
export async function opened(tray_capacity = 24): Promise<CheckedPlant> {
  const plant = await line();
  await plant.run("closure.enter", {
    tag: "CL-9",
    space: "H-2",
    trays: [{ numbers: "T1..T2", capacity: tray_capacity }],
  });
  await plant.run("cable.open", {
    cable: "F-050",
    stop: "H-2",
    closure: "H-2/CL-9",
    cut: "1-2,13-14",
    stub_a: "yes",
    stub_b: "yes",
  });
  await plant.run("splice.close", { strands: "F-050:13-14", stop: "H-2", tray: "H-2/CL-9/T1" });
  await plant.run("cable.enter", {
    tag: "L-9",
    type: "LT-24",
    stops: [
      { space: "H-2", closure: "H-2/CL-9", way: { pathway: "DB-2" } },
      { space: "H-1", way: { pathway: "DB-1" } },
      { space: "LIB/101" },
    ],
  });
  await plant.run("panel.enter", { tag: "L", space: "LIB/101", ports: [{ numbers: "01", connector: "lc_duplex" }] });
  await plant.run("strand.land", { strands: "L-9:1-2", ports: "LIB/101/L:01", end: "B" });
  await plant.run("splice.range", { from: "F-050:1-2#2", to: "L-9:1-2", tray: "H-2/CL-9/T1" });
  return plant;
}
