/** Places and ways from GeoJSON (RFC 7946): the fate of each feature, then exactly that, as one change. */
import { beforeEach, describe, expect, it } from "vitest";
import type { MapRehearsal } from "../../core/operations/subjects/maps.ts";
import { Refusal } from "../../core/result.ts";
import type { Written } from "../../core/store/written.ts";
import { newPlant, type TestPlant } from "../support/plant.ts";

let plant: TestPlant;
beforeEach(async () => {
  plant = await newPlant();
  await plant.run("record.add", {
    kind: "building",
    values: { tag: "MIL", name: "Mill", longitude: -38.6, latitude: 41.9 },
  });
  await plant.run("record.add", { kind: "space", values: { tag: "MH-1", kind: "maintenance_hole" } });
  await plant.run("record.add", {
    kind: "space",
    values: { tag: "MH-2", longitude: -38.601, latitude: 41.901, accuracy_m: 0.5 },
  });
  await plant.run("record.add", {
    kind: "pathway",
    values: { tag: "DB-1", from_space_id: "MH-1", to_space_id: "MH-2" },
  });
});

const feature = (tag: string | null, geometry: unknown, more: object = {}) => ({
  type: "Feature",
  properties: { ...(tag === null ? {} : { tag }), ...more },
  geometry,
});
const point = (...coordinates: number[]) => ({ type: "Point", coordinates });
const line = (...coordinates: number[][]) => ({ type: "LineString", coordinates });
const outline = (...ring: number[][]) => ({ type: "Polygon", coordinates: [ring] });
const SQUARE = [
  [-38.6, 41.9],
  [-38.599, 41.9],
  [-38.599, 41.901],
  [-38.6, 41.901],
  [-38.6, 41.9],
];
const map = (...features: unknown[]) => ({ text: JSON.stringify({ type: "FeatureCollection", features }) });
const rehearsed = (input: object) => plant.run<MapRehearsal>("map.rehearse", input);
const fateOf = async (...features: unknown[]) => (await rehearsed(map(...features))).fates[0];
const reason = async (...features: unknown[]) => (await fateOf(...features))?.problems[0]?.reason;
const values = async (kind: string, id: number) => {
  const rows = await plant.store.read((reader) =>
    reader.rows<Record<string, unknown>>(`select * from "${kind}" where id = ?`, [id]),
  );
  return rows[0];
};

describe("features matched by tag", () => {
  it("says of each whether it is new, changed, the same or refused, and writes nothing", async () => {
    const answer = await rehearsed(
      map(
        feature("MH-9", point(-38.602, 41.902), { kind: "hand hole" }),
        feature("MH-1", point(-38.6001, 41.9001)),
        feature("MH-2", point(-38.601, 41.901)),
        feature("MH-3", point(-38.601, 141.901)),
        feature("DB-1", line([-38.6001, 41.9001], [-38.601, 41.901]), { length_m: 120 }),
      ),
    );
    expect(answer.fates.map(({ record, kind, fate }) => [record, kind, fate])).toEqual([
      ["MH-9", "space", "new"],
      ["MH-1", "space", "changed"],
      ["MH-2", "space", "same"],
      ["MH-3", null, "refused"],
      ["DB-1", "pathway", "changed"],
    ]);
    expect(answer.fates[4]?.fields).toEqual([
      { field: "length_m", label: "length", before: null, after: 120 },
      { field: "geometry", label: "line on the map", before: null, after: "2 positions" },
    ]);
    expect(answer.sentence).toBe("5 features: 1 new, 2 changed, 1 same, 1 refused.");
    expect(await values("space", 1)).toMatchObject({ longitude: null, latitude: null });
  });

  it("gives a building its outline, or its spot, as the geometry says", async () => {
    await plant.run("map.import", map(feature("MIL", outline(...SQUARE))));
    expect(await values("building", 1)).toMatchObject({ longitude: -38.6, outline: JSON.stringify(SQUARE) });
    await plant.run("map.import", map(feature("MIL", point(-38.5995, 41.9005))));
    expect(await values("building", 1)).toMatchObject({ longitude: -38.5995, outline: JSON.stringify(SQUARE) });
  });

  it("makes new rooms in new buildings and new ways between them, in whatever order they stand", async () => {
    const written = await plant.run<Written<MapRehearsal>>(
      "map.import",
      map(
        feature("DB-7", line([-38.6, 41.9], [-38.601, 41.901]), {
          from_space: "FDY/0E",
          to_space: "MH-2",
          kind: "duct_bank",
        }),
        feature("FDY/0E", point(-38.6, 41.9), { kind: "entrance_room" }),
        feature("FDY", outline(...SQUARE), { name: "Foundry" }),
      ),
    );
    expect(written.counts.map(({ kind, added }) => [kind, added])).toEqual([
      ["building", 1],
      ["space", 1],
      ["pathway", 1],
    ]);
    expect(await values("space", 3)).toMatchObject({ tag: "0E", building_id: 2, kind: "entrance_room" });
    expect(await values("pathway", 2)).toMatchObject({
      tag: "DB-7",
      from_space_id: 3,
      to_space_id: 2,
      kind: "duct_bank",
    });
  });

  it("takes a tag written otherwise for the one on record, and says so", async () => {
    expect(await fateOf(feature("mh 1", point(-38.6, 41.9)))).toMatchObject({
      ...{ record: "MH-1", fate: "changed", notices: ["is taken for MH-1"] },
    });
  });

  it("finds the tag in the property that is named, and leaves others out that are no field", async () => {
    const input = map({
      ...feature(null, point(-38.6, 41.9)),
      properties: { NUMBER: "MH-1", colour: "red", name: "Gate" },
    });
    const answer = await rehearsed({ ...input, tag_from: "number" });
    expect(answer.fates[0]).toMatchObject({ record: "MH-1", fate: "changed" });
    expect(answer.fates[0]?.fields.map(({ field }) => field)).toEqual(["name", "longitude", "latitude"]);
    expect(answer.unknown).toEqual([{ property: "colour", features: 1 }]);
  });

  it("clears nothing: a property that is null says nothing", async () => {
    expect(await fateOf(feature("MH-2", null, { accuracy_m: null }))).toMatchObject({ fate: "same" });
  });
});

describe("what is refused, with feature and value", () => {
  it("names a longitude or latitude that there isn't, and says when they may be swapped", async () => {
    expect(await reason(feature("MH-1", point(-190, 41)))).toBe("has longitude -190: must be from -180 to 180");
    expect(await reason(feature("MH-1", point(20, -91)))).toMatch(
      /^has latitude -91: must be from -90 to 90; latitude may/,
    );
    expect(await reason(feature("MH-1", { type: "Point", coordinates: ["-38", 41] }))).toMatch(/^has longitude “-38”/);
    expect(await reason(feature("MH-1", { type: "Point", coordinates: [-38] }))).toMatch(
      /longitude and latitude are needed$/,
    );
  });

  it.each(["=F-9", "=FOO", "+cmd|calc", "@SUM(1)", "-X9+1"])("names %s as no tag and no name", async (text) => {
    expect(await reason(feature(text, point(-38.6, 41.9), { record: "space" }))).toBe(
      "begins as a formula: no tag begins with =, +, - or @",
    );
    expect(await reason(feature("MH-1", point(-38.6, 41.9), { name: text }))).toBe(
      "begins as a formula: no name begins with =, +, - or @",
    );
  });

  it("takes a tag and a name that begin so where they are on record", async () => {
    await plant.run("record.add", { kind: "space", values: { tag: "+gate", name: "+1 roof", kind: "hand_hole" } });
    expect(await fateOf(feature("+gate", point(-38.6, 41.9), { name: "+1 roof" }))).toMatchObject({
      ...{ record: "+gate", fate: "changed" },
    });
  });

  it("refuses a geometry that the record can't have", async () => {
    expect(await reason(feature("DB-1", point(1, 2), { record: "pathway" }))).toBe(
      "is a point: a pathway takes a line",
    );
    expect(await reason(feature("MH-1", line([1, 2], [3, 4]), { record: "space" }))).toBe(
      "is a line: a space takes a point",
    );
    expect(await reason(feature("DB-1", line([1, 2])))).toBe("has a line of 1 position: two at least");
    expect(await reason(feature("MIL", outline([0, 0], [1, 0], [1, 1], [0, 1])))).toMatch(/isn't closed/);
    expect(await reason(feature("MIL", { type: "MultiPolygon", coordinates: [[], []] }))).toMatch(/^has 2 parts/);
    expect(await reason(feature("MIL", { type: "Circle", coordinates: [] }))).toMatch(/RFC 7946 doesn't have$/);
  });

  it("refuses what says no tag, a tag that comes twice, and one that can be two records", async () => {
    expect(await reason(feature(null, point(-38.6, 41.9)))).toBe("is missing");
    const twice = await rehearsed(map(feature("MH-1", point(-38.6, 41.9)), feature("MH-1", point(-38.7, 41.9))));
    expect(twice.fates[1]?.problems).toEqual([
      { row: 2, record: "MH-1", field: "tag", reason: "is claimed by feature 1 already" },
    ]);
    await plant.run("record.add", { kind: "building", values: { tag: "MH-1" } });
    expect(await reason(feature("MH-1", point(-38.6, 41.9)))).toBe("can be space MH-1 or building MH-1");
  });

  it("refuses a value that the field can't have, and a place that isn't there", async () => {
    expect(await reason(feature("MH-1", null, { accuracy_m: -4, record: "space" }))).toMatch(
      /^is -4: must be a number/,
    );
    expect(await reason(feature("DB-2", line([1, 2], [3, 4]), { from_space: "MH-77" }))).toMatch(/^is MH-77, which /);
    expect(await reason(feature("XYZ/1", point(1, 2)))).toMatch(/^is XYZ, which /);
  });

  it("writes nothing when any is refused, unless these are left out", async () => {
    const input = map(feature("MH-1", point(-38.6, 41.9)), feature("MH-3", point(0, 100)));
    const refused = await plant.call("map.import", input);
    expect(refused).toMatchObject({ ok: false, error: { code: "bad_input", problems: [{ row: 2, record: "MH-3" }] } });
    expect(await values("space", 1)).toMatchObject({ longitude: null });
    await plant.run("map.import", { ...input, valid_only: true });
    expect(await values("space", 1)).toMatchObject({ longitude: -38.6, latitude: 41.9 });
    await plant.run("map.import", { ...input, leave_out: [2] });
  });

  it("names what makes a file no map", async () => {
    const said = async (text: string) => {
      const reply = await plant.call("map.rehearse", { text, name: "x.geojson" });
      return reply.ok ? "" : `${reply.error.message} ${reply.error.problems[0]?.reason}`;
    };
    expect(await said("{")).toMatch(/^x.geojson is not JSON/);
    expect(await said('{"type":"Feature')).toMatch(/breaks off before its end/);
    expect(await said('{"type":\n"Fea\tture"}')).toMatch(/can't be read from line 2, character 5 on, after "Fea/);
    expect(await said("[]")).toMatch(/has no type$/);
    expect(await said('{"type":"Topology"}')).toMatch(/RFC 7946 doesn't have$/);
    expect(await said('{"type":"FeatureCollection","features":[{"type":"Point"}]}')).toMatch(
      /^Feature 1 .* must be Feature/,
    );
    expect(
      await said('{"type":"FeatureCollection","crs":{"type":"name","properties":{"name":"EPSG:2263"}},"features":[]}'),
    ).toMatch(/is in EPSG:2263; only WGS 84 is read/);
    // What programs of before RFC 7946 wrote for WGS 84 itself.
    expect(
      await said(
        '{"type":"FeatureCollection","crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:OGC:1.3:CRS84"}},"features":[]}',
      ),
    ).toBe("");
  });
});

describe("latitude and longitude the wrong way round", () => {
  it("waits where the campus is known until it is said which way round it is meant", async () => {
    const input = map(feature("MH-1", point(41.9001, -38.6001)));
    const answer = await rehearsed(input);
    expect(answer).toMatchObject({ far: 1, swapped: 1 });
    expect(answer.fates[0]).toMatchObject({
      fate: "refused",
      problems: [{ field: "geometry", reason: expect.stringContaining("longitude and latitude look swapped") }],
    });
    expect(answer.sentence).toMatch(/Longitude and latitude look swapped in 1\.$/);
    expect((await rehearsed({ ...input, as_written: [1] })).fates[0]).toMatchObject({ fate: "changed" });
    const mixed = map(feature("MH-1", point(41.9001, -38.6001)), feature("MH-2", point(-38.6002, 41.9002)));
    expect((await rehearsed(mixed)).doubted).toEqual([1]);
    expect((await rehearsed({ ...mixed, swapped: true })).doubted).toEqual([2]);
    expect(await rehearsed({ ...mixed, turn: [1] })).toMatchObject({
      far: 0,
      doubted: [],
      extent: [-38.6002, 41.9001, -38.6001, 41.9002],
    });
    const right = await rehearsed({ ...input, swapped: true });
    expect(right).toMatchObject({ far: 0, swapped: 0, extent: [-38.6001, 41.9001, -38.6001, 41.9001] });
  });

  it("isn't said of a place that is far off either way, nor of one within reach", async () => {
    expect(await rehearsed(map(feature("MH-1", point(10, 50))))).toMatchObject({ far: 1, swapped: 0 });
    expect(await rehearsed(map(feature("MH-1", point(-38.62, 41.92))))).toMatchObject({ far: 0 });
  });
});

describe("exactly what was rehearsed", () => {
  it("is written as one change, which one undo takes back", async () => {
    const input = map(feature("MH-1", point(-38.6, 41.9)), feature("MH-9", point(-38.6, 41.9)));
    const { digest } = await rehearsed(input);
    const written = await plant.run<Written<unknown>>("map.import", { ...input, digest });
    expect(written.summary).toBe("Take over 2 places and ways of the map pasted");
    await plant.run("history.undo");
    expect(await values("space", 1)).toMatchObject({ longitude: null });
    expect(await values("space", 3)).toBeUndefined();
  });

  it("is refused when the map or the plant changed meanwhile", async () => {
    const input = map(feature("MH-1", point(-38.6, 41.9)));
    const { digest } = await rehearsed(input);
    const other = map(feature("MH-1", point(-38.61, 41.9)));
    await expect(plant.run("map.import", { ...other, digest })).rejects.toBeInstanceOf(Refusal);
    await plant.run("record.add", { kind: "building", values: { tag: "NEW" } });
    expect(await plant.call("map.import", { ...input, digest })).toMatchObject({ ok: false, error: { code: "stale" } });
  });
});
