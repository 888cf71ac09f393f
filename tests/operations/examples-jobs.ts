/** Examples of mending and of jobs, and of the acts that their steps carry out. */
import { expect } from "vitest";
import type { Example } from "./example.ts";

const tube = [{ kind: "tube", repeats: 1, strands: 2, coating_um: "250" }];
const way = (tag: string, from: string, to: string) =>
  ["record.add", { kind: "pathway", values: { tag, from_space_id: from, to_space_id: to, length_m: 50 } }] as const;

/** A cable cut between its first two stops, and another that may take its place. */
export const JOBS_PLANT: readonly (readonly [name: string, input: unknown])[] = [
  ["record.add", { kind: "space", values: { tag: "MH-04", kind: "hand_hole" } }],
  way("TR-11", "WST/1", "MH-04"),
  way("TR-12", "MH-04", "YRD/1"),
  [
    "cable.enter",
    {
      tag: "F-080",
      units: tube,
      stops: [
        { space: "WST/1", way: { pathway: "TR-11" } },
        { space: "MH-04", way: { pathway: "TR-12" } },
        { space: "YRD/1" },
      ],
    },
  ],
  [
    "cable.enter",
    { tag: "F-081", units: tube, stops: [{ space: "WST/1", way: { pathway: "TR-10" } }, { space: "YRD/1" }] },
  ],
  [
    "cable.enter",
    {
      tag: "F-082",
      stops: [
        { space: "WST/1", way: { pathway: "TR-11" } },
        { space: "MH-04", kind: "severed", way: null },
        { space: "MH-04", kind: "severed", way: { pathway: "TR-12" } },
        { space: "YRD/1" },
      ],
    },
  ],
  ["closure.enter", { tag: "CL-8", space: "MH-04" }],
  [
    "cable.enter",
    {
      tag: "F-092",
      stops: [
        { space: "WST/1", way: { pathway: "TR-11" } },
        { space: "MH-04", closure: "MH-04/CL-8", slack_m: 30 },
      ],
    },
  ],
  ["circuit.enter", { tag: "K-80", strands: 1, state: "in_service" }],
  ["circuit.assign", { circuit: "K-80", what: ["F-080:1"] }],
  ["cable.sever", { cable: "F-080", after: 1 }],
  ["job.enter", { job: "J-1", steps: [{ words: "Look at MH-03" }, { words: "Measure" }] }],
  // A temporary job that is done, with the piece it laid over the ground.
  ["job.enter", { job: "J-90", replace_by: "2126-06-01", steps: [{ words: "Lay it" }] }],
  ["job.do", { job: "J-90", step: 1 }],
  [
    "cable.enter",
    { tag: "F-085", units: tube, stops: [{ space: "WST/1", way: { pathway: "TR-10" } }, { space: "YRD/1" }] },
  ],
  ["cable.enter", { tag: "F-086", units: tube, stops: [{ space: "YRD/1", way: {} }, { space: "MH-04" }] }],
  ["record.edit", { kind: "cable", id: "F-086", values: { life_job_id: "J-90" } }],
  ["splice.range", { from: "F-085:1-2", to: "F-086:1-2", at: "YRD/1", from_end: "B", to_end: "A" }],
];

/** Some stretch that coils as they are would not mend. */
const LACKING = expect.arrayContaining([expect.objectContaining({ state: "lacks" })]);

export const JOB_EXAMPLES: readonly Example[] = [
  {
    name: "mend.plans",
    input: { cable: "F-060", mark: 220, lost_left_m: 1, lost_right_m: 1 },
    // Nobody recorded how long the way of F-014 is.
    refused: { input: { cable: "F-014", after: "MH-03" }, code: "not_possible" },
    check: (value) => expect(value).toMatchObject({ cable: { tag: "F-060" }, cut: { mark: 220, from_mouth_m: 30 } }),
  },
  {
    name: "mend.case",
    input: { closure: "MH-04/CL-8" },
    refused: { input: { closure: "MH-04" }, code: "not_found" },
    check: (value) => expect(value).toMatchObject({ closure: { tag: "MH-04/CL-8" }, possible: true, splices: 0 }),
  },
  {
    name: "coils.study",
    input: { of: "F-060" },
    refused: { input: { of: "MH-03" }, code: "not_found" },
    check: (value) =>
      expect(value).toMatchObject({ of: { tag: "F-060" }, studied: 1, cables: [{ stretches: LACKING }] }),
  },
  {
    name: "mend.several",
    input: { of: ["F-060"], between: ["MH-03", "SCI/B01"] },
    refused: { input: { of: ["F-060"] }, code: "bad_input" },
    check: (value) => expect(value).toMatchObject({ of: [{ tag: "F-060" }], cuts: expect.any(Array) }),
  },
  {
    name: "cable.move_cut",
    input: { cable: "F-080", stop: 2, left_to: 3, right_to: 3 },
    refused: { input: { cable: "F-080", stop: 3, left_to: 2 }, code: "not_possible" },
    check: (value) => expect(value).toMatchObject({ answer: { left: "F-080@2", right: "F-080@2" } }),
  },
  {
    name: "cable.close_gap",
    input: { cable: "F-082", left: 2, right: 3, meet: "left" },
    refused: { input: { cable: "F-080", left: 2, right: 3, meet: "left" }, code: "not_possible" },
    check: (value) => expect(value).toMatchObject({ answer: { stop: "F-082@2", joints: 0, freed: [] } }),
  },
  {
    name: "cable.replace",
    input: { cable: "F-080", by: "F-081" },
    refused: { input: { cable: "F-080", by: "F-060" }, code: "not_possible" },
    check: (value) => expect(value).toMatchObject({ answer: { circuits: 1 } }),
  },
  {
    name: "cable.replace_end",
    input: { cable: "F-080", stop: 2, gone: "after", by: "F-081" },
    refused: { input: { cable: "F-080", stop: 3, gone: "after", by: "F-081" }, code: "not_possible" },
    check: (value) => expect(value).toMatchObject({ answer: { moved: 0, gone: ["MH-04", "YRD/1"] } }),
  },
  {
    name: "cable.carry",
    input: { cable: "F-080", by: "F-081" },
    refused: { input: { cable: "F-080", by: "F-080" }, code: "bad_input" },
    check: (value) => expect(value).toMatchObject({ answer: { circuits: 1 } }),
  },
  {
    name: "cable.dead_length",
    input: {
      cable: "F-080",
      tag: "F-080-D1",
      became: "left",
      stops: [
        { space: "MH-04", kind: "end", way: { pathway: "TR-12" } },
        { space: null, kind: "severed" },
      ],
    },
    refused: { input: { cable: "F-080", tag: "F-081", became: "pulled_out" }, code: "not_possible" },
    check: (value) => expect(value).toMatchObject({ answer: { tag: "F-080-D1", legs: 1 } }),
  },
  {
    name: "pathway.divide",
    input: { pathway: "TR-10", at: "MH-04", from_m: 20, tag: "TR-10b" },
    refused: { input: { pathway: "TR-10", at: "MH-04", from_m: 60, tag: "TR-10b" }, code: "bad_input" },
    check: (value) => expect(value).toMatchObject({ answer: { near: "TR-10", far: "TR-10b", cables: 3 } }),
  },
  {
    name: "job.list",
    input: {},
    refused: { input: { nonsense: 1 }, code: "bad_input" },
    check: (value) => expect(value).toMatchObject({ jobs: [{ job: { tag: "J-1" }, state: "drafted", open: 2 }] }),
  },
  {
    name: "job.show",
    input: { job: "J-1" },
    refused: { input: { job: "J-404" }, code: "not_found" },
    check: (value) => expect(value).toMatchObject({ job: { tag: "J-1" }, open: 2, state: "drafted" }),
  },
  {
    name: "job.temporary",
    input: { cable: "F-080" },
    refused: { input: { cable: "F-404" }, code: "not_found" },
    check: (value) => expect(value).toEqual({ cable: expect.objectContaining({ tag: "F-080" }), temporary: [] }),
  },
  {
    name: "job.packet",
    input: { job: "J-1" },
    refused: { input: { job: "J-404" }, code: "not_found" },
    check: (value) => expect(value).toMatchObject({ job: { tag: "J-1" }, steps: [{}, {}], sheets: [] }),
  },
  {
    name: "job.print",
    input: { job: "J-1" },
    refused: { input: { job: "J-404" }, code: "not_found" },
    check: (value) => expect(value).toMatchObject({ paper: "document", title: { what: "Packet for job J-1" } }),
  },
  {
    name: "job.enter",
    input: { job: "J-2", steps: [{ act: "label.write", input: { subject: "LIB/101/A" }, words: "Label it" }] },
    refused: { input: { job: "J-2", steps: [{ act: "history.undo", words: "Undo" }] }, code: "bad_input" },
    check: (value) => expect(value).toMatchObject({ answer: { job: { tag: "J-2" }, steps: ["Label it"] } }),
  },
  {
    name: "job.plan_mend",
    input: { cable: "F-060", mark: 220, job: "J-3", piece: "F-061" },
    refused: { input: { cable: "F-060", mark: 220, plan: 99, job: "J-3" }, code: "not_possible" },
    check: (value) => expect(value).toMatchObject({ answer: { job: { tag: "J-3" } } }),
  },
  {
    name: "job.plan_case",
    input: { closure: "MH-04/CL-8", job: "J-6" },
    refused: { input: { closure: "MH-04/CL-8", pieces: ["F-089"], job: "J-6" }, code: "bad_input" },
    check: (value) => expect(value).toMatchObject({ answer: { job: { tag: "J-6" } } }),
  },
  {
    name: "job.plan_lasting",
    input: { follows: "J-90", job: "J-5", piece: "F-087" },
    refused: { input: { follows: "J-1", job: "J-5" }, code: "not_possible" },
    check: (value) => expect(value).toMatchObject({ answer: { job: { tag: "J-5" } } }),
  },
  {
    name: "job.plan_mends",
    input: { of: ["F-060"], between: ["MH-03", "SCI/B01"], job: "J-4" },
    refused: { input: { of: ["F-060"], job: "J-4" }, code: "bad_input" },
    check: (value) => expect(value).toMatchObject({ answer: { job: { tag: "J-4" }, cables: [{ plan: 1 }] } }),
  },
  {
    name: "job.do",
    input: { job: "J-1", step: 1 },
    refused: { input: { job: "J-1", step: 9 }, code: "not_found" },
    check: (value) => expect(value).toMatchObject({ answer: { step: 1, open: 1, job_state: "under_way" } }),
  },
  {
    name: "job.abandon",
    input: { job: "J-1", why: "not wanted" },
    refused: { input: { job: "J-404" }, code: "not_found" },
    check: (value) => expect(value).toMatchObject({ answer: { removed: 0, stay: [] } }),
  },
];
