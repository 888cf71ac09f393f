/**
 * The published examples of RFC 7946: section 1.5 and appendix A (coordinates as printed there, written down from memory).
 * Each is valid by an independent reader; what one place or way can't have is refused in words and not dropped.
 */
import { check } from "@placemarkio/check-geojson";
import { beforeEach, describe, expect, it } from "vitest";
import type { MapRehearsal } from "../../core/operations/subjects/maps.ts";
import { newPlant, type TestPlant } from "../support/plant.ts";

let plant: TestPlant;
beforeEach(async () => {
  plant = await newPlant();
});

const SQUARE = [
  [100.0, 0.0],
  [101.0, 0.0],
  [101.0, 1.0],
  [100.0, 1.0],
  [100.0, 0.0],
];
const HOLE = [
  [100.8, 0.8],
  [100.8, 0.2],
  [100.2, 0.2],
  [100.2, 0.8],
  [100.8, 0.8],
];
const LINE = [
  [100.0, 0.0],
  [101.0, 1.0],
];
const OTHER = [
  [102.0, 2.0],
  [103.0, 3.0],
];

const fate = async (geometry: unknown) => {
  const text = JSON.stringify({ type: "Feature", properties: { tag: "X" }, geometry });
  expect(() => check(text)).not.toThrow();
  const { fates } = await plant.run<MapRehearsal>("map.rehearse", { text });
  const one = fates[0];
  return [one?.fate, one?.kind, one?.problems[0]?.reason ?? one?.notices[0] ?? null];
};

describe("appendix A", () => {
  it.each([
    ["A.1 point", { type: "Point", coordinates: [100.0, 0.0] }, ["new", "space", null]],
    ["A.2 line", { type: "LineString", coordinates: LINE }, ["new", "pathway", null]],
    ["A.3 polygon", { type: "Polygon", coordinates: [SQUARE] }, ["new", "building", null]],
    [
      "A.3 polygon with a hole",
      { type: "Polygon", coordinates: [SQUARE, HOLE] },
      ["new", "building", "has an outline with holes; only its outer ring is recorded"],
    ],
    [
      "A.4 points",
      { type: "MultiPoint", coordinates: LINE },
      ["refused", null, "has 2 parts (MultiPoint); one is recorded"],
    ],
    [
      "A.5 lines",
      { type: "MultiLineString", coordinates: [LINE, OTHER] },
      ["refused", null, "has 2 parts (MultiLineString); one is recorded"],
    ],
    [
      "A.6 polygons",
      { type: "MultiPolygon", coordinates: [[SQUARE], [SQUARE, HOLE]] },
      ["refused", null, "has 2 parts (MultiPolygon); one is recorded"],
    ],
    [
      "A.7 collection of a point and a line",
      {
        type: "GeometryCollection",
        geometries: [
          { type: "Point", coordinates: [100.0, 0.0] },
          { type: "LineString", coordinates: LINE },
        ],
      },
      ["refused", "pathway", "is a line: a pathway takes a line"],
    ],
  ])("%s", async (_name, geometry, expected) => {
    expect(await fate(geometry)).toEqual(expected);
  });

  it("takes a geometry of one part for that part", async () => {
    expect(await fate({ type: "MultiPoint", coordinates: [[100.0, 0.0]] })).toEqual(["new", "space", null]);
    expect(await fate({ type: "MultiLineString", coordinates: [LINE] })).toEqual(["new", "pathway", null]);
  });

  it("leaves a height out and says so (section 3.1.1)", async () => {
    expect((await fate({ type: "Point", coordinates: [100.0, 0.0, 12.5] }))[2]).toMatch(/^has heights/);
  });
});

describe("section 1.5", () => {
  it("is read as three features, whose properties are no fields of ours", async () => {
    const text = JSON.stringify({
      type: "FeatureCollection",
      features: [
        {
          type: "Feature",
          id: "A",
          geometry: { type: "Point", coordinates: [102.0, 0.5] },
          properties: { prop0: "value0" },
        },
        {
          type: "Feature",
          id: "B",
          geometry: {
            type: "LineString",
            coordinates: [
              [102.0, 0.0],
              [103.0, 1.0],
              [104.0, 0.0],
              [105.0, 1.0],
            ],
          },
          properties: { prop0: "value0", prop1: 0.0 },
        },
        {
          type: "Feature",
          geometry: { type: "Polygon", coordinates: [SQUARE] },
          properties: { prop0: "value0", prop1: { this: "that" } },
        },
      ],
    });
    const answer = await plant.run<MapRehearsal>("map.rehearse", { text });
    // The third has neither a tag nor an id, so nobody can say which building it is.
    expect(answer.fates.map(({ record, kind, fate: of }) => [record, kind, of])).toEqual([
      ["A", "space", "new"],
      ["B", "pathway", "new"],
      ["feature 3", null, "refused"],
    ]);
    expect(answer.unknown).toEqual([
      { property: "prop0", features: 2 },
      { property: "prop1", features: 1 },
    ]);
  });
});
