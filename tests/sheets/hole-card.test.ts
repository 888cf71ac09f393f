/** The card of a hole: walls as seen from inside, what passes, what coil lies there, and the cautions. */
import fc from "fast-check";
import { beforeAll, describe, expect, it } from "vitest";
import type { Document } from "../../core/paper/document.ts";
import { layWalls, type Wall } from "../../core/paper/walls.ts";
import { type Hole, holeOf, wallByMap, wallsOf } from "../../core/sheets/hole-facts.ts";
import { resolveOne } from "../../core/store/addresses.ts";
import { newPlant, type TestPlant } from "../support/plant.ts";
import { at, plain, printedBack } from "./case-plant.ts";

/**
 * H-1 and H-2 joined by DB-1, a bank of two by two seen from H-1: P1 P2 above P3 P4. F-1 lies in P1 and goes on by DB-2,
 * of which neither wall nor line is on record, to LIB. It is opened in H-2; there its marks read 130 and 145 m and the
 * crossing is 3 m, so that 12 m are coiled.
 */
let plant: TestPlant;
beforeAll(async () => {
  plant = await newPlant();
  const add = (kind: string, values: object) => plant.run("record.add", { kind, values });
  await add("space", { tag: "H-1", kind: "maintenance_hole", hazards: "gas water", inner_length_m: 2 });
  await add("space", { tag: "H-2", kind: "hand_hole", crossing_m: 3, hazards: "traffic" });
  await add("space", { tag: "H-3", kind: "hand_hole" });
  await add("building", { tag: "LIB" });
  await add("space", { tag: "101", building_id: "LIB", kind: "telecom_room" });
  await add("pathway", {
    ...{ tag: "DB-1", kind: "duct_bank", from_space_id: "H-1", to_space_id: "H-2", length_m: 100 },
    ...{ from_wall: "north", to_wall: "west" },
    // Its line says otherwise: what somebody recorded comes first.
    geometry: [
      [10, 50],
      [10.01, 50],
    ],
  });
  await add("pathway", { tag: "DB-2", kind: "duct_bank", from_space_id: "H-2", to_space_id: "LIB/101", length_m: 60 });
  await add("pathway", {
    ...{ tag: "DB-3", kind: "direct_buried", from_space_id: "H-3", to_space_id: "H-2", length_m: 40 },
    geometry: [
      [10, 50],
      [10, 50.01],
    ],
  });
  for (const [index, state] of ["in_use", "free", "blocked", "unproven"].entries())
    await add("conduit", {
      ...{ tag: `P${index + 1}`, pathway_id: "DB-1", state },
      ...{ bank_row: Math.floor(index / 2) + 1, bank_column: (index % 2) + 1, inner_diameter_mm: 100 },
    });
  await plant.run("cable.enter", {
    tag: "F-1",
    mark_unit: "m",
    units: [{ kind: "tube", repeats: 2, strands: 12, coating_um: "250" }],
    stops: [
      { space: "H-1", mark_out: 30, way: { conduit: "DB-1/P1" } },
      { space: "H-2", mark_in: 130, mark_out: 145, way: { pathway: "DB-2" } },
      { space: "LIB/101", mark_in: 205 },
    ],
  });
  await plant.run("cable.open", { cable: "F-1", stop: "F-1@2", cut: "1-2" });
});

const hole = (tag: string): Promise<Hole> =>
  plant.store.read(async (reader) =>
    holeOf(reader, await resolveOne(reader, tag, { kinds: ["space"], field: "place" })),
  );

describe("a bank of pipes seen from both of its ends", () => {
  it.each([
    ["H-1", "North wall", ["P1", "P2"], ["P3", "P4"]],
    ["H-2", "West wall", ["P2", "P1"], ["P4", "P3"]],
  ])("is drawn in %s on the %s, from the left %s above %s", async (place, wall, above, below) => {
    const page = (await printedBack(plant, "paper.hole_card", { place })).pages[0];
    const spots = [...above, ...below].map((tag) => at(page, tag));
    const [a, b, c, d] = spots as [(typeof spots)[0], (typeof spots)[0], (typeof spots)[0], (typeof spots)[0]];
    expect([a.left < b.left, c.left < d.left]).toEqual([true, true]);
    expect([a.foot, c.foot]).toEqual([expect.closeTo(b.foot, 1), expect.closeTo(d.foot, 1)]);
    expect(a.foot).toBeGreaterThan(c.foot);
    expect(at(page, wall).foot).toBeGreaterThan(a.foot);
  });

  it("says in the table the same place as the drawing shows, and its cables", async () => {
    const [way] = (await hole("H-2")).ways;
    expect(way?.pipes.map(({ conduit, row, seen_column }) => [conduit.tag, row, seen_column])).toEqual([
      ["DB-1/P1", 1, 2],
      ["DB-1/P2", 1, 1],
      ["DB-1/P3", 2, 2],
      ["DB-1/P4", 2, 1],
    ]);
    expect(wallsOf(await hole("H-2")).find(({ name }) => name === "West wall")?.windows[0]?.pipes[0]).toMatchObject({
      tag: "P1",
      state: "in_use",
      cables: ["F-1"],
    });
  });
});

describe("the wall of a way", () => {
  it("is the one on record, else it follows from the line on the map and says so, else it is not known", async () => {
    const walls = (await hole("H-2")).ways.map(({ pathway, wall, by_map }) => [pathway.tag, wall, by_map]);
    expect(walls).toEqual([
      ["DB-1", "west", false],
      ["DB-2", null, false],
      // The line comes from the south, so seen from its end it lies to the south.
      ["DB-3", "south", true],
    ]);
    const { text } = await printedBack(plant, "paper.hole_card", { place: "H-2" });
    expect(plain(text)).toContain("direct-buried trench, wall by the map");
    // DB-3 holds neither pipe nor cable: its window says so instead of standing empty. F-1 lies loose in DB-2.
    expect(text.split("no pipe on record")).toHaveLength(2);
    expect(plain(text)).toContain("Wall not on record");
  });

  it("is the quarter of the compass in which the line leaves, degrees of longitude being shorter", () => {
    const line = (to: [number, number]) => JSON.stringify([[10, 60], [10, 60], to]);
    expect(wallByMap(line([10, 61]), "from")).toBe("north");
    expect(wallByMap(line([10, 59]), "from")).toBe("south");
    expect(wallByMap(line([11, 60]), "from")).toBe("east");
    expect(wallByMap(line([9, 60]), "from")).toBe("west");
    // At 60 degrees 1.5 degrees to the east are as long as 0.75 to the north.
    expect(wallByMap(line([11.5, 61]), "from")).toBe("north");
    expect(wallByMap(line([10, 61]), "to")).toBe("south");
    expect(
      wallByMap(
        JSON.stringify([
          [10, 60],
          [10, 60],
        ]),
        "from",
      ),
    ).toBeNull();
  });
});

describe("what lies in a hole", () => {
  it("is told cable by cable: whence, whither, and the coil that the marks leave beyond the crossing", async () => {
    expect((await hole("H-2")).cables).toMatchObject([
      { cable: { tag: "F-1" }, kind: "opened", before: "H-1 by DB-1/P1", beyond: "LIB/101 by DB-2", coil_m: 12 },
    ]);
    const { text } = await printedBack(plant, "paper.hole_card", { place: "H-2" });
    expect(plain(text)).toContain("F-1 is opened here, and no case is on record for it");
  });

  it("is cautioned by what is on record, and an empty record is no promise", async () => {
    const card = async (place: string) => plain((await printedBack(plant, "paper.hole_card", { place })).text);
    const [first, third] = [await card("H-1"), await card("H-3")];
    expect(first).toContain("On record as dangerous here: gas, water.");
    expect(first).toContain("Water stands in it");
    for (const words of ["Test the air before going in", "guard the place as the local authority asks"])
      expect([first.includes(words), third.includes(words)]).toEqual([true, true]);
    expect(third).not.toContain("Water stands in it");
    expect(third).toContain("that nobody recorded a danger does not mean that there is none");
    expect(third).toContain("No cable is on record here.");
  });
});

describe("a place without walls", () => {
  it.each([
    [{ kind: "pole" }, "What hangs at H-9"],
    [{ kind: "cabinet" }, "What comes into H-9"],
    [{ kind: "pedestal" }, "What comes into H-9"],
    [{ kind: "pull_box", environment: "riser" }, "What runs through H-9"],
  ])("%j is headed by what it is, and nothing of it is unfolded", async (values, heading) => {
    const own = await newPlant();
    await own.run("record.add", { kind: "space", values: { tag: "H-9", ...values } });
    await own.run("record.add", { kind: "space", values: { tag: "H-8", kind: "hand_hole" } });
    await own.run("record.add", { kind: "pathway", values: { tag: "TR-1", from_space_id: "H-8", to_space_id: "H-9" } });
    const { blocks } = await own.run<Document>("paper.hole_card", { place: "H-9" });
    expect(blocks).toContainEqual(expect.objectContaining({ is: "heading", text: heading }));
    expect(blocks.filter(({ is }) => is === "walls")).toEqual([]);
    expect(JSON.stringify(blocks)).not.toMatch(/wall/i);
    const hole_blocks = (await own.run<Document>("paper.hole_card", { place: "H-8" })).blocks;
    expect(hole_blocks).toContainEqual(expect.objectContaining({ text: "Walls, as seen from inside" }));
  });
});

describe("windows on a wall", () => {
  it("stay on their wall and never lie over each other, whatever enters", () => {
    const pipe = fc.record({
      tag: fc.constant("P"),
      row: fc.option(fc.integer({ min: 1, max: 4 })),
      column: fc.option(fc.integer({ min: 1, max: 9 })),
      state: fc.constant("free" as const),
      cables: fc.constant([]),
    });
    const window = fc.record({
      ...{ pathway: fc.constant("W"), to: fc.constant(null), kind: fc.constant("duct bank") },
      ...{ pipes: fc.array(pipe, { maxLength: 12 }), loose: fc.constant([]), by_map: fc.boolean() },
    });
    const walls: fc.Arbitrary<Wall[]> = fc.array(
      fc.record({ name: fc.constant("North wall"), windows: fc.array(window, { maxLength: 5 }) }),
      { minLength: 1, maxLength: 5 },
    );
    fc.assert(
      fc.property(walls, (drawn) => {
        for (const { box, windows } of layWalls({ walls: drawn }, 511).walls) {
          for (const [index, { box: own, pipes }] of windows.entries()) {
            expect(own.x).toBeGreaterThanOrEqual(box.x);
            expect(own.x + own.width).toBeLessThanOrEqual(box.x + box.width + 1e-9);
            expect(own.y + own.height).toBeLessThanOrEqual(box.y + box.height + 1e-9);
            for (const { x, y, r } of pipes) {
              expect(x - r).toBeGreaterThanOrEqual(own.x);
              expect(x + r).toBeLessThanOrEqual(own.x + own.width);
              expect(y + r).toBeLessThanOrEqual(own.y + own.height);
            }
            for (const { box: other } of windows.slice(index + 1))
              expect(
                other.x >= own.x + own.width || other.y >= own.y + own.height || own.x >= other.x + other.width,
              ).toBe(true);
          }
        }
      }),
    );
  });
});
