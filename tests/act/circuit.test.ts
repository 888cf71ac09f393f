import { beforeEach, describe, expect, it } from "vitest";
import { TESTER } from "../support/plant.ts";
import { act, type Campus, campus, refused } from "./campus.ts";

let plant: Campus;
beforeEach(async () => {
  plant = await campus();
  const duplex = [{ numbers: "1..12", connector: "lc_duplex" }];
  await act(plant, "panel.enter", { tag: "A", space: "LIB/101", ports: duplex });
  await act(plant, "panel.enter", { tag: "P", space: "SCI/B01", ports: duplex });
  await act(plant, "panel.enter", { tag: "B", space: "LIB/102", ports: duplex });
  await act(plant, "strand.land", { strands: "F-014:1-12", ports: "LIB/101/A:1-6" });
  await act(plant, "strand.land", { strands: "F-014:1-12", ports: "SCI/B01/P:1-6" });
  await act(plant, "strand.land", { strands: "F-014:25-28", ports: "LIB/101/A:11-12" });
  await act(plant, "splice.range", { from: "F-014:25-28#1", to: "F-021:1-4", at: "MH-03" });
  await act(plant, "strand.land", { strands: "F-021:1-4", ports: "LIB/102/B:1-2" });
  for (const tag of ["C-100", "C-200"]) await act(plant, "circuit.enter", { tag, strands: 2, state: "in_service" });
});

interface Assigned {
  readonly sections: number;
  readonly lines: readonly { role: string; from: string; to: string; sections: readonly string[] }[];
}
const assign = (circuit: string, what: string[], more: object = {}) =>
  act<Assigned>(plant, "circuit.assign", { circuit, what, ...more });
const circuitRow = async (tag: string) => (await plant.find("circuit", { tag }))[0];

describe("entering a circuit", () => {
  it("takes ports, parties and circuits by address", async () => {
    await plant.put([{ kind: "party", values: { tag: "TEL", role: "carrier" } }]);
    await act(plant, "circuit.enter", {
      tag: "C-300",
      a_port: "LIB/101/A:1",
      z_party: "TEL",
      z_reference: "77-4",
      rides_on: "C-100",
      diverse_from: ["C-200"],
    });
    const row = await circuitRow("C-300");
    expect(row).toMatchObject({ state: "planned", z_port_id: null, z_reference: "77-4" });
    expect(row?.rides_on_id).toBe((await circuitRow("C-100"))?.id);
    expect(await plant.find("diversity")).toHaveLength(1);
    const loop = await act(plant, "circuit.enter", { tag: "C-302", a_port: "LIB/101/A:2", z_port: "LIB/101/A:2" });
    expect(loop.notices).toEqual(["A and Z are one port, LIB/101/A:2: one of them may be mistyped."]);
    expect((await refused(plant, "circuit.enter", { tag: "C-300" })).code).toBe("duplicate");
    expect(await refused(plant, "circuit.enter", { tag: "C-301", a_port: "LIB/101/A:99" })).toMatchObject({
      code: "not_found",
      problems: [{ field: "a_port" }],
    });
  });
});

describe("giving a circuit what a trace found", () => {
  it("takes both strands of a duplex port, in order from A to Z, over splices", async () => {
    const { answer, notices } = await assign("C-100", ["LIB/101/A:11"]);
    expect(answer.lines).toEqual([
      { role: "transmit", from: "LIB/101/A:11", to: "LIB/102/B:1", sections: ["F-014:25#1", "F-021:1"] },
      { role: "receive", from: "LIB/101/A:11", to: "LIB/102/B:1", sections: ["F-014:26#1", "F-021:2"] },
    ]);
    expect(notices).toEqual(["LIB/101/A:11#1 is taken to transmit seen from A, LIB/101/A:11#2 to receive."]);
    const rows = await plant.find("assignment");
    expect(rows.map(({ ordinal, role }) => [ordinal, role])).toEqual([
      [1, "transmit"],
      [2, "transmit"],
      [1, "receive"],
      [2, "receive"],
    ]);
  });
  it("notes the ports at both ends where the circuit has none", async () => {
    await assign("C-100", ["LIB/102/B:1"]);
    const ports = await plant.find("port");
    const named = (id: unknown) => ports.find((port) => port.id === id)?.tag;
    const row = await circuitRow("C-100");
    expect([named(row?.a_port_id), named(row?.z_port_id)]).toEqual(["1", "11"]);
  });
  it("turns the line so that it begins at the circuit's A port", async () => {
    await act(plant, "circuit.enter", { tag: "C-300", a_port: "SCI/B01/P:1" });
    const { answer } = await assign("C-300", ["F-014:1-2"]);
    expect(answer.lines[0]).toMatchObject({ from: "SCI/B01/P:1", to: "LIB/101/A:1" });
    await act(plant, "circuit.enter", { tag: "C-301", z_port: "LIB/101/A:2" });
    expect((await assign("C-301", ["F-014:3-4"])).answer.lines[0]).toMatchObject({ from: "SCI/B01/P:2" });
  });
  it("runs as the cable does when nothing else says the direction", async () => {
    expect((await assign("C-100", ["F-014:1"])).answer.lines[0]).toMatchObject({
      role: "both",
      from: "LIB/101/A:1",
      to: "SCI/B01/P:1",
    });
  });
  it("takes roles from the optic at A", async () => {
    await act(plant, "device.enter", {
      tag: "SW-1",
      space: "LIB/101",
      ports: [{ numbers: "1", connector: "lc_duplex", transmit_position: 2, receive_position: 1 }],
    });
    await act(plant, "cord.patch", { from: "LIB/101/SW-1:1", to: "LIB/101/A:1" });
    const { answer, notices } = await assign("C-100", ["LIB/101/SW-1:1"]);
    expect(answer.lines.map(({ role, sections }) => [role, sections[0]])).toEqual([
      ["receive", "F-014:1"],
      ["transmit", "F-014:2"],
    ]);
    expect(notices).toEqual([]);
  });
  it("lays parts one after another where no cord joins them, turned to meet in one room", async () => {
    const { answer, notices } = await assign("C-100", ["F-014:1-2", "F-014:25-26#1"], { roles: ["both", "both"] });
    expect(answer.lines[0]).toEqual({
      role: "both",
      from: "SCI/B01/P:1",
      to: "LIB/102/B:1",
      sections: ["F-014:1", "F-014:25#1", "F-021:1"],
    });
    expect(notices).toEqual([]);
    // F-021 runs from MH-03 to LIB/102: it is told backwards when it goes on from there.
    await act(plant, "circuit.enter", { tag: "C-300" });
    const back = await assign("C-300", ["F-014:27#1", "F-021:7"]);
    expect(back.answer.lines[0]).toMatchObject({ from: "LIB/101/A:12", to: "end A of F-021:7" });
    const apart = await assign("C-200", ["F-014:3-4", "F-021:5-6"], { roles: ["both", "both"] });
    expect(apart.notices).toContain("F-014:3 and F-021:5 don't meet in one room on record.");
  });
  it("says when a strand is broken on record", async () => {
    const [strand] = await plant.find("strand", { number: 1 });
    await plant.change("strand", strand?.id ?? 0, { condition: "broken" });
    expect((await assign("C-100", ["F-014:1-2"])).notices).toContain("F-014:1 is broken on record.");
  });
  it("goes on counting where the circuit has glass already", async () => {
    await assign("C-100", ["F-014:1"]);
    await assign("C-100", ["F-014:27#1"]);
    expect((await plant.find("assignment")).map(({ ordinal }) => ordinal)).toEqual([1, 2, 3]);
  });
});

describe("what giving a circuit glass refuses", () => {
  it("glass of another circuit on the same days, naming it, unless told", async () => {
    await assign("C-100", ["F-014:1-2"]);
    const error = await refused(plant, "circuit.assign", { circuit: "C-200", what: ["F-014:2-3"] });
    expect(error).toMatchObject({
      code: "not_possible",
      problems: [{ field: "what", record: "F-014:2", reason: "is given to C-100 already" }],
    });
    const again = await refused(plant, "circuit.assign", { circuit: "C-100", what: ["F-014:1"] });
    expect(again.message).toBe("F-014:1 is given to C-100 already.");
    const { notices } = await assign("C-200", ["F-014:2-3"], { even_if_taken: true, roles: ["both", "both"] });
    expect(notices).toContain("F-014:2 is given to C-100 already.");
  });
  // The four cases that are no fault: two bands, one riding on the other, one ending the day the other begins, retired.
  it("nothing where light, days or design keep them apart", async () => {
    await assign("C-100", ["F-014:1"], { band: "1310", until_on: "2031-06-01" });
    await assign("C-200", ["F-014:1"], { band: "1530-1565" });
    await act(plant, "circuit.enter", { tag: "C-300" });
    await assign("C-300", ["F-014:1"], { band: "1310", from_on: "2031-06-01" });
    await act(plant, "circuit.enter", { tag: "C-400", rides_on: "C-100" });
    await act(plant, "circuit.enter", { tag: "C-401", rides_on: "C-100" });
    await assign("C-100", ["F-014:5"]);
    await assign("C-400", ["F-014:5"]);
    const both = await refused(plant, "circuit.assign", { circuit: "C-401", what: ["F-014:5"] });
    expect(both.problems).toEqual([{ field: "what", record: "F-014:5", reason: "is given to C-400 already" }]);
    const shared = await refused(plant, "circuit.assign", { circuit: "C-400", what: ["F-014:1"], band: "1550" });
    expect(shared.problems[0]?.reason).toBe("is given to C-200 already (1530-1565 nm)");
  });
  it("forks, and strands of unequal number in the parts", async () => {
    await act(plant, "strand.land", { strands: "F-030:1", ports: "LIB/101/A:1#1", end: "A", even_if_taken: true });
    const fork = await refused(plant, "circuit.assign", { circuit: "C-100", what: ["LIB/101/A:1#1"] });
    expect(fork).toMatchObject({ code: "not_possible", problems: [{ record: "LIB/101/A:1#1" }] });
    expect(fork.message).toMatch(/forks/);
    const parts = await refused(plant, "circuit.assign", { circuit: "C-100", what: ["F-014:3-4", "F-021:1"] });
    expect(parts.problems).toEqual([
      { row: 2, field: "what", record: "F-021:1", reason: "is 1 strand; F-014:3-4 is 2" },
    ]);
  });
  it("a ring, one line named twice, a cut strand without its section, bare ports", async () => {
    await act(plant, "splice.range", { from: "F-030:1", to: "F-030:1", from_end: "A", to_end: "B", at: "LIB/101" });
    expect((await refused(plant, "circuit.assign", { circuit: "C-100", what: ["F-030:1"] })).message).toMatch(/ring/);
    const twice = await refused(plant, "circuit.assign", { circuit: "C-100", what: ["F-014:25#1", "F-021:1"] });
    expect(twice).toMatchObject({ code: "bad_input", problems: [{ record: "F-021:1" }] });
    const cut = await refused(plant, "circuit.assign", { circuit: "C-100", what: ["F-014:30"] });
    expect(cut).toMatchObject({ code: "ambiguous", problems: [{ record: "F-014:30" }] });
    const bare = await refused(plant, "circuit.assign", { circuit: "C-100", what: ["LIB/101/A:9"] });
    expect(bare.message).toBe("No glass lies on LIB/101/A:9.");
  });
  it("days that run backwards, wavelengths that can't be read, a wrong number of roles", async () => {
    const what = ["F-014:1-2"];
    const days = { circuit: "C-100", what, from_on: "2031-06-01", until_on: "2031-06-01" };
    expect((await refused(plant, "circuit.assign", days)).problems[0]).toMatchObject({ field: "until_on" });
    const band = await refused(plant, "circuit.assign", { circuit: "C-100", what, band: "red" });
    expect(band.problems[0]).toMatchObject({ field: "band", record: "red" });
    const roles = await refused(plant, "circuit.assign", { circuit: "C-100", what, roles: ["both"] });
    expect(roles.problems[0]).toMatchObject({ field: "roles" });
    expect(await plant.find("assignment")).toEqual([]);
  });
});

describe("circuits below one splitter", () => {
  beforeEach(async () => {
    await act(plant, "module.enter", {
      kind: "splitter",
      tag: "SP1",
      in: "SCI/B01",
      inputs: [{ numbers: "IN", connector: "lc", takes: "strand" }],
      outputs: [{ numbers: "1..2", connector: "lc" }],
    });
    await act(plant, "strand.land", { strands: "F-014:13", ports: "SCI/B01/SP1:IN" });
  });
  it("share the strand that feeds its input, each told from its own output", async () => {
    const one = await assign("C-100", ["SCI/B01/SP1:1"]);
    expect(one.answer.lines[0]?.sections).toEqual(["F-014:13"]);
    await assign("C-200", ["SCI/B01/SP1:2"]);
    expect(await plant.find("assignment")).toHaveLength(2);
  });
  it("don't share it on one output", async () => {
    await assign("C-100", ["SCI/B01/SP1:1"]);
    const error = await refused(plant, "circuit.assign", { circuit: "C-200", what: ["SCI/B01/SP1:1"] });
    expect(error.problems).toEqual([{ field: "what", record: "F-014:13", reason: "is given to C-100 already" }]);
  });
  it("are refused from the side where the light forks", async () => {
    expect((await refused(plant, "circuit.assign", { circuit: "C-100", what: ["F-014:13"] })).message).toMatch(/forks/);
  });
});

describe("releasing a circuit", () => {
  it("ends its hold on the day, and another circuit may follow", async () => {
    await assign("C-100", ["F-014:1-2"], { from_on: "2030-01-01" });
    const { answer } = await act(
      plant,
      "circuit.release",
      { circuit: "C-100", retire: true },
      { ...TESTER, day: "2031-05-02" },
    );
    expect(answer).toEqual({ released: 2 });
    expect((await plant.find("assignment")).map(({ until_on }) => until_on)).toEqual(["2031-05-02", "2031-05-02"]);
    expect(await circuitRow("C-100")).toMatchObject({ state: "retired", state_since: "2031-05-02" });
    await assign("C-200", ["F-014:1-2"], { from_on: "2031-05-02" });
  });
  it("gives back some strands only, and refuses those it doesn't have", async () => {
    await assign("C-100", ["F-014:1-2"]);
    const error = await refused(plant, "circuit.release", { circuit: "C-100", strands: "F-014:2-3" });
    expect(error.problems).toEqual([{ field: "strands", record: "F-014:3", reason: "is not given to C-100" }]);
    await act(plant, "circuit.release", { circuit: "C-100", strands: "F-014:2" });
    expect((await plant.find("assignment")).filter(({ until_on }) => until_on === null)).toHaveLength(1);
  });
  it("deletes in a correction what never was", async () => {
    await assign("C-100", ["F-014:1-2"]);
    await act(plant, "circuit.release", { circuit: "C-100" }, { ...TESTER, meaning: "correction" });
    expect(await plant.find("assignment")).toEqual([]);
    expect((await refused(plant, "circuit.release", { circuit: "C-100" })).message).toBe("C-100 has no glass.");
  });
});

describe("a circuit of one strand from an optic of two positions", () => {
  it("takes the strand that is there, for both ways, and says what is left out", async () => {
    await act(plant, "device.enter", {
      tag: "SW-9",
      space: "LIB/101",
      ports: [{ numbers: "1", connector: "lc_duplex" }],
    });
    await act(plant, "cord.patch", { from: "LIB/101/SW-9:1#1", to: "LIB/101/A:5#1", fibres: 1 });
    await act(plant, "circuit.enter", { tag: "C-900", strands: 1, state: "in_service" });
    const { answer, notices } = await act<Assigned>(plant, "circuit.assign", {
      circuit: "C-900",
      what: ["LIB/101/SW-9:1"],
    });
    expect(answer.lines.map(({ role, sections }) => [role, sections])).toEqual([["both", ["F-014:9"]]]);
    expect(notices.filter((words) => /transmit|needs 1 strand/.test(words))).toEqual([]);
    expect(notices).toContain("LIB/101/SW-9:1#2 has no strand behind it and is left out.");
  });
});
