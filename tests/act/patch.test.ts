import { beforeEach, describe, expect, it } from "vitest";
import type { ChangeView } from "../../core/store/written.ts";
import { TESTER } from "../support/plant.ts";
import { act, type Campus, campus, refused } from "./campus.ts";

let plant: Campus;
beforeEach(async () => {
  plant = await campus();
  await act(plant, "panel.enter", {
    tag: "A",
    space: "LIB/101",
    ports: [
      { numbers: "01..04", connector: "lc_duplex" },
      { numbers: "M1..M2", connector: "mpo", positions: 12 },
    ],
  });
  await act(plant, "device.enter", {
    tag: "SW-1",
    space: "LIB/101",
    ports: [{ numbers: "1..4", connector: "lc_duplex" }],
  });
});

const frontOf = async (tag: string) => (await plant.find("port", { tag }))[0]?.front ?? null;
const patch = (from: string, to: string, more: object = {}) =>
  act(plant, "cord.patch", { from: `LIB/101/${from}`, to: `LIB/101/${to}`, ...more });

describe("patching", () => {
  it("joins two duplex ports and says that cords are in front of both", async () => {
    const { answer } = await patch("A:01", "SW-1:1", { map: "crossed", length_m: 2, tag: "C-1" });
    expect(answer).toMatchObject({ from: "LIB/101/A:01", to: "LIB/101/SW-1:1", fibres: 2 });
    expect((await plant.find("cord"))[0]).toMatchObject({
      tag: "C-1",
      a_first: 1,
      b_first: 1,
      fibres: 2,
      map: "crossed",
      length_m: 2,
      life: "in_place",
    });
    expect([await frontOf("01"), await frontOf("1"), await frontOf("02")]).toEqual(["cord", "cord", null]);
  });
  it("takes a simplex cord on one position of a duplex port, and the other beside it", async () => {
    await patch("A:01#2", "SW-1:1#1", { fibres: 1 });
    await patch("A:01#1", "SW-1:1#2", { fibres: 1 });
    expect((await plant.find("cord")).map(({ a_first, b_first }) => [a_first, b_first])).toEqual([
      [2, 1],
      [1, 2],
    ]);
  });
  it("asks how many fibres a cord has when the ports don't agree or a position is named", async () => {
    for (const [from, to] of [
      ["A:01", "A:M1"],
      ["A:01#1", "SW-1:1#1"],
    ]) {
      const error = await refused(plant, "cord.patch", { from: `LIB/101/${from}`, to: `LIB/101/${to}` });
      expect(error).toMatchObject({ code: "bad_input", problems: [{ field: "fibres" }] });
    }
    await patch("A:01", "A:M1#3", { fibres: 2 });
    expect((await plant.find("cord"))[0]).toMatchObject({ a_first: 1, b_first: 3 });
  });
  it("says when another cord in place bears the number", async () => {
    await patch("A:01", "SW-1:1", { tag: "C-1" });
    expect((await patch("A:02", "SW-1:2", { tag: "C-1" })).notices).toEqual([
      "cord C-1 from LIB/101/A:01 to LIB/101/SW-1:1 bears that number already.",
    ]);
    expect((await patch("A:03", "SW-1:3", { tag: "C-2" })).notices).toEqual([]);
  });
  it("says when a plug doesn't fit or the ports are in two rooms", async () => {
    await act(plant, "panel.enter", { tag: "A", space: "LIB/102", ports: [{ numbers: "01", connector: "lc_duplex" }] });
    const { notices } = await act(plant, "cord.patch", {
      from: "LIB/101/A:01",
      to: "LIB/102/A:01",
      from_connector: "sc_duplex",
      to_connector: "lc",
    });
    expect(notices).toEqual([
      "LIB/101/A:01 and LIB/102/A:01 are not in one room.",
      "The plug is SC duplex, LIB/101/A:01 takes LC duplex.",
    ]);
  });
});

describe("what patching refuses", () => {
  it("a port with a cord in front, naming it, unless told", async () => {
    await patch("A:01", "SW-1:1", { tag: "C-1" });
    const again = { from: "LIB/101/A:01", to: "LIB/101/SW-1:2" };
    const error = await refused(plant, "cord.patch", again);
    expect(error).toMatchObject({
      code: "not_possible",
      problems: [{ field: "from", record: "LIB/101/A:01", reason: "has a cord in front already (C-1)" }],
    });
    await act(plant, "cord.patch", { ...again, even_if_taken: true });
    expect(await plant.find("cord")).toHaveLength(2);
  });
  it("positions a port doesn't have, a position to itself, and an unknown port", async () => {
    const beyond = await refused(plant, "cord.patch", { from: "LIB/101/A:01", to: "LIB/101/A:M1", fibres: 4 });
    expect(beyond.problems[0]?.reason).toBe("has 2 positions; the cord would take 1 to 4");
    const itself = await refused(plant, "cord.patch", { from: "LIB/101/A:01", to: "LIB/101/A:01" });
    expect(itself.message).toBe("A cord can't join LIB/101/A:01 to itself.");
    const unknown = await refused(plant, "cord.patch", { from: "LIB/101/A:09", to: "LIB/101/A:01" });
    expect(unknown).toMatchObject({ code: "not_found", problems: [{ field: "from" }] });
    const range = await refused(plant, "cord.patch", { from: "LIB/101/A:01-02", to: "LIB/101/SW-1:1" });
    expect(range.problems[0]).toMatchObject({ field: "from", reason: "must name one port" });
    expect(await plant.find("cord")).toEqual([]);
  });
  it("the front of a module's port whose front is inside", async () => {
    await act(plant, "module.enter", {
      kind: "cassette",
      tag: "C1",
      in: "LIB/101",
      rear: [{ numbers: "R1", connector: "mpo", positions: 12 }],
      front: [{ numbers: "01..06", connector: "lc_duplex" }],
      map: "straight",
    });
    const error = await refused(plant, "cord.patch", { from: "LIB/101/A:M1", to: "LIB/101/C1:R1" });
    expect(error.problems).toEqual([
      { field: "to", record: "LIB/101/C1:R1", reason: "has its front inside the module" },
    ]);
  });
});

describe("unplugging", () => {
  beforeEach(async () => {
    await patch("A:01", "SW-1:1", { tag: "C-1" });
    await patch("A:02", "SW-1:2");
  });
  it("keeps the cord on record as removed on the day and the bare fronts as seen empty", async () => {
    await act(plant, "cord.unplug", { cords: ["C-1"] }, { ...TESTER, day: "2031-05-02" });
    expect((await plant.find("cord", { tag: "C-1" }))[0]).toMatchObject({ life: "removed", life_until: "2031-05-02" });
    expect([await frontOf("01"), await frontOf("1"), await frontOf("02")]).toEqual(["empty", "empty", "cord"]);
    // The freed port takes a cord again.
    await patch("A:01", "SW-1:3");
  });
  it("is told in the history with the cord that was plugged and pulled, not only that there was one", async () => {
    await act(plant, "cord.unplug", { cords: ["C-1"] });
    const [pulled, , plugged] = (await plant.run<{ items: { id: number }[] }>("history.list", { limit: 3 })).items;
    const frontsOf = async (id = 0) =>
      (await plant.run<{ changes: ChangeView[] }>("history.show", { id })).changes.flatMap(({ record, fields }) =>
        fields.flatMap(({ field, before, after }) => (field === "front" ? [[record, before, after]] : [])),
      );
    const cord = expect.stringContaining("C-1");
    expect(await frontsOf(plugged?.id)).toEqual([
      ["LIB/101/A:01", null, cord],
      ["LIB/101/SW-1:1", null, cord],
    ]);
    expect(await frontsOf(pulled?.id)).toEqual([
      ["LIB/101/A:01", cord, "seen empty"],
      ["LIB/101/SW-1:1", cord, "seen empty"],
    ]);
  });
  it("finds a cord by a port it is in, or by its number", async () => {
    const cords = await plant.find("cord");
    await act(plant, "cord.unplug", { cords: ["LIB/101/SW-1:2", cords[0]?.id] });
    expect(await plant.find("cord", { life: "removed" })).toHaveLength(2);
  });
  it("leaves one end plugged when only the other is pulled", async () => {
    await act(plant, "cord.unplug", { cords: ["C-1"], at: "LIB/101/SW-1:1" });
    const [cord] = await plant.find("cord", { tag: "C-1" });
    expect(cord).toMatchObject({ life: "in_place", b_port_id: null });
    expect([await frontOf("01"), await frontOf("1")]).toEqual(["cord", "empty"]);
  });
  it("deletes what never was in a correction, and leaves what was seen", async () => {
    await act(plant, "cord.unplug", { cords: ["C-1"] }, { ...TESTER, meaning: "correction" });
    expect(await plant.find("cord", { tag: "C-1" })).toEqual([]);
    expect(await frontOf("01")).toBe("cord");
  });
  it("refuses an unknown cord, the same cord twice, two cords of one tag, and a port it isn't in", async () => {
    expect(await refused(plant, "cord.unplug", { cords: ["C-9"] })).toMatchObject({
      code: "not_found",
      problems: [{ field: "cords.0", record: "C-9" }],
    });
    const twice = await refused(plant, "cord.unplug", { cords: ["C-1", "LIB/101/A:01"] });
    expect(twice).toMatchObject({ code: "bad_input", problems: [{ row: 2 }] });
    await patch("A:03", "SW-1:3", { tag: "C-1" });
    const both = await refused(plant, "cord.unplug", { cords: ["C-1"] });
    expect(both.code).toBe("ambiguous");
    expect(both.problems).toHaveLength(2);
    const elsewhere = await refused(plant, "cord.unplug", { cords: ["LIB/101/A:01"], at: "LIB/101/A:02" });
    expect(elsewhere).toMatchObject({ code: "not_possible", problems: [{ field: "at" }] });
  });
});

describe("looking at fronts", () => {
  it("notes what was seen, and says when a cord is on record in a front seen empty", async () => {
    await patch("A:01", "SW-1:1");
    const { answer, notices } = await act(plant, "port.sight_front", { ports: "LIB/101/A:01-03", front: "empty" });
    expect(answer).toEqual({ ports: 3, changed: 3 });
    expect(notices).toEqual(["A cord is on record in LIB/101/A:01; unplug it if it is gone."]);
    expect(await frontOf("03")).toBe("empty");
  });
  it("writes nothing when it was known already", async () => {
    await act(plant, "port.sight_front", { ports: "LIB/101/A:02", front: "empty" });
    const again = await act(plant, "port.sight_front", { ports: "LIB/101/A:02", front: "empty" });
    expect(again.change_set).toBeNull();
  });
});
