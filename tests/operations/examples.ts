/** Every operation with a success and a refusal. A new operation adds its example here, or in its subject's own list. */
import { expect } from "vitest";
import { ACT_EXAMPLES, SETUP } from "../act/examples.ts";
import type { Example } from "./example.ts";
import { BREAKOUT_EXAMPLES } from "./examples-breakout.ts";
import { HISTORY_EXAMPLES } from "./examples-history.ts";
import { JOB_EXAMPLES, JOBS_PLANT } from "./examples-jobs.ts";
import { LABEL_EXAMPLES } from "./examples-labels.ts";
import { MAP_EXAMPLES } from "./examples-maps.ts";
import { PAPER_EXAMPLES } from "./examples-papers.ts";
import { RUN_EXAMPLES } from "./examples-runs.ts";
import { SHEET_EXAMPLES } from "./examples-sheets.ts";

/** Carried out in order, these make the plant on which every example stands. */
export const PLANT: readonly (readonly [name: string, input: unknown])[] = [
  ...SETUP,
  ["strand.land", { strands: "F-014:13-14", ports: "LIB/101/A:07", method: "pigtail" }],
  [
    "cable.enter",
    {
      tag: "F-060",
      units: [],
      mark_unit: "m",
      stops: [
        { space: "LIB/101", mark_out: 100 },
        { space: "MH-03", mark_in: 160, mark_out: 190 },
        { space: "SCI/B01", mark_in: 300 },
      ],
    },
  ],
  ["exception.accept", { rule: "truth.leg_missing", key: "cable F-021", reason: "Old drawings show it." }],
  ["record.add", { kind: "pathway", values: { tag: "DB-01" } }],
  [
    "record.add",
    { kind: "pathway", values: { tag: "TR-9", from_space_id: "MH-03", to_space_id: "SCI/B01", length_m: 40 } },
  ],
  ["record.add", { kind: "cable_type", values: { tag: "LT-12", outer_diameter_mm: 10 } }],
  ["record.add", { kind: "building", values: { tag: "WST" } }],
  ["record.add", { kind: "building", values: { tag: "YRD" } }],
  ["record.add", { kind: "space", values: { tag: "1", building_id: "WST", kind: "telecom_room" } }],
  ["record.add", { kind: "space", values: { tag: "1", building_id: "YRD", kind: "telecom_room" } }],
  [
    "record.add",
    { kind: "pathway", values: { tag: "TR-10", from_space_id: "WST/1", to_space_id: "YRD/1", length_m: 60 } },
  ],
  [
    "cable.enter",
    {
      tag: "F-070",
      units: [{ kind: "tube", repeats: 1, strands: 2, coating_um: "250" }],
      stops: [{ space: "WST/1", way: { pathway: "TR-10" } }, { space: "YRD/1" }],
    },
  ],
  ["panel.enter", { tag: "P", space: "WST/1", ports: [{ numbers: "1", connector: "lc_duplex" }] }],
  ["panel.enter", { tag: "P", space: "YRD/1", ports: [{ numbers: "1", connector: "lc_duplex" }] }],
  ["strand.land", { strands: "F-070:1-2", ports: "WST/1/P:1", method: "pigtail" }],
  ["strand.land", { strands: "F-070:1-2", ports: "YRD/1/P:1", method: "pigtail" }],
  ...JOBS_PLANT,
  ["attachment.add", { of: "LIB", name: "drawing.txt", content: btoa("as built") }],
  ["record.add", { kind: "building", values: { tag: "OLD" } }],
  ["record.edit", { kind: "building", id: "OLD", values: { name: "Old hall" } }],
  ["history.undo", {}],
];

const unknownField = { input: { nonsense: 1 }, code: "bad_input" };

const PLANT_EXAMPLES: readonly Example[] = [
  {
    name: "plant.read",
    input: {},
    refused: unknownField,
    check: (value) => expect(value).toMatchObject({ name: "Test Campus" }),
  },
  {
    name: "plant.status",
    input: {},
    refused: unknownField,
    // The command line opens a file for reading only when it is only asked something.
    differs: ["path", "read_only", "last_backup"],
    check: (value) => expect(value).toMatchObject({ integrity: "fine", writer: null }),
  },
  { name: "plant.backup", input: {}, refused: unknownField, differs: ["path"] },
  { name: "plant.summary", input: {}, refused: unknownField },
];

const RECORD_EXAMPLES: readonly Example[] = [
  {
    name: "record.window",
    input: { kind: "strand", sort: [{ field: "number", descending: true }], text: "F-014", offset: 10, limit: 5 },
    refused: { input: { kind: "strand", sort: [{ field: "nonsense" }] }, code: "bad_input" },
    check: (value) => expect(value).toMatchObject({ total: 48, offset: 10, rows: { length: 5 } }),
  },
  {
    name: "record.find_row",
    input: { kind: "building", id: "SCI", sort: [{ field: "tag" }] },
    refused: { input: { kind: "building", id: "NOWHERE" }, code: "not_found" },
    check: (value) => expect(value).toEqual({ offset: 2 }),
  },
  {
    name: "record.chosen",
    input: { kind: "building", ids: [1, 2], filters: [{ field: "tag", test: "is", value: "SCI" }] },
    refused: { input: { kind: "building", ids: [1], sort: [{ field: "nonsense" }] }, code: "bad_input" },
    check: (value) => {
      const { rows, outside } = value as { rows: { id: number }[]; outside: number[] };
      expect(rows.map(({ id }) => id)).toEqual([1, 2]);
      expect(outside.length).toBeGreaterThan(0);
    },
  },
  {
    name: "record.values",
    input: { kind: "space", field: "kind" },
    refused: { input: { kind: "space", field: "nonsense" }, code: "bad_input" },
  },
  {
    name: "record.page",
    input: { kind: "cable", id: "F-014" },
    refused: { input: { kind: "cable", id: 9_999 }, code: "not_found" },
    check: (value) => expect(value).toMatchObject({ kind: "cable", address: "F-014" }),
  },
  {
    name: "record.resting",
    input: { kind: "building", id: "LIB" },
    refused: { input: { kind: "unicorn", id: 1 }, code: "bad_input" },
  },
  {
    name: "record.add",
    input: { kind: "building", values: { tag: "GYM", name: "Gymnasium 体育館" } },
    refused: { input: { kind: "building", values: { tag: "LIB" } }, code: "duplicate" },
  },
  {
    name: "record.edit",
    input: { kind: "building", id: "LIB", rev: 1, values: { name: "Main library" } },
    refused: { input: { kind: "building", id: "LIB", rev: 0, values: { name: "x" } }, code: "stale" },
  },
  {
    name: "record.remove",
    input: { kind: "building", ids: ["OLD"] },
    refused: { input: { kind: "building", ids: ["LIB"] }, code: "rests_on" },
  },
  {
    name: "record.change_many",
    input: {
      changes: [
        { op: "add", kind: "building", values: { tag: "B1" } },
        { op: "edit", kind: "building", id: "SCI", values: { name: "Sciences" } },
        { op: "remove", kind: "building", id: "OLD" },
      ],
      summary: "Tidy the buildings",
    },
    refused: {
      input: {
        changes: [
          { op: "add", kind: "building", values: { tag: "B1" } },
          { op: "add", kind: "building", values: { tag: "LIB" } },
        ],
      },
      code: "duplicate",
    },
  },
];

const ADDRESS_EXAMPLES: readonly Example[] = [
  { name: "address.find", input: { text: "014" }, refused: { input: { text: "x".repeat(401) }, code: "bad_input" } },
  {
    name: "address.resolve",
    input: { text: "F-014:25-28" },
    refused: { input: { text: "F-014", kinds: ["unicorn"] }, code: "bad_input" },
  },
  {
    name: "standards.limits",
    input: { under: "pair." },
    refused: { input: { over: "pair." }, code: "bad_input" },
    check: (value) =>
      expect(value).toMatchObject({
        limits: expect.arrayContaining([expect.objectContaining({ tag: "pair.limit", value: 0.75 })]),
      }),
  },
  {
    name: "standards.colours",
    input: { sequence: "tia_598", count: 14 },
    refused: { input: { sequence: "explicit" }, code: "bad_input" },
  },
  {
    name: "glass.colours",
    input: { strands: [1], sections: [1] },
    refused: { input: { strands: ["F-014:1"] }, code: "bad_input" },
    check: (value) => expect(value).toMatchObject({ strands: { 1: [{ what: "tube" }, { what: "strand" }] } }),
  },
];

const TRACE_EXAMPLES: readonly Example[] = [
  {
    name: "trace.walk",
    input: { what: "LIB/101/A:07" },
    refused: { input: { what: "LIB/101/A:99" }, code: "not_found" },
    check: (value) => expect(value).toMatchObject({ lines: { length: 2 } }),
  },
  {
    name: "feeds.of",
    input: { what: "LIB" },
    refused: { input: { what: "NOWHERE" }, code: "not_found" },
    check: (value) => expect(value).toMatchObject({ subject: { tag: "LIB" } }),
  },
];

const IMPACT_EXAMPLES: readonly Example[] = [
  {
    name: "pathway.show",
    input: { what: "DB-01" },
    refused: { input: { what: "DB-99" }, code: "not_found" },
    check: (value) => expect(value).toMatchObject({ pathway: { kind: "pathway", tag: "DB-01" } }),
  },
  {
    name: "impact.of",
    input: { what: ["MH-03", { kind: "cable", id: 1 }] },
    refused: { input: { what: ["F-014 1..2"] }, code: "not_possible" },
    check: (value) =>
      expect(value).toMatchObject({ strands: 60, circuits: [{ circuit: { tag: "C-200" }, how: "given" }] }),
  },
  {
    name: "impact.ways_in",
    input: { buildings: ["LIB"] },
    refused: { input: { buildings: ["NOWHERE"] }, code: "not_found" },
    check: (value) => expect(value).toMatchObject({ buildings: [{ ways: 1 }] }),
  },
  {
    name: "impact.diverse",
    input: {},
    refused: { input: { circuit: "C-999" }, code: "not_found" },
    check: (value) => expect(value).toMatchObject({ pairs: [] }),
  },
  {
    name: "fitness.of",
    input: { what: "F-014", at: "MH-03" },
    refused: { input: { what: "F-014", at: "LIB/102" }, code: "not_possible" },
    check: (value) => expect(value).toMatchObject({ cable: { tag: "F-014" }, part: { tag: "MH-03" } }),
  },
  {
    name: "fitness.would_fit",
    input: { way: ["TR-9"], cable_type: "LT-12" },
    refused: { input: { way: ["TR-9", "TR-9"], cable_type: "LT-12" }, code: "not_possible" },
    // 40 m, 3 m at each end and a tenth of waste.
    check: (value) => expect(value).toMatchObject({ ways: [{ tag: "TR-9" }], order: { length_m: 51 } }),
  },
  {
    name: "free_pair.find",
    input: { from: "LIB/101/A", to: "SCI", strands: 2 },
    refused: { input: { from: "LIB", to: "LIB/101/A", strands: 2 }, code: "not_possible" },
    check: (value) => expect(value).toMatchObject({ ways: [], strands: 2 }),
  },
  {
    name: "free_pair.plan",
    input: { from: "WST", to: "YRD", strands: 2, circuit: "C-300", job: "J-300" },
    refused: { input: { from: "WST", to: "YRD", strands: 2, circuit: "C-300", way: 7 }, code: "not_possible" },
    check: (value) =>
      expect(value).toMatchObject({ answer: { circuit: { tag: "C-300" }, job: { tag: "J-300" }, sections: 2 } }),
  },
];

const accepted = { rule: "truth.leg_missing", key: "cable F-021" };
const finding = { rule: "truth.leg_missing", key: "cable F-014" };

const LIGHT_EXAMPLES: readonly Example[] = [
  {
    name: "light.loss",
    input: { what: "F-014:13", wavelength_nm: 1310 },
    refused: { input: { what: "F-014:13", wavelength_nm: 1234 }, code: "bad_input" },
    check: (value) => expect(value).toMatchObject({ wavelength_nm: 1310, as: "link" }),
  },
  {
    name: "light.circuits",
    input: {},
    refused: { input: { worst: "best" }, code: "bad_input" },
    check: (value) => expect(value).toMatchObject({ worst: "limit", circuits: expect.any(Array) }),
  },
  {
    name: "locate.of",
    input: { readings: [{ from: "LIB/101/A:07", distance_m: 100, index: 1.4682 }] },
    refused: { input: { readings: [{ from: "LIB/101/A:07", distance_m: 0 }] }, code: "bad_input" },
    // Nobody recorded how long the way from the library's room is.
    check: (value) => expect(value).toMatchObject({ where: { kind: "unknown", cable: { tag: "F-014" } } }),
  },
];

const CHECK_EXAMPLES: readonly Example[] = [
  {
    name: "check.run",
    input: { rules: [finding.rule] },
    refused: { input: { severities: ["awful"] }, code: "bad_input" },
    check: (value) => expect(value).toMatchObject({ passes: true, findings: [finding, {}, {}, {}] }),
  },
  { name: "check.rules", input: {}, refused: unknownField },
  {
    name: "check.report",
    input: { format: "csv", building: "LIB" },
    refused: { input: { format: "pdf" }, code: "bad_input" },
  },
  {
    name: "exception.accept",
    input: { ...finding, reason: "The way is being surveyed." },
    refused: { input: { ...finding, key: "cable F-404", reason: "x" }, code: "not_found" },
  },
  { name: "exception.withdraw", input: accepted, refused: { input: finding, code: "not_found" } },
  {
    name: "sign_off.make",
    input: { by: "An Auditor", notes: null },
    refused: { input: { by: " " }, code: "bad_input" },
  },
];

const stops = [{ space: "LIB/101" }, { space: "SCI/B01" }];

const CABLE_EXAMPLES: readonly Example[] = [
  {
    name: "cable.show",
    input: { cable: "F-014" },
    refused: { input: { cable: "F-404" }, code: "not_found" },
    check: (value) => expect(value).toMatchObject({ strands: 48, cut: 12, stops: { length: 3 } }),
  },
  {
    name: "cable.enter",
    input: { tag: "F-050", units: [{ kind: "tube", repeats: 2, strands: 12, coating_um: "250" }], stops },
    refused: { input: { tag: "F-014", stops }, code: "duplicate" },
  },
  {
    name: "cable.add_stop",
    input: { cable: "F-021", after: 1, space: "LIB/101" },
    refused: { input: { cable: "F-404", after: 1 }, code: "not_found" },
  },
  {
    name: "cable.remove_stop",
    input: { cable: "F-060", stop: 2 },
    refused: { input: { cable: "F-014", stop: 2 }, code: "rests_on" },
  },
  {
    name: "cable.open",
    input: { cable: "F-014", stop: "F-014@2", cut: "1-2" },
    refused: { input: { cable: "F-014", stop: 1, cut: "1" }, code: "not_possible" },
  },
  {
    name: "cable.sever",
    // Between its only two stops: the far end moves up by one in the same plan.
    input: { cable: "F-021", after: 1 },
    refused: { input: { cable: "F-404", after: 1 }, code: "not_found" },
    check: (value) => expect(value).toMatchObject({ answer: { cut: { length: 12 }, express: 0 } }),
  },
];

const EXCHANGE_EXAMPLES: readonly Example[] = [
  {
    name: "exchange.export",
    input: ({ out }) => ({ folder: out }),
    refused: { input: { folder: "" }, code: "bad_input" },
    differs: ["folder"],
  },
  {
    name: "exchange.rehearse",
    input: ({ files }) => ({ folder: files }),
    refused: { input: ({ out }) => ({ folder: `${out}/nowhere` }), code: "file" },
    check: (value) => expect(value).toMatchObject({ totals: { new: 0, changed: 0, refused: 0 } }),
  },
  {
    name: "exchange.import",
    input: ({ files }) => ({ folder: files }),
    refused: { input: ({ files }) => ({ folder: files, digest: "another" }), code: "stale" },
    check: (value) => expect(value).toMatchObject({ change_set: null }),
  },
];

export const EXAMPLES: readonly Example[] = [
  ...PLANT_EXAMPLES,
  ...RECORD_EXAMPLES,
  ...HISTORY_EXAMPLES,
  ...LABEL_EXAMPLES,
  ...ADDRESS_EXAMPLES,
  ...TRACE_EXAMPLES,
  ...LIGHT_EXAMPLES,
  ...IMPACT_EXAMPLES,
  ...CHECK_EXAMPLES,
  ...CABLE_EXAMPLES,
  ...BREAKOUT_EXAMPLES,
  ...JOB_EXAMPLES,
  ...ACT_EXAMPLES,
  ...EXCHANGE_EXAMPLES,
  ...SHEET_EXAMPLES,
  ...MAP_EXAMPLES,
  ...RUN_EXAMPLES,
  ...PAPER_EXAMPLES,
];
