/**
 * A line of our own invention for jobs of mending: LIB/101 -- H-1 -- H-2 -- H-3 -- SCI/B01, each leg 100 m of pipe in which
 * the cable slides. F-050 has two tubes of 12; K-7 (priority 2) runs on 13-14 in the second. Crossing 3 m in each hole; 30 m
 * coiled in H-1, 44 m in H-2 and 40 m in H-3. Marks rise by metres from 1000.
 */
import { type CheckedPlant, checkedPlant } from "../check/campus.ts";

const duplex = (numbers: string) => [{ numbers, connector: "lc_duplex" }];
export const CROSSING_M = 3;
export const COILS_M = { "H-1": 30, "H-2": 44, "H-3": 40 } as const;

/** @param coils_m what is coiled in each hole */
export async function line(coils_m: Readonly<Record<keyof typeof COILS_M, number>> = COILS_M): Promise<CheckedPlant> {
  const plant = await checkedPlant();
  const { add, edit, run } = plant;
  await edit("plant", 1, { label_due: "none", port_labels: "none" });
  await add("building", { tag: "LIB", name: "Library" });
  await add("building", { tag: "SCI", name: "Science hall" });
  await add("space", { tag: "101", building_id: "LIB", kind: "telecom_room", reach_m: 6 });
  for (const tag of Object.keys(COILS_M))
    await add("space", {
      tag,
      kind: "hand_hole",
      reach_m: 8,
      crossing_m: CROSSING_M,
      inner_length_m: 2,
      inner_width_m: 2,
    });
  await add("space", { tag: "B01", building_id: "SCI", kind: "entrance_room", reach_m: 6 });
  const holes = ["LIB/101", "H-1", "H-2", "H-3", "SCI/B01"];
  for (let leg = 0; leg < 4; leg++) {
    const tag = `DB-${leg + 1}`;
    await add("pathway", {
      tag,
      from_space_id: holes[leg],
      to_space_id: holes[leg + 1],
      kind: "duct_bank",
      length_m: 100,
    });
    await add("conduit", { tag: "1", pathway_id: tag });
  }
  await add("firestop", { tag: "FS-1", pathway_id: "DB-4", made_on: "2020-01-01" });
  await add("cable_type", {
    tag: "LT-24",
    construction: "loose_tube",
    fibre_class: "os2",
    armour: "none",
    metal: "no",
    bend_radius_mm: 200,
  });
  const tubes = { kind: "tube", repeats: 2, strands: 12, coating_um: "250" };
  await add("unit_type", { cable_type_id: "LT-24", ordinal: 1, ...tubes });
  let mark = 1000;
  const way = (leg: number) => ({ way: { conduit: `DB-${leg}/1`, held: "loose", slides: "yes" } });
  const stops: object[] = [{ space: "LIB/101", mark_out: mark, ...way(1) }];
  for (const [index, [space, coil_m]] of Object.entries(coils_m).entries()) {
    mark += 100;
    const mark_in = mark;
    mark += CROSSING_M + coil_m;
    stops.push({ space, mark_in, mark_out: mark, storage: "coil", ...way(index + 2) });
  }
  stops.push({ space: "SCI/B01", mark_in: mark + 100 });
  await run("cable.enter", { tag: "F-050", type: "LT-24", mark_unit: "m", stops });
  await run("panel.enter", { tag: "A", space: "LIB/101", ports: duplex("01..12") });
  await run("panel.enter", { tag: "P", space: "SCI/B01", ports: duplex("01..12") });
  await run("strand.land", { strands: "F-050:1-24", ports: "LIB/101/A:01-12" });
  await run("strand.land", { strands: "F-050:1-24", ports: "SCI/B01/P:01-12" });
  await run("circuit.enter", { tag: "K-7", strands: 2, state: "in_service", priority: 2 });
  await run("circuit.assign", { circuit: "K-7", what: ["F-050:13-14"] });
  return plant;
}
