/**
 * What is wrong on the demo campus, on purpose: one slip or more for each rule, as crews make them. `faults.csv` tells each
 * in words; a test holds that list against what the checks find.
 */
import type { Crew } from "./crew.ts";

type Values = Readonly<Record<string, unknown>>;

export async function plantFaults(crew: Crew): Promise<void> {
  const edit = async (kind: string, address: string, values: Values): Promise<void> => {
    await crew.ask("record.edit", { kind, id: await crew.idOf(kind, address), values });
  };
  const add = (kind: string, values: Values) => crew.ask("record.add", { kind, values });
  const leg = async (from: string): Promise<number> => {
    const stop = await crew.idOf("stop", from);
    const found = await crew.ask<{ rows: { id: number }[] }>("record.window", {
      kind: "leg",
      sort: [],
      filters: [{ field: "from_stop_id", test: "is", value: stop }],
      offset: 0,
      limit: 1,
    });
    return found.rows[0]?.id as number;
  };
  const editLeg = async (from: string, values: Values) =>
    crew.ask("record.edit", { kind: "leg", id: await leg(from), values });

  crew.sitting("clerk", "2026-05-18", "entered in haste on a Friday");
  // Glass.
  await crew.ask("circuit.enter", {
    tag: "K-901",
    name: "crane camera, from a paper slip",
    strands: 1,
    state: "in_service",
  });
  await crew.ask("circuit.assign", { circuit: "K-901", what: ["F-001:5"], from_on: "2026-05-01", even_if_taken: true });
  await crew.ask("splice.range", { from: "F-006:13#1", to: "F-024:13", tray: "MH-07/CL-1/T3", even_if_taken: true });
  await add("splice", { a_section_id: "F-024:20#1", a_side: "A", b_section_id: "F-024:20#1", b_side: "B" });
  for (const side of ["A", "B"]) {
    await add("splice", { a_section_id: "F-024:21#1", a_side: side, b_section_id: "F-024:22#1", b_side: side });
  }
  await add("splice", {
    tray_id: "MH-04/CL-1/T3",
    place: 1,
    a_section_id: "F-024:23#1",
    a_side: "B",
    b_section_id: "F-024:24#1",
    b_side: "B",
  });
  await add("splice", {
    tray_id: "MH-06/CL-1/T1",
    place: 3,
    a_section_id: "F-024:14#1",
    a_side: "A",
    b_section_id: "F-024:15#1",
    b_side: "A",
  });
  await crew.ask("panel.enter", {
    tag: "Z",
    space: "NET/ER",
    ports: [{ numbers: "01..02", connector: "lc_duplex", positions: 2, polish: "upc" }],
  });
  await add("termination", { section_id: "F-022:5#1", side: "B", position_id: "NET/ER/Z:01#1", method: "pigtail" });
  await edit("tray", "HH-12/CL-1/T1", { capacity: 12 });

  // Cables.
  crew.sitting("clerk", "2026-05-19", "corrections from a phone call");
  await edit("stop", "F-005@3", { kind: "passing", mark_open_from: null, mark_open_to: null });
  await edit("section", "F-035:12#1", { b_stop_id: "F-022@1" });
  await edit("stop", "F-021@2", { kind: "end" });
  await edit("stop", "F-012@2", { mark_in: 980 });
  await edit("stop", "F-006@6", { mark_open_from: 1, mark_open_to: 2 });
  await edit("cable", "F-019", { mark_unit: null });
  await edit("cable", "F-035", { type_id: "CT-24" });
  await edit("strand", "F-035:2", { place: 1 });
  await edit("cable", "B-112", { life: "removed" });
  await crew.ask("cable.sever", { cable: "F-027", stop: "MH-07", cut: "1-12", stub_a: "yes", stub_b: "no" });
  await edit("strand", "F-002:40", { condition: "broken", condition_why: "bent in the ring at MH-08" });
  await edit("strand", "F-003:3", { condition: "broken", condition_why: "dark since the ice" });

  // Ways.
  await editLeg("F-029@1", { pathway_id: "EN-09", conduit_id: null });
  await add("leg", { from_stop_id: "F-030@1", to_stop_id: "F-030@3" });
  await editLeg("F-008@1", { conduit_id: "EN-04/2" });
  await editLeg("F-020@1", { pathway_id: null, conduit_id: null });
  await edit("pathway", "DB-18", { life: "removed" });
  await edit("conduit", "DB-13/1", { parent_id: "DB-13/2" });
  await edit("conduit", "DB-13/2", { parent_id: "DB-13/1" });
  await edit("conduit", "DB-12/1", { from_coupled_id: "DB-10/1" });

  // Ports and cords.
  crew.sitting("admin", "2026-05-20", "moves during the exam weeks");
  await crew.ask("cord.patch", { from: "LMP/ER/A:01", to: "LMP/ER/EDGE-1:47", tag: "C-0901", even_if_taken: true });
  await edit("port", "KLP/ER/A:01", { front: "empty" });
  await edit("port", "REF/ER/A:30", { front: "cord" });
  await add("cord", {
    tag: "C-0902",
    a_port_id: "BTS/ER/A:05",
    a_first: 1,
    b_port_id: "BTS/ER/A:05",
    b_first: 1,
    fibres: 2,
    map: "straight",
  });
  await add("cord", {
    tag: "C-0903",
    a_port_id: "PWR/ER/A:01",
    a_first: 1,
    b_port_id: "PWR/ER/SW-PWR:1",
    b_first: 1,
    fibres: 2,
    map: "straight",
  });
  await add("module_join", {
    module_id: "LMP/CR/K1",
    a_position_id: "LMP/CR/K1:1#1",
    a_side: "back",
    b_position_id: "LMP/CR/K2:6#2",
    b_side: "back",
  });
  await add("port", { tag: "X1" });
}
