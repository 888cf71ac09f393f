/** The plan as it is moved and walked: what is under a pixel, where an arrow leads, what a zoom leaves in place. */
import fc from "fast-check";
import { beforeAll, describe, expect, it } from "vitest";
import type { PlanAnswer, Spot } from "../../core/campus-plan/answer.ts";
import { extentOf, fitted, showing, toGround, toScreen, zoomed } from "../../renderer/views/plan/camera.ts";
import {
  ARROWS,
  alongCourse,
  drawnLength,
  half,
  inside,
  stepTo,
  type Things,
  thingsOf,
  under,
} from "../../renderer/views/plan/things.ts";
import { newPlant } from "../support/plant.ts";

const size = { width: 800, height: 500 };
const metres = fc.double({ min: -5000, max: 5000, noNaN: true });
const scale = fc.double({ min: 0.01, max: 40, noNaN: true });
const pixel = fc.tuple(fc.integer({ min: 0, max: 800 }), fc.integer({ min: 0, max: 500 }));
const near = (a: Spot, b: Spot, within = 1e-4) => Math.hypot(a[0] - b[0], a[1] - b[1]) <= within;

describe("a camera over the campus", () => {
  const camera = fc.record({ east: metres, north: metres, scale });
  it("gives each pixel's spot back", () => {
    fc.assert(fc.property(camera, pixel, (view, at) => near(toScreen(view, size, toGround(view, size, at)), at)));
  });
  it("leaves the spot under the pointer where it is when it zooms", () => {
    fc.assert(
      fc.property(camera, pixel, fc.double({ min: 0.2, max: 5, noNaN: true }), (view, at, factor) =>
        near(toScreen(zoomed(view, size, factor, at), size, toGround(view, size, at)), at, 1e-3),
      ),
    );
  });
  it("fits all it is given inside the drawing, north up", () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(metres, metres), { minLength: 1, maxLength: 20 }), (spots) => {
        const view = fitted(extentOf(spots) as never, size);
        for (const spot of spots) {
          const [x, y] = toScreen(view, size, spot);
          expect(x >= 0 && x <= size.width && y >= 0 && y <= size.height).toBe(true);
        }
        const [, up] = toScreen(view, size, [view.east, view.north + 1]);
        expect(up).toBeLessThan(size.height / 2);
      }),
    );
  });
  it("moves no further than needed to show a spot, and not at all where it is seen", () => {
    const view = { east: 0, north: 0, scale: 1 };
    expect(showing(view, size, [10, 10])).toBe(view);
    const [x] = toScreen(showing(view, size, [1000, 0]), size, [1000, 0]);
    expect(x).toBeCloseTo(800 - 44);
  });
});

/**
 * From west to east: room A/1 in building A - W-1 - MH-1 - W-2 - MH-2, with W-3 from MH-1 north to MH-3; MH-9 by itself
 * far in the east. Cable F-1 lies in W-1 and W-2.
 */
let plan: PlanAnswer;
let things: Things;
beforeAll(async () => {
  const plant = await newPlant();
  const add = (kind: string, values: Record<string, unknown>) => plant.run("record.add", { kind, values });
  const at = (east: number, north: number): [number, number] => [east / 111_195.08, north / 111_195.08];
  const space = (tag: string, east: number, north: number, more = {}) =>
    add("space", {
      tag,
      longitude: at(east, north)[0],
      latitude: at(east, north)[1],
      kind: "maintenance_hole",
      ...more,
    });
  await add("building", { tag: "A", outline: [at(0, 0), at(40, 0), at(40, 30), at(0, 30), at(0, 0)] });
  await space("1", 30, 10, { building_id: "A", kind: "entrance_room" });
  await space("2", 5, 10, { building_id: "A", kind: "telecom_room" });
  await space("MH-1", 130, 10);
  await space("MH-2", 330, 10);
  await space("MH-3", 130, 210);
  await space("MH-9", 900, 10);
  const way = (tag: string, from: string, to: string) =>
    add("pathway", { tag, from_space_id: from, to_space_id: to, kind: "duct_bank", length_m: 100 });
  await way("W-0", "A/2", "A/1");
  await way("W-1", "A/1", "MH-1");
  await way("W-2", "MH-1", "MH-2");
  await way("W-3", "MH-1", "MH-3");
  await plant.run("cable.enter", {
    tag: "F-1",
    units: [],
    stops: [{ space: "A/1", way: { pathway: "W-1" } }, { space: "MH-1", way: { pathway: "W-2" } }, { space: "MH-2" }],
  });
  plan = await plant.run<PlanAnswer>("campus.plan", { of: ["F-1"] });
  things = thingsOf(plan);
});
const tagOf = (thing: ReturnType<typeof stepTo>) => thing?.place?.ref.tag ?? thing?.way?.ref.tag ?? null;
const named = (tag: string) => things.all.find((one) => tagOf(one) === tag) ?? null;
const step = (from: string, key: string) => tagOf(stepTo(things, named(from), ARROWS[key] as Spot));

describe("arrows on the plan", () => {
  it("step from a place to the way that leads there, and from a way to its end", () => {
    expect(step("MH-1", "ArrowRight")).toBe("W-2");
    expect(step("W-2", "ArrowRight")).toBe("MH-2");
    expect(step("W-2", "ArrowLeft")).toBe("MH-1");
    expect(step("MH-1", "ArrowUp")).toBe("W-3");
    expect(step("W-3", "ArrowUp")).toBe("MH-3");
    expect(step("MH-1", "ArrowLeft")).toBe("W-1");
  });
  it("leave a building by the way out of it, not by one inside", () => {
    expect(step("A", "ArrowRight")).toBe("W-1");
  });
  it("go to what is nearest in their direction where no way leads there", () => {
    expect(step("MH-2", "ArrowRight")).toBe("MH-9");
    expect(step("MH-9", "ArrowRight")).toBeNull();
  });
  it("begin with what is asked about", () => {
    expect(tagOf(stepTo(things, null, [1, 0]))).toBe("A/1");
  });
  it("go along what is asked about, stop by stop and way by way, to its end and no further", () => {
    const walked = ["A/1"];
    for (let n = 0; n < 5; n++)
      walked.push(tagOf(alongCourse(things, named(walked.at(-1) as string)?.key ?? null, 1)) ?? "");
    expect(walked).toEqual(["A/1", "W-1", "MH-1", "W-2", "MH-2", "MH-2"]);
    expect(tagOf(alongCourse(things, named("MH-2")?.key ?? null, -1))).toBe("W-2");
  });
});

describe("what is under the pointer", () => {
  const spot = (tag: string): Spot => plan.places.find(({ ref }) => ref.tag === tag)?.at as Spot;
  const offset = ([x, y]: Spot, dx: number, dy: number): Spot => [x + dx, y + dy];
  const at = (one: Spot) => tagOf(under(things, one, 6));
  it("is a place before a way, a way before a footprint, and nothing far from all", () => {
    expect(at(spot("MH-1"))).toBe("MH-1");
    // Beside the hole's middle and right on the way that ends there.
    expect(at(offset(spot("MH-1"), 5, 0))).toBe("MH-1");
    expect(at(offset(spot("MH-1"), 60, 2))).toBe("W-2");
    expect(at(offset(spot("A"), -15, 12))).toBe("A");
    expect(at(offset(spot("MH-1"), 60, 60))).toBeNull();
  });
});

describe("lines and rings", () => {
  it("have a middle half of the way along, and a length", () => {
    const bent: Spot[] = [
      [0, 0],
      [10, 0],
      [10, 30],
    ];
    expect(half(bent)).toEqual([10, 10]);
    expect(drawnLength(bent)).toBe(40);
    expect(half([[3, 4]])).toEqual([3, 4]);
  });
  it("hold what is inside them", () => {
    const ring: Spot[] = [
      [0, 0],
      [10, 0],
      [10, 10],
      [5, 5],
      [0, 10],
      [0, 0],
    ];
    expect([inside([2, 2], ring), inside([5, 8], ring), inside([11, 2], ring)]).toEqual([true, false, false]);
  });
});
