import { beforeEach, describe, expect, it } from "vitest";
import { act, type Campus, campus, refused } from "./campus.ts";

let plant: Campus;
beforeEach(async () => {
  plant = await campus();
  const ports = [{ numbers: "1..4", connector: "lc_duplex" }];
  await act(plant, "panel.enter", { tag: "A", space: "LIB/101", ports });
  await act(plant, "panel.enter", { tag: "B", space: "LIB/102", ports });
  await act(plant, "device.enter", { tag: "SW-1", space: "LIB/101", rack: "R1", rack_unit: 12, ports });
  for (const n of [1, 2, 3]) {
    await act(plant, "cord.patch", { from: `LIB/101/A:${n}`, to: `LIB/101/SW-1:${n}`, tag: `C-${n}` });
  }
});

const cord = async (tag: string) => (await plant.find("cord", { tag }))[0];
const front = async (panel: string, tag: string) => {
  const [owner] = await plant.find("panel", { tag: panel });
  return (await plant.find("port", { panel_id: owner?.id ?? 0, tag }))[0]?.front ?? null;
};

describe("moving a device", () => {
  it("into stock and out of it again says so of its life", async () => {
    const cords = ["C-1", "C-2", "C-3"].map((cord) => ({ cord, fate: "unplugged" }));
    await act(plant, "device.move", { device: "LIB/101/SW-1", to: null, cords });
    expect((await plant.find("device"))[0]).toMatchObject({ space_id: null, life: "in_stock" });
    await act(plant, "device.move", { device: "SW-1", to: "LIB/102" });
    expect((await plant.find("device"))[0]).toMatchObject({ life: "in_place" });
  });
  it("is refused while a cord has no fate, listing those", async () => {
    const error = await refused(plant, "device.move", {
      device: "LIB/101/SW-1",
      to: "LIB/102",
      cords: [{ cord: "C-2", fate: "unplugged" }],
    });
    expect(error).toMatchObject({ code: "not_possible" });
    expect(error.message).toBe("2 cords of LIB/101/SW-1 have no fate: say what becomes of each.");
    expect(error.problems.map(({ record }) => record)).toEqual([
      "cord C-1 from LIB/101/A:1 to LIB/101/SW-1:1",
      "cord C-3 from LIB/101/A:3 to LIB/101/SW-1:3",
    ]);
  });
  it("carries each fate out: along, away, into another port", async () => {
    const { answer, notices } = await act(plant, "device.move", {
      device: "LIB/101/SW-1",
      to: "LIB/102",
      cords: [
        { cord: "C-1", fate: "goes_along" },
        { cord: "C-2", fate: "unplugged" },
        { cord: "C-3", fate: "repatched", to: "LIB/102/B:3" },
      ],
    });
    expect(answer).toEqual({
      device: "LIB/102/SW-1",
      to: "LIB/102",
      cords: { goes_along: 1, unplugged: 1, repatched: 1 },
    });
    expect((await plant.find("device"))[0]).toMatchObject({ rack: null, rack_unit: null });
    // The far end of what went along couldn't stay in the old room.
    expect(await cord("C-1")).toMatchObject({ a_port_id: null, life: "in_place" });
    expect(notices).toEqual(["LIB/101/A:1 is not in LIB/102: the cord there hangs loose at that end."]);
    expect(await cord("C-2")).toMatchObject({ life: "removed" });
    const [b] = await plant.find("panel", { tag: "B" });
    const [far] = await plant.find("port", { panel_id: b?.id ?? 0, tag: "3" });
    expect(await cord("C-3")).toMatchObject({ a_port_id: far?.id, life: "in_place" });
    expect([await front("A", "1"), await front("A", "2"), await front("A", "3")]).toEqual(["empty", "empty", "empty"]);
    expect(await front("B", "3")).toBe("cord");
  });
  it("within the room leaves plugged what goes along", async () => {
    const before = await cord("C-1");
    await act(plant, "device.move", {
      device: "LIB/101/SW-1",
      to: "LIB/101",
      rack: "R2",
      cords: ["C-1", "C-2", "C-3"].map((one) => ({ cord: one, fate: "goes_along" })),
    });
    expect(await cord("C-1")).toEqual(before);
    expect((await plant.find("device"))[0]).toMatchObject({ rack: "R2", rack_unit: 12 });
    expect(await front("A", "1")).toBe("cord");
  });
  it("repatches into a port that another of its cords leaves in the same act", async () => {
    await act(plant, "device.move", {
      device: "LIB/101/SW-1",
      to: "LIB/101",
      cords: [
        { cord: "C-1", fate: "repatched", to: "LIB/101/A:2" },
        { cord: "C-2", fate: "unplugged" },
        { cord: "C-3", fate: "goes_along" },
      ],
    });
    expect([await front("A", "1"), await front("A", "2")]).toEqual(["empty", "cord"]);
  });
  it("refuses two cords into one port, a port that is taken, and cords of others", async () => {
    const fates = (one: object, two: object) => ({
      device: "LIB/101/SW-1",
      to: "LIB/101",
      cords: [
        { cord: "C-1", ...one },
        { cord: "C-2", ...two },
        { cord: "C-3", fate: "goes_along" },
      ],
    });
    const into = { fate: "repatched", to: "LIB/101/A:4" };
    const both = await refused(plant, "device.move", fates(into, into));
    expect(both.problems[0]?.reason).toMatch(/is where the cord C-1/);
    const taken = await refused(
      plant,
      "device.move",
      fates({ fate: "repatched", to: "LIB/101/A:3" }, { fate: "unplugged" }),
    );
    expect(taken.problems[0]).toMatchObject({ record: "LIB/101/A:3", reason: "has a cord in front already (C-3)" });
    const where = await refused(plant, "device.move", fates({ fate: "repatched" }, { fate: "unplugged" }));
    expect(where.problems[0]).toMatchObject({ row: 1, field: "to" });
    await act(plant, "cord.patch", { from: "LIB/102/B:1", to: "LIB/102/B:2", tag: "C-9" });
    const foreign = await refused(plant, "device.move", {
      device: "LIB/101/SW-1",
      to: "LIB/102",
      cords: [{ cord: "C-9", fate: "unplugged" }],
    });
    expect(foreign.problems[0]).toMatchObject({ row: 1, record: "C-9", reason: "is in no port of LIB/101/SW-1" });
  });
  it("refuses a room that has a device of that name", async () => {
    await act(plant, "device.enter", { tag: "SW-1", space: "LIB/102" });
    const error = await refused(plant, "device.move", {
      device: "LIB/101/SW-1",
      to: "LIB/102",
      cords: ["C-1", "C-2", "C-3"].map((one) => ({ cord: one, fate: "unplugged" })),
    });
    expect(error.code).toBe("duplicate");
    expect(await plant.find("cord", { life: "removed" })).toEqual([]);
  });
});
