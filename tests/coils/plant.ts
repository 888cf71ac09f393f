/**
 * A plant for the study of coils, in round numbers: a splice takes 10 m of each side, a cut 1 m, and nothing must stay. The
 * kind of no way is on record, so that no tension of a pull is reckoned and a hole can be dug beside it.
 *
 *   LIB/101 --100 m-- HH-1 --200 m-- SCI/B01     F-1: 11 m coiled at LIB/101, none at HH-1, 4 m at SCI/B01; slides
 *   LIB/102 -- 90 m-- HH-1                       F-2: no marks at all
 */
import { type CheckedPlant, checkedPlant } from "../check/campus.ts";

export async function coiled(): Promise<CheckedPlant> {
  const plant = await checkedPlant();
  const { add, edit, run, id } = plant;
  await edit("plant", 1, { label_due: "none", port_labels: "none" });
  const limits = {
    keep_m: 0,
    preparation_m: 0,
    reach_outdoors_m: 10,
    reach_indoors_m: 10,
    lost_m: 1,
    coil_most_indoors_m: 30,
  };
  for (const [name, value] of Object.entries(limits))
    await add("limit_value", { tag: `repair.${name}`, value, unit: "m", reason: "round numbers" });
  for (const tag of ["LIB", "SCI"]) await add("building", { tag });
  for (const [tag, building_id] of [
    ["101", "LIB"],
    ["102", "LIB"],
    ["B01", "SCI"],
  ])
    await add("space", { tag, building_id, kind: "telecom_room" });
  await add("space", { tag: "HH-1", kind: "hand_hole", crossing_m: 2 });
  for (const [tag, from_space_id, to_space_id, length_m] of [
    ["BE-1", "LIB/101", "HH-1", 100],
    ["DB-1", "HH-1", "SCI/B01", 200],
    ["BE-2", "LIB/102", "HH-1", 90],
  ])
    await add("pathway", { tag, from_space_id, to_space_id, length_m });
  const units = [{ kind: "tube", repeats: 1, strands: 12, coating_um: "250" }];
  await run("cable.enter", {
    tag: "F-1",
    units,
    mark_unit: "m",
    stops: [
      { space: "LIB/101", mark_open_from: 989, mark_out: 1000, way: { pathway: "BE-1" } },
      { space: "HH-1", mark_in: 1100, mark_out: 1102, way: { pathway: "DB-1" } },
      { space: "SCI/B01", mark_in: 1302, mark_open_to: 1306 },
    ],
  });
  await run("cable.enter", {
    tag: "F-2",
    units,
    stops: [{ space: "LIB/102", way: { pathway: "BE-2" } }, { space: "HH-1" }],
  });
  for (const ordinal of [1, 2]) await edit("leg", await legFrom(id, "F-1", ordinal), { slides: "yes" });
  await run("circuit.enter", { tag: "K-1", strands: 2, state: "in_service", priority: 2 });
  await run("circuit.assign", { circuit: "K-1", what: ["F-1:1-2"] });
  await run("circuit.enter", { tag: "K-2", strands: 1, state: "in_service", priority: 1, rides_on: "K-1" });
  await run("circuit.enter", { tag: "K-3", strands: 1, state: "in_service" });
  await run("circuit.assign", { circuit: "K-3", what: ["F-2:1"] });
  return plant;
}

export const legFrom = (id: CheckedPlant["id"], cable: string, ordinal: number): Promise<number> =>
  id(
    "select l.id from leg l join stop s on s.id = l.from_stop_id join cable c on c.id = s.cable_id where c.tag = ? and s.ordinal = ?",
    cable,
    ordinal,
  );
