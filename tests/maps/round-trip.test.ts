/** Out to GeoJSON and back: valid by an independent reader of RFC 7946, and reading it changes nothing. */
import { check } from "@placemarkio/check-geojson";
import fc from "fast-check";
import { beforeAll, describe, expect, it } from "vitest";
import type { Collection } from "../../core/maps/collection.ts";
import { readShape } from "../../core/maps/shape.ts";
import type { MapRehearsal } from "../../core/operations/subjects/maps.ts";
import { storyClock } from "../../samples/campus/crew.ts";
import { newSample } from "../support/made.ts";
import { newPlant, type TestPlant } from "../support/plant.ts";

let plant: TestPlant;
beforeAll(async () => {
  plant = await newSample({ readOnly: true, clock: storyClock() });
});

const out = async (from: TestPlant) =>
  (await from.run<{ collection: Collection; without: number }>("map.export", {})).collection;

describe("the demo campus as GeoJSON", () => {
  it("is valid by a reader that isn't ours", async () => {
    const collection = await out(plant);
    expect(() => check(JSON.stringify(collection))).not.toThrow();
    expect(collection.features.length).toBeGreaterThan(60);
  });

  it("has outer rings that run counter-clockwise (RFC 7946, section 3.1.6)", async () => {
    const rings = (await out(plant)).features.flatMap(({ geometry }) =>
      geometry?.type === "Polygon" ? (geometry.coordinates as number[][][]) : [],
    );
    expect(rings.length).toBeGreaterThan(10);
    for (const ring of rings) {
      // Twice the signed area, by the shoelace formula.
      const area = ring.slice(1).reduce((sum, [x = 0, y = 0], i) => {
        const [px = 0, py = 0] = ring[i] ?? [];
        return sum + px * y - x * py;
      }, 0);
      expect(area).toBeGreaterThan(0);
    }
  });

  it("changes nothing when it is read back", async () => {
    const collection = await out(plant);
    const answer = await plant.run<MapRehearsal>("map.rehearse", { text: JSON.stringify(collection) });
    expect(answer.totals).toMatchObject({ new: 0, changed: 0, refused: 0, same: collection.features.length });
    expect(answer).toMatchObject({ far: 0, swapped: 0, unknown: [] });
  });

  it("makes the same places and ways in an empty plant", async () => {
    const other = await newPlant();
    const parties = await plant.store.read((reader) =>
      reader.rows<{ tag: string; name: string }>("select tag, name from party"),
    );
    for (const values of parties) await other.run("record.add", { kind: "party", values });
    const collection = await out(plant);
    const bare = collection.features.map((one) => {
      const { life_job: _job, basis_visit: _visit, basis_paper: _paper, ...properties } = one.properties;
      return { ...one, properties };
    });
    await other.run("map.import", { text: JSON.stringify({ ...collection, features: bare }) });
    expect((await out(other)).features).toEqual(bare);
  });
});

describe("positions of any campus", () => {
  const degrees = (most: number) => fc.double({ min: -most, max: most, noNaN: true }).map((value) => value + 0);
  it("come back as they were", () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(degrees(180), degrees(90)), { minLength: 2, maxLength: 20 }), (coordinates) => {
        const text = JSON.stringify({ type: "LineString", coordinates });
        expect(readShape(JSON.parse(text), false).line).toEqual(coordinates);
        const turned = coordinates.map(([x, y]) => [y, x]);
        expect(readShape({ type: "LineString", coordinates: turned }, true).line).toEqual(coordinates);
      }),
    );
  });
});
