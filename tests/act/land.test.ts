import { beforeEach, describe, expect, it } from "vitest";
import { act, type Campus, campus, refused } from "./campus.ts";

let plant: Campus;
beforeEach(async () => {
  plant = await campus();
  await act(plant, "panel.enter", {
    tag: "A",
    space: "LIB/101",
    ports: [{ numbers: "01..24", connector: "lc_duplex" }],
  });
});

interface Landed {
  readonly landed: number;
  readonly pairs: readonly { readonly strand: string; readonly position: string }[];
}

describe("landing a range of strands", () => {
  it("fills duplex ports in pairs A, B with the ends that lie in the room", async () => {
    const { answer, summary } = await act<Landed>(plant, "strand.land", {
      strands: "F-014:1-24",
      ports: "LIB/101/A:01-12",
      method: "pigtail",
    });
    expect(summary).toBe("Land F-014:1-24 on LIB/101/A:01-12");
    expect(answer.landed).toBe(24);
    expect(answer.pairs[0]).toEqual({ strand: "F-014:1", position: "LIB/101/A:01#1" });
    expect(answer.pairs[3]).toEqual({ strand: "F-014:4", position: "LIB/101/A:02#2" });
    const landed = await plant.find("termination");
    expect(landed.every(({ side, method, life }) => side === "A" && method === "pigtail" && life === "in_place")).toBe(
      true,
    );
  });
  it("takes the half of a cut strand that ends there", async () => {
    const { answer } = await act<Landed>(plant, "strand.land", { strands: "F-014:25-26", ports: "LIB/101/A:13" });
    expect(answer.pairs.map(({ strand }) => strand)).toEqual(["F-014:25#1", "F-014:26#1"]);
  });
  it("keeps the order in which strands and positions are written", async () => {
    const { answer } = await act<Landed>(plant, "strand.land", {
      strands: "F-014:2,1,12",
      ports: "LIB/101/A:05#B,05#A,04#1",
    });
    expect(answer.pairs.map(({ strand, position }) => `${strand} ${position}`)).toEqual([
      "F-014:2 LIB/101/A:05#2",
      "F-014:1 LIB/101/A:05#1",
      "F-014:12 LIB/101/A:04#1",
    ]);
  });
  it("counts places in the tray of the pigtails and says when it holds too many", async () => {
    await act(plant, "closure.enter", {
      tag: "D1",
      space: "LIB/101",
      kind: "drawer",
      trays: [{ numbers: "T1", capacity: 4 }],
    });
    const { notices } = await act(plant, "strand.land", {
      strands: "F-014:1-6",
      ports: "LIB/101/A:01-03",
      method: "pigtail",
      tray: "LIB/101/D1/T1",
      place: 1,
    });
    expect(notices).toEqual(["LIB/101/D1/T1 takes 4 splices; it would hold 6."]);
    expect((await plant.find("termination")).map(({ place }) => place)).toEqual([1, 2, 3, 4, 5, 6]);
    const error = await refused(plant, "strand.land", {
      strands: "F-014:7-8",
      ports: "LIB/101/A:04",
      tray: "LIB/101/D1/T1",
      place: 6,
    });
    expect(error.problems[0]).toMatchObject({ field: "place", reason: "has something in place 6 already" });
  });
});

describe("what landing doubts", () => {
  it("says that a 250 µm strand takes no connector directly", async () => {
    const { notices } = await act(plant, "strand.land", {
      strands: "F-014:1-2",
      ports: "LIB/101/A:01",
      method: "direct",
    });
    expect(notices).toHaveLength(1);
    expect(notices[0]).toMatch(/F-014:1-2 has strands of 250 µm/);
  });
  it("goes by the coating where that is known, whatever the cable is", async () => {
    const [tube] = await plant.find("unit");
    await plant.change("unit", tube?.id ?? 0, { coating_um: "900" });
    const thick = await act(plant, "strand.land", { strands: "F-014:1-2", ports: "LIB/101/A:01", method: "direct" });
    expect(thick.notices).toEqual([]);
    const thin = await act(plant, "strand.land", { strands: "F-014:13-14", ports: "LIB/101/A:02", method: "direct" });
    expect(thin.notices).toHaveLength(1);
  });
  it("is silent for a tight-buffered strand", async () => {
    const { notices } = await act(plant, "strand.land", {
      strands: "F-030:1-2",
      ports: "LIB/101/A:01",
      method: "direct",
      end: "A",
    });
    expect(notices).toEqual([]);
  });
});

describe("what landing refuses", () => {
  it("unequal lengths, with both counts", async () => {
    const error = await refused(plant, "strand.land", { strands: "F-014:1-24", ports: "LIB/101/A:01-10" });
    expect(error).toMatchObject({
      code: "not_possible",
      message: "24 strands, but 20 positions.",
      problems: [
        { field: "strands", record: "F-014:1-24", reason: "is 24 strands" },
        { field: "ports", record: "LIB/101/A:01-10", reason: "is 20 positions of 10 ports" },
      ],
    });
  });
  it("strands without an end in the room, saying where they end", async () => {
    const error = await refused(plant, "strand.land", { strands: "F-021:1-2", ports: "LIB/101/A:01" });
    expect(error).toMatchObject({ code: "not_possible", message: "F-021:1-2 has no end in LIB/101." });
    expect(error.problems).toHaveLength(1);
    expect(error.problems[0]?.reason).toBe("has no end in LIB/101, but end A in MH-03, end B in LIB/102");
  });
  it("to guess between two ends in the room", async () => {
    const error = await refused(plant, "strand.land", { strands: "F-030:1-2", ports: "LIB/101/A:01" });
    expect(error).toMatchObject({ code: "ambiguous", problems: [{ field: "end", record: "F-030:1-2" }] });
    await act(plant, "strand.land", { strands: "F-030:1-2", ports: "LIB/101/A:01", end: "B" });
    expect((await plant.find("termination")).map(({ side }) => side)).toEqual(["B", "B"]);
  });
  it("what is taken, naming each, unless told to record it", async () => {
    await act(plant, "strand.land", { strands: "F-014:1-2", ports: "LIB/101/A:01" });
    const again = { strands: "F-014:2-3", ports: "LIB/101/A:01#2,02#1" };
    const error = await refused(plant, "strand.land", again);
    expect(error).toMatchObject({
      code: "not_possible",
      problems: [
        { row: 1, field: "strands", record: "F-014:2", reason: "has landed already with its end A, on LIB/101/A:01#2" },
        { row: 1, field: "ports", record: "LIB/101/A:01#2", reason: "is taken already by F-014:2" },
      ],
    });
    const { notices } = await act(plant, "strand.land", { ...again, even_if_taken: true });
    expect(notices).toHaveLength(2);
    expect(await plant.find("termination")).toHaveLength(4);
  });
  it("a device's port, strands beyond the count, and a cable that isn't there", async () => {
    await act(plant, "device.enter", {
      tag: "SW-1",
      space: "LIB/101",
      ports: [{ numbers: "1", connector: "lc_duplex" }],
    });
    const device = await refused(plant, "strand.land", { strands: "F-014:1-2", ports: "LIB/101/SW-1:1" });
    expect(device).toMatchObject({ code: "not_possible", problems: [{ record: "LIB/101/SW-1:1" }] });
    const beyond = await refused(plant, "strand.land", { strands: "F-014:47-50", ports: "LIB/101/A:01-02" });
    expect(beyond).toMatchObject({ code: "not_found", problems: [{ field: "strands" }] });
    const zero = await refused(plant, "strand.land", { strands: "F-014:0-1", ports: "LIB/101/A:01" });
    expect(zero.problems[0]).toMatchObject({ field: "strands", record: "F-014:0-1" });
    expect((await refused(plant, "strand.land", { strands: "F-999:1-2", ports: "LIB/101/A:01" })).code).toBe(
      "not_found",
    );
    expect(await plant.find("termination")).toEqual([]);
  });
});
