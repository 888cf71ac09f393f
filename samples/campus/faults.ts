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
  await crew.ask("splice.swap", { one: "F-031:47#1", other: "F-031:48#1", at: "HH-12" });

  // Cables.
  crew.sitting("clerk", "2026-05-19", "corrections from a phone call");
  await edit("stop", "F-005@3", { kind: "passing", mark_open_from: null, mark_open_to: null });
  await edit("section", "F-035:12#1", { b_stop_id: "F-022@1" });
  await edit("stop", "F-021@2", { kind: "end" });
  await edit("stop", "X-301@2", { space_id: null });
  await edit("stop", "F-012@2", { mark_in: 980 });
  await edit("stop", "F-006@6", { mark_open_from: 8604, mark_open_to: 8606 });
  await edit("cable", "F-019", { mark_unit: null });
  await edit("cable", "F-035", { type_id: "CT-24" });
  await edit("strand", "F-035:2", { place: 1 });
  await edit("strand", "B-103:12", { number: 21 });
  await edit("cable", "B-112", { life: "removed" });
  await crew.ask("cable.sever", { cable: "F-027", stop: "MH-07", cut: "17-24", stub_a: "yes", stub_b: "no" });
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
  await crew.ask("cord.patch", { from: "LMP/ER/A:04", to: "LMP/ER/EDGE-1:47", tag: "C-0901", even_if_taken: true });
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
  await crew.ask("cord.patch", {
    from: "GLS/ER/SW-GLS:4",
    to: "WAV/ER/SW-WAV:4",
    tag: "C-0904",
    map: "crossed",
  });
  await crew.ask("cord.patch", { from: "LMP/CR/CORE-1:1/14", to: "LMP/ER/EDGE-1:24", tag: "C-0905" });
  await add("module_join", {
    module_id: "LMP/CR/K1",
    a_position_id: "LMP/CR/K1:1#1",
    a_side: "back",
    b_position_id: "LMP/CR/K2:6#2",
    b_side: "back",
  });
  await add("port", { tag: "X1" });
  await add("port", { tag: "03", panel_id: "NET/ER/Z", connector: "lc_duplex" });

  await plantCircuitFaults(crew, add);
  await plantLabelFaults(crew, edit);
}

async function plantCircuitFaults(crew: Crew, add: (kind: string, values: Values) => Promise<unknown>): Promise<void> {
  crew.sitting("admin", "2026-06-08", "circuits moved over from the old list");
  const enter = (tag: string, values: Values) =>
    crew.ask("circuit.enter", { tag, strands: 1, state: "in_service", application: "1000BASE-LX", ...values });
  const assign = (circuit: string, what: string, values: Values = {}) =>
    crew.ask("circuit.assign", { circuit, what: [what], from_on: "2026-06-01", set_ends: false, ...values });
  await enter("K-902", { name: "tide gauge", a_port: "TID/ER/A:12", z_port: "KLP/ER/A:60" });
  await assign("K-902", "F-007:23");
  await enter("K-903", { name: "lamp control, glass not known", a_port: "LMP/ER/A:70", z_port: "BKR/ER/A:70" });
  await enter("K-904", {
    name: "tide data by assumed cords",
    a_port: "LMP/ER/EDGE-1:40",
    z_port: "TID/ER/SW-TID:1",
    strands: 2,
  });
  await assign("K-904", "F-007:25-26", { roles: ["transmit", "receive"] });
  await enter("K-905", { name: "crane telephone, ends not noted" });
  await assign("K-905", "F-012:21");
  await enter("K-906", { name: "loop test", a_port: "NET/ER/A:12", z_port: "NET/ER/A:12", state: "planned" });
  await enter("K-907", { name: "north ring, upper half", state: "planned" });
  await enter("K-908", { name: "north ring, lower half", state: "planned", rides_on: "K-907" });
  const upper = await crew.idOf("circuit", "K-907");
  await crew.ask("record.edit", { kind: "circuit", id: upper, values: { rides_on_id: "K-908" } });
  await enter("K-909", { name: "pier lights", state: "reserved", reserved_until: "2025-12-31" });
  await add("assignment", { circuit_id: "K-010", section_id: "F-004:96#1", role: "both", from_on: "2026-06-01" });
  // The glass it is given was opened in MH-06, and nothing joins it on that side.
  const line = await crew.ask<{ from: { record: { tag: string } }; to: { record: { tag: string } } }>("trace.walk", {
    what: "F-005:52#2",
  });
  const port = [line.from, line.to].map(({ record }) => record.tag).find((tag) => tag.startsWith("SLT/ER"));
  await enter("K-913", { name: "fume alarm", a_port: "BKR/ER/A:70", z_port: port?.replace(/#.*/, "") });
  await assign("K-913", "F-005:52#2");
  // Two circuits that share a strand by design: one rides on the other, and two bands of one strand.
  await enter("K-910", { name: "time signal, rides on K-005", rides_on: "K-005" });
  await crew.ask("circuit.assign", { circuit: "K-910", what: ["F-001:9"], from_on: "2026-06-01", even_if_taken: true });
  for (const [tag, band] of [
    ["K-911", "1260-1360"],
    ["K-912", "1530-1565"],
  ] as const) {
    await enter(tag, { name: `two bands on one strand, ${band} nm` });
    await crew.ask("circuit.assign", {
      circuit: tag,
      // By the risers at both ends.
      what: ["B-102:23", "F-001:141", "B-105:23"],
      band,
      from_on: "2026-06-01",
      even_if_taken: true,
    });
  }

  await add("measurement", {
    tag: "M-0001",
    method: "otdr",
    subject_kind: "strand",
    subject_id: "F-013:1",
    wavelength_nm: 1310,
    length_m: 612,
    group_index: 1.4677,
    measured_on: "2026-05-27",
    measured_by: "crew 1",
    basis: "measured",
  });
  for (const [tag, strand, length_m, loss_db] of [
    ["M-0002", "F-001:1", 176, 0.31],
    ["M-0003", "F-001:2", 176, 0.29],
    ["M-0004", "F-004:1", 0, 0.4],
  ] as const) {
    await add("measurement", {
      tag,
      method: "source_meter",
      subject_kind: "strand",
      subject_id: strand,
      wavelength_nm: 1310,
      direction: "both",
      reference_method: "one_cord",
      loss_db,
      ...(length_m ? { length_m } : {}),
      cords_included: "no",
      measured_on: "2026-05-27",
      measured_by: "crew 1",
      basis: "measured",
    });
  }
  for (const [ordinal, kind, distance_m, loss_db] of [
    [1, "launch", 0, null],
    [2, "loss", 311.5, 0.08],
    [3, "end", 612, null],
  ] as const) {
    await add("measurement_event", { measurement_id: "M-0001", ordinal, kind, distance_m, loss_db });
  }
  await add("job", {
    tag: "J-7",
    reason: "second way into the Refectory",
    state: "agreed",
    people: "O. Marrin",
    starts_on: "2026-09-01",
    lasting: "permanent",
  });
  await add("job_step", { job_id: "J-7", ordinal: 1, act: "prove the pipes of DB-16" });
  await add("job_step", { job_id: "J-7", ordinal: 2, act: "lay F-036 from REF/ER to MH-07" });
  await add("diversity", { circuit_id: "K-001", other_id: "K-006" });
  for (const stop of ["F-013@1", "F-001@1"]) {
    await add("bond", {
      busbar_id: "LMP/ER/EB",
      stop_id: stop,
      conductor: "6 AWG copper",
      tested_on: "2026-02-02",
      resistance_ohm: 0.2,
      basis: "measured",
    });
  }

  crew.sitting("clerk", "2026-06-09", "drawing register");
  const cable = await crew.idOf("cable", "F-014");
  await crew.ask("record.edit", {
    kind: "cable",
    id: cable,
    values: { life_from: "2004-10-02", life_until: "2004-01-02" },
  });
  await add("cable", { tag: "F 011", name: "typed from a worn label", life: "in_stock", notes: "Probably F-011." });
  await add("space", {
    tag: "T1",
    building_id: "INF",
    kind: "telecom_room",
    name: "closet before the rebuilding",
    life: "removed",
  });
  await add("panel", { tag: "A", space_id: "INF/T1", notes: "Taken out with the closet?" });
  await add("closure", { tag: "CL-9", space_id: "MH-10", kind: "dome", life: "removed" });
  await add("tray", { tag: "T1", closure_id: "MH-10/CL-9", capacity: 12, life: "in_place" });
  await add("strand", { cable_id: "F-035", number: 13 });
}

async function plantLabelFaults(
  crew: Crew,
  edit: (kind: string, address: string, values: Values) => Promise<void>,
): Promise<void> {
  crew.sitting("clerk", "2026-06-22", "label round of summer");
  const [plant] = (
    await crew.ask<{ rows: { id: number }[] }>("record.window", {
      kind: "plant",
      sort: [],
      filters: [],
      offset: 0,
      limit: 1,
    })
  ).rows;
  await crew.ask("record.edit", {
    kind: "plant",
    id: plant?.id,
    values: {
      old_label_patterns: { cable: ["{tag} / {strands}"] },
      authority: "Harbour Authority, works desk; island building code",
    },
  });
  const sight = (subject: string, space: string, values: Values) =>
    crew.ask("label.sight", { subject, kind: "cable", space, seen_on: "2026-06-20", seen_by: "crew 2", ...values });
  await sight("F-003", "KLP/ER", { state: "missing" });
  await sight("F-004", "WAV/ER", { state: "illegible" });
  await sight("F-005", "SLT/ER", { state: "wrong", text_read: "F-050\n96 strands\nBKR/ER to SLT/ER" });
  await sight("F-006", "REF/ER", { state: "present", text_read: "F-019\n72 strands, G.657.A2\nLMP/ER to REF/ER" });
  await sight("F-007", "TID/ER", { state: "present", text_read: "f-007 / 48" });
  await crew.ask("record.add", {
    kind: "label",
    values: { subject_kind: "port", subject_id: "NET/ER/Z:01", text: "NET Z 10" },
  });
  await crew.ask("panel.renumber", { panel: "TID/ER/C", tag: "CC" });
  crew.sitting("clerk", "2026-10-26", "panel moved up by one letter");
  await crew.ask("panel.renumber", { panel: "RSS/ER/A", tag: "AA" });
  await edit("party", "WEATHER", { notes: "Asked for a second strand in May." });
}
