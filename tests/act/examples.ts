/**
 * One example of each act, on a plant made by operations alone: how to set it up, a call that succeeds and one that is
 * refused. `SETUP` is carried out in order; each example then stands by itself on what it made.
 */

export interface ActExample {
  readonly name: string;
  readonly input: Readonly<Record<string, unknown>>;
  readonly refused: { readonly input: Readonly<Record<string, unknown>>; readonly code: string };
}

const duplex = (numbers: string) => [{ numbers, connector: "lc_duplex" }];
const add = (kind: string, values: Readonly<Record<string, unknown>>) => ["record.add", { kind, values }] as const;
const tubes = (repeats: number) => [{ kind: "tube", repeats, strands: 12, coating_um: "250" }];

export const SETUP: readonly (readonly [name: string, input: Readonly<Record<string, unknown>>])[] = [
  add("building", { tag: "LIB", name: "Library" }),
  add("building", { tag: "SCI", name: "Science hall" }),
  add("space", { tag: "101", building_id: "LIB", kind: "telecom_room" }),
  add("space", { tag: "102", building_id: "LIB", kind: "telecom_room" }),
  add("space", { tag: "B01", building_id: "SCI", kind: "entrance_room" }),
  add("space", { tag: "MH-03", kind: "hand_hole" }),
  [
    "cable.enter",
    { tag: "F-014", units: tubes(4), stops: [{ space: "LIB/101" }, { space: "MH-03" }, { space: "SCI/B01" }] },
  ],
  ["cable.enter", { tag: "F-021", units: tubes(1), stops: [{ space: "MH-03" }, { space: "LIB/102" }] }],
  ["cable.open", { cable: "F-014", stop: "F-014@2", cut: "25-36" }],
  ["panel.enter", { tag: "A", space: "LIB/101", ports: duplex("01..12") }],
  ["panel.enter", { tag: "B", space: "LIB/102", ports: duplex("1..6") }],
  ["device.enter", { tag: "SW-1", space: "LIB/101", ports: duplex("1..4") }],
  add("port", { tag: "5", device_id: "LIB/101/SW-1", connector: "lc_duplex" }),
  add("port", { tag: "6", device_id: "LIB/101/SW-1" }),
  ["closure.enter", { tag: "CL-1", space: "MH-03", trays: [{ numbers: "T1", capacity: 24 }] }],
  ["cord.patch", { from: "LIB/101/A:11", to: "LIB/101/SW-1:1", tag: "C-1" }],
  ["cord.patch", { from: "LIB/101/A:12", to: "LIB/101/SW-1:2", tag: "C-2" }],
  ["splice.close", { strands: "F-014:35-36", stop: "F-014@2", tray: "MH-03/CL-1/T1" }],
  ["circuit.enter", { tag: "C-100", strands: 2 }],
  ["circuit.enter", { tag: "C-200", strands: 2 }],
  ["circuit.assign", { circuit: "C-200", what: ["F-014:11-12"] }],
  ["label.write", { subject: "LIB/101/A" }],
];

export const ACT_EXAMPLES: readonly ActExample[] = [
  {
    name: "measurement.read",
    input: { csv: "of,loss_db\nF-014:1,0.4\nF-014:2,0.5", wavelength_nm: 1310, measured_on: "2026-05-01" },
    refused: { input: { csv: "of,loss_db\nF-014:1,much" }, code: "bad_input" },
  },
  {
    name: "measurement.read_events",
    input: { of: "F-014:1", csv: "distance_m,kind\n0,launch\n331.3,end", wavelength_nm: 1550, group_index: 1.4682 },
    refused: { input: { of: "F-404:1", csv: "distance_m\n0" }, code: "not_found" },
  },
  {
    name: "panel.enter",
    input: { tag: "C", space: "LIB/101", rows: 2, ports: duplex("01..24") },
    refused: { input: { tag: "A", space: "LIB/101" }, code: "duplicate" },
  },
  {
    name: "device.enter",
    input: { tag: "SW-2", space: "LIB/101", ports: [{ numbers: "1", positions: 2, application: "10GBASE-LR" }] },
    refused: { input: { tag: "SW-2", ports: [{ numbers: "24..01", positions: 2 }] }, code: "bad_input" },
  },
  {
    name: "closure.enter",
    input: { tag: "CL-2", space: "MH-03", trays: [{ numbers: "T1..T4", capacity: 12 }] },
    refused: { input: { tag: "CL-2", space: "MH-99" }, code: "not_found" },
  },
  {
    name: "closure.lost",
    input: { closure: "MH-03/CL-1" },
    refused: { input: { closure: "MH-03/CL-9" }, code: "not_found" },
  },
  {
    name: "module.enter",
    input: {
      kind: "splitter",
      tag: "SP1",
      in: "LIB/101/A",
      inputs: duplex("IN"),
      outputs: duplex("1..2"),
      loss_db: 3.7,
    },
    refused: {
      input: {
        kind: "cassette",
        tag: "C1",
        rear: [{ numbers: "R", positions: 12 }],
        front: duplex("1"),
        map: "straight",
      },
      code: "bad_input",
    },
  },
  {
    name: "strand.land",
    input: { strands: "F-014:1-12", ports: "LIB/101/A:01-06", method: "pigtail", loss_db: 0.1 },
    refused: { input: { strands: "F-014:1-12", ports: "LIB/101/A:01-05" }, code: "not_possible" },
  },
  {
    name: "splice.range",
    input: { from: "F-014:25-30#1", to: "F-021:1-6", tray: "MH-03/CL-1/T1", first_place: 7, method: "fusion" },
    refused: { input: { from: "F-014:25-30", to: "F-021:1-6", tray: "MH-03/CL-1/T1" }, code: "ambiguous" },
  },
  {
    name: "splice.close",
    input: { strands: "F-014:31-34", stop: "F-014@2" },
    refused: { input: { strands: "F-014:1-2", stop: "F-014@2" }, code: "not_possible" },
  },
  {
    name: "splice.reopen",
    input: { strands: "F-014:35-36", stop: "F-014@2" },
    refused: { input: { strands: "F-014:31", stop: "F-014@2" }, code: "not_possible" },
  },
  {
    name: "splice.swap",
    input: { one: "F-014:35#1", other: "F-014:36#1", at: "MH-03" },
    refused: { input: { one: "F-014:35#1", other: "F-014:31#1", at: "MH-03" }, code: "not_possible" },
  },
  {
    name: "cord.patch",
    input: { from: "LIB/101/A:10", to: "LIB/101/SW-1:3", map: "crossed", length_m: 3 },
    refused: { input: { from: "LIB/101/A:11", to: "LIB/101/SW-1:3" }, code: "not_possible" },
  },
  {
    name: "cord.unplug",
    input: { cords: ["C-1", "C-2"] },
    refused: { input: { cords: ["C-99"] }, code: "not_found" },
  },
  {
    name: "port.sight_front",
    input: { ports: "LIB/101/A:01-10", front: "empty" },
    refused: { input: { ports: "LIB/101/A:13", front: "empty" }, code: "not_found" },
  },
  {
    name: "port.enter",
    input: { on: "LIB/101/A", numbers: "13..24", connector: "lc_duplex" },
    refused: { input: { on: "LIB/101/A", numbers: "12..13", positions: 2 }, code: "duplicate" },
  },
  {
    name: "port.add_positions",
    input: { on: "LIB/101/SW-1", positions: 1 },
    refused: { input: { on: "LIB/101/SW-1" }, code: "bad_input" },
  },
  {
    name: "panel.renumber",
    input: { panel: "LIB/101/A", tag: "AA", ports: "12,01..11" },
    refused: { input: { panel: "LIB/101/A", ports: "01..11" }, code: "not_possible" },
  },
  {
    name: "device.move",
    input: {
      device: "LIB/101/SW-1",
      to: "LIB/102",
      cords: [
        { cord: "C-1", fate: "repatched", to: "LIB/102/B:1" },
        { cord: "C-2", fate: "goes_along" },
      ],
    },
    refused: { input: { device: "LIB/101/SW-1", to: "LIB/102" }, code: "not_possible" },
  },
  {
    name: "circuit.enter",
    input: { tag: "C-300", a_port: "LIB/101/SW-1:1", diverse_from: ["C-100"] },
    refused: { input: { tag: "C-100" }, code: "duplicate" },
  },
  {
    name: "circuit.assign",
    input: { circuit: "C-100", what: ["F-014:1-2"], from_on: "2031-01-01" },
    refused: { input: { circuit: "C-100", what: ["F-014:11-12"] }, code: "not_possible" },
  },
  {
    name: "circuit.release",
    input: { circuit: "C-200", retire: true },
    refused: { input: { circuit: "C-100" }, code: "not_possible" },
  },
  {
    name: "label.write",
    input: { subject: "F-014", space: "MH-03" },
    refused: { input: { subject: "F-014" }, code: "bad_input" },
  },
  {
    name: "label.write_due",
    input: { cable: "F-021" },
    refused: { input: { cable: "F-404" }, code: "not_found" },
  },
  {
    name: "label.printed",
    input: { labels: [{ kind: "panel", id: 1, space_id: null }] },
    refused: { input: { labels: [] }, code: "bad_input" },
  },
  {
    name: "label.sight",
    input: { subject: "LIB/101/A:01-03", state: "missing" },
    refused: { input: { state: "missing" }, code: "bad_input" },
  },
  {
    name: "label.relabel",
    input: { subject: "LIB/101/A", text: "NEW" },
    refused: { input: { subject: "LIB/102/B" }, code: "not_found" },
  },
];
