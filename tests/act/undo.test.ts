/** Every act: a rehearsal shows what is done and writes nothing; undo restores the content, redo brings it back. */
import { describe, expect, it } from "vitest";
import type { ChangeView } from "../../core/operations/define.ts";
import { TESTER } from "../support/plant.ts";
import { act, type Campus, campus } from "./campus.ts";

const duplex = (numbers: string) => [{ numbers, connector: "lc_duplex" }];

/** A plant on which every act below can be done. */
async function furnished(): Promise<Campus> {
  const plant = await campus();
  await act(plant, "panel.enter", { tag: "A", space: "LIB/101", ports: duplex("01..12") });
  await act(plant, "panel.enter", { tag: "B", space: "LIB/102", ports: duplex("1..6") });
  await act(plant, "device.enter", { tag: "SW-1", space: "LIB/101", ports: duplex("1..4") });
  await act(plant, "closure.enter", { tag: "CL-1", space: "MH-03", trays: [{ numbers: "T1", capacity: 24 }] });
  await act(plant, "cord.patch", { from: "LIB/101/A:11", to: "LIB/101/SW-1:1", tag: "C-1" });
  await act(plant, "cord.patch", { from: "LIB/101/A:12", to: "LIB/101/SW-1:2", tag: "C-2" });
  await act(plant, "splice.close", { strands: "F-014:35-36", stop: "F-014@2", tray: "MH-03/CL-1/T1" });
  await act(plant, "circuit.enter", { tag: "C-100", strands: 2 });
  await act(plant, "circuit.enter", { tag: "C-200", strands: 2 });
  await act(plant, "circuit.assign", { circuit: "C-200", what: ["F-014:11-12"] });
  await act(plant, "label.write", { subject: "LIB/101/A" });
  return plant;
}

const ACTS: readonly [name: string, input: object][] = [
  ["panel.enter", { tag: "C", space: "LIB/101", rows: 2, ports: duplex("01..24") }],
  ["device.enter", { tag: "SW-2", space: "LIB/101", ports: [{ ...duplex("1")[0], application: "10GBASE-LR" }] }],
  ["closure.enter", { tag: "CL-2", space: "MH-03", trays: [{ numbers: "T1..T4", capacity: 12 }] }],
  [
    "module.enter",
    { kind: "splitter", tag: "SP1", in: "LIB/101/A", inputs: duplex("IN"), outputs: duplex("1..2"), loss_db: 3.7 },
  ],
  ["strand.land", { strands: "F-014:1-12", ports: "LIB/101/A:01-06", method: "pigtail", loss_db: 0.1 }],
  ["splice.range", { from: "F-014:25-30#1", to: "F-021:1-6", tray: "MH-03/CL-1/T1", first_place: 7 }],
  ["splice.close", { strands: "F-014:31-34", stop: "F-014@2" }],
  ["splice.reopen", { strands: "F-014:35-36", stop: "F-014@2" }],
  ["cord.patch", { from: "LIB/101/A:10", to: "LIB/101/SW-1:3", map: "crossed" }],
  ["cord.unplug", { cords: ["C-1", "C-2"] }],
  ["port.sight_front", { ports: "LIB/101/A:01-10", front: "empty" }],
  ["panel.renumber", { panel: "LIB/101/A", tag: "AA", ports: "12,01..11" }],
  [
    "device.move",
    {
      device: "LIB/101/SW-1",
      to: "LIB/102",
      cords: [
        { cord: "C-1", fate: "repatched", to: "LIB/102/B:1" },
        { cord: "C-2", fate: "goes_along" },
      ],
    },
  ],
  ["circuit.enter", { tag: "C-300", a_port: "LIB/101/SW-1:1", diverse_from: ["C-100"] }],
  ["circuit.assign", { circuit: "C-100", what: ["F-014:1-2"], from_on: "2031-01-01" }],
  ["circuit.release", { circuit: "C-200", retire: true }],
  ["label.write", { subject: "F-014", space: "MH-03" }],
  ["label.write_due", { cable: "F-021" }],
  ["label.sight", { subject: "LIB/101/A:01-03", state: "missing" }],
  ["label.relabel", { subject: "LIB/101/A", text: "NEW" }],
];

interface Outcome {
  readonly change_set: number | null;
  readonly summary: string;
  readonly counts: readonly object[];
  readonly changes: readonly ChangeView[];
  readonly notices: readonly string[];
}

/** What people see of changes: all but the ids that new records will get. */
const shown = ({ summary, counts, changes, notices }: Outcome) => ({
  summary,
  counts,
  notices,
  changes: changes.map(({ op, kind, fields }) => ({ op, kind, fields: fields.length })),
});

describe.each(ACTS)("%s", (name, input) => {
  it("does what its rehearsal shows, in one change that can be undone and redone", async () => {
    const plant = await furnished();
    const before = await plant.content();
    const rehearsed = await plant.rehearse<Outcome>(name, input);
    expect(rehearsed.change_set).toBeNull();
    expect(rehearsed.counts.length).toBeGreaterThan(0);
    expect(await plant.content()).toEqual(before);

    const done = await plant.run<Outcome>(name, input);
    expect(done.change_set).not.toBeNull();
    expect(shown(done)).toEqual(shown(rehearsed));
    const after = await plant.content();
    expect(after).not.toEqual(before);

    await plant.run("history.undo", {}, TESTER);
    expect(await plant.content()).toEqual(before);
    await plant.run("history.redo", {}, TESTER);
    expect(await plant.content()).toEqual(after);
  });
});
