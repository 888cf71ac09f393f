/** The campus from above: where things lie, what has no place, and what is asked about on it. */
import fc from "fast-check";
import { beforeEach, describe, expect, it } from "vitest";
import type { PlanAnswer } from "../../core/campus-plan/answer.ts";
import { flatAround } from "../../core/model/flat.ts";
import { apart } from "../../core/model/lines.ts";
import { newPlant, type TestPlant } from "../support/plant.ts";

let plant: TestPlant;
const add = (kind: string, values: Record<string, unknown>) => plant.run("record.add", { kind, values });
const show = (...of: string[]) => plant.run<PlanAnswer>("campus.plan", { of });

/** A degree of a great circle on a sphere of 6371.0088 km. */
const DEGREE_M = 111_195.08;
/** A spot so many metres east and north of 10° E, 0° N, where a degree is the same both ways. */
const at = (east: number, north: number): [number, number] => [10 + east / DEGREE_M, north / DEGREE_M];
const put = (east: number, north: number) => ({ longitude: at(east, north)[0], latitude: at(east, north)[1] });

/**
 * LIB (an outline of 40 by 20 m, and a room without coordinates) - DB-1 - MH-1 - DB-2 - HH-2 - DB-3 - HH-3.
 * DB-1 has a line of its own, DB-2 none, and HH-3 isn't on the map, so that DB-3 can't be drawn.
 */
beforeEach(async () => {
  plant = await newPlant();
  await add("building", { tag: "LIB", outline: [at(0, 0), at(40, 0), at(40, 20), at(0, 20), at(0, 0)] });
  await add("space", { tag: "1", building_id: "LIB", kind: "entrance_room" });
  await add("space", { tag: "MH-1", kind: "maintenance_hole", ...put(100, 10), accuracy_m: 0.5 });
  await add("space", { tag: "HH-2", kind: "hand_hole", ...put(100, 210) });
  await add("space", { tag: "HH-3", kind: "hand_hole" });
  await add("pathway", {
    ...{ tag: "DB-1", kind: "duct_bank", from_space_id: "LIB/1", to_space_id: "MH-1", length_m: 61 },
    geometry: [at(40, 10), at(100, 10)],
  });
  await add("pathway", { tag: "DB-2", from_space_id: "MH-1", to_space_id: "HH-2", length_m: 204 });
  await add("pathway", { tag: "DB-3", from_space_id: "HH-3", to_space_id: "HH-3", length_m: 10 });
  await add("conduit", { tag: "1", pathway_id: "DB-1" });
  const cable = (tag: string, ...stops: object[]) =>
    plant.run("cable.enter", { tag, units: [{ kind: "tube", repeats: 1, strands: 2, coating_um: "250" }], stops });
  await cable(
    "F-1",
    { space: "LIB/1", way: { conduit: "DB-1/1" } },
    { space: "MH-1", way: { pathway: "DB-2" } },
    { space: "HH-2" },
  );
  await cable("F-2", { space: "MH-1" }, { space: "HH-2" });
});

const near = (spot: readonly number[] | null | undefined, east: number, north: number, middle: readonly number[]) => {
  expect(spot?.[0]).toBeCloseTo(east - (middle[0] ?? 0), 2);
  expect(spot?.[1]).toBeCloseTo(north - (middle[1] ?? 0), 2);
};

describe("places and ways where they lie", () => {
  it("are told in metres east and north of the middle", async () => {
    const { places, middle, extent_m } = await show();
    // Everything lies from 0 to 100 m east and 0 to 210 m north.
    expect(middle?.[0]).toBeCloseTo(at(50, 105)[0], 7);
    expect(middle?.[1]).toBeCloseTo(at(50, 105)[1], 7);
    expect(extent_m?.map((one) => Math.round(one))).toEqual([-50, -105, 50, 105]);
    const byTag = new Map(places.map((one) => [one.ref.tag, one]));
    near(byTag.get("MH-1")?.at, 100, 10, [50, 105]);
    expect(byTag.get("MH-1")).toMatchObject({ from: "own", accuracy_m: 0.5, kind: "maintenance_hole" });
  });

  it("stand in for what has no coordinates: a building's outline for it, the building for its room", async () => {
    const { places } = await show();
    const [building, room] = [
      places.find(({ ref }) => ref.tag === "LIB"),
      places.find(({ ref }) => ref.tag === "LIB/1"),
    ];
    near(building?.at, 20, 10, [50, 105]);
    near(room?.at, 20, 10, [50, 105]);
    expect([building?.from, room?.from]).toEqual(["outline", "building"]);
  });

  it("are drawn by their own line, straight without one, and listed where they can't be drawn", async () => {
    const { ways, unplaced, sentence } = await show();
    expect(ways.map(({ ref, shape, cables }) => [ref.tag, shape, cables])).toEqual([
      ["DB-1", "own", 1],
      ["DB-2", "straight", 1],
      ["DB-3", null, 0],
    ]);
    expect(unplaced.map(({ tag }) => tag)).toEqual(["HH-3", "DB-3"]);
    expect(sentence).toMatch(/2 can't be drawn: no coordinates are on record\. 1 way is drawn straight/);
  });

  it("are left out when they were removed", async () => {
    await plant.run("record.edit", { kind: "pathway", id: "DB-3", values: { life: "removed" } });
    expect((await show()).ways.map(({ ref }) => ref.tag)).toEqual(["DB-1", "DB-2"]);
  });

  it("say when nothing is on record at all", async () => {
    const empty = await newPlant();
    expect(await empty.run("campus.plan", {})).toMatchObject({
      extent_m: null,
      sentence: "No place is on record yet.",
    });
  });
});

describe("what is asked about", () => {
  it("is a cable's course, stop by stop, with the sum of its ways", async () => {
    const { asked, sentence } = await show("F-1");
    expect(asked[0]?.stops.map(({ space }) => space?.tag)).toEqual(["LIB/1", "MH-1", "HH-2"]);
    expect(asked[0]?.legs.map(({ way, conduit, shape }) => [way?.tag, conduit?.tag, shape])).toEqual([
      ["DB-1", "DB-1/1", "own"],
      ["DB-2", undefined, "straight"],
    ]);
    expect(asked[0]?.length_m).toBe(265);
    expect(sentence.replace(/\s/g, " ")).toBe("F-1 lies in 2 ways by 3 stops, 265 m of way. 1 way is drawn straight.");
  });

  it("has no length where a way is not on record, and says which", async () => {
    const { asked, sentence } = await show("F-2");
    expect(asked[0]).toMatchObject({
      length_m: null,
      lacks: ["a way of F-2"],
      legs: [{ way: null, shape: "straight" }],
    });
    expect(sentence).toContain("1 stretch has no way on record.");
  });

  it("is for a strand the cables its glass runs in", async () => {
    await plant.run("panel.enter", { tag: "P", space: "HH-2", ports: [{ numbers: "1", connector: "lc" }] });
    await plant.run("strand.land", { strands: "F-1:1", ports: "HH-2/P:1", method: "pigtail" });
    const { asked } = await show("HH-2/P:1");
    expect(asked[0]?.record.kind).toMatch(/^(port|position)$/);
    expect(asked[0]?.stops.map(({ space }) => space?.tag)).toEqual(["LIB/1", "MH-1", "HH-2"]);
  });

  it("ends where a strand is cut: the other half of its cable isn't on its way", async () => {
    await plant.run("closure.enter", {
      tag: "C",
      space: "MH-1",
      kind: "dome",
      trays: [{ numbers: "T1", capacity: 12 }],
    });
    await plant.run("cable.open", { cable: "F-1", stop: "MH-1", cut: "1", closure: "MH-1/C" });
    expect((await show("F-1:1#1")).asked[0]?.legs.map(({ way }) => way?.tag)).toEqual(["DB-1"]);
    expect((await show("F-1:1#2")).asked[0]?.legs.map(({ way }) => way?.tag)).toEqual(["DB-2"]);
  });

  it("tells of several things what all of them lie in", async () => {
    const { shared, sentence } = await show("F-1", "F-2");
    expect(shared.map(({ tag }) => tag)).toEqual(["MH-1", "HH-2"]);
    expect(sentence).toMatch(/They share MH-1 and HH-2\.$/);
  });

  it("may be a pipe, which lies where its way does", async () => {
    expect((await show("DB-1/1")).asked[0]).toMatchObject({
      legs: [{ way: { tag: "DB-1" }, conduit: { tag: "DB-1/1" } }],
    });
  });

  it("refuses what isn't on record", async () => {
    expect(await plant.call("campus.plan", { of: ["F-99"] })).toMatchObject({
      ok: false,
      error: { code: "not_found" },
    });
  });
});

describe("a campus laid flat", () => {
  const near180 = fc.double({ min: -180, max: 180, noNaN: true });
  const lat = fc.double({ min: -65, max: 65, noNaN: true });
  const off = fc.double({ min: -0.02, max: 0.02, noNaN: true });
  it("has distances that agree with those on the sphere within one part in a thousand", () => {
    fc.assert(
      fc.property(near180, lat, off, off, off, off, (x, y, dx, dy, ex, ey) => {
        const wrap = (value: number) => (value > 180 ? value - 360 : value < -180 ? value + 360 : value);
        const [a, b] = [
          [wrap(x + dx), y + dy],
          [wrap(x + ex), y + ey],
        ] as const;
        const flat = flatAround([x, y]);
        const [p, q] = [flat.spot(a), flat.spot(b)];
        const drawn = Math.hypot(p[0] - q[0], p[1] - q[1]);
        expect(Math.abs(drawn - apart(a, b))).toBeLessThanOrEqual(0.001 * Math.max(drawn, 1));
      }),
    );
  });
  it("gives each position back", () => {
    fc.assert(
      fc.property(near180, lat, off, off, (x, y, dx, dy) => {
        const flat = flatAround([x, y]);
        const back = flat.position(flat.spot(flat.position([dx * 1e5, dy * 1e5])));
        const spot = flat.spot(back);
        expect(Math.hypot(spot[0] - dx * 1e5, spot[1] - dy * 1e5)).toBeLessThan(1e-3);
      }),
    );
  });
});
